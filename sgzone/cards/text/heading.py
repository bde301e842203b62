"""The line above the holes: who played, when, where; and how the rest of the card is meant."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from sgzone.cards.columns import columns_of, names_of
from sgzone.cards.days import NONE, Readings, readings, said
from sgzone.cards.given import Given
from sgzone.cards.shot_rules import REFUSED_FORMATS
from sgzone.cards.text.atoms import PAIR, Atom, atoms_of, unbracketed
from sgzone.cards.text.clean import bracket_end
from sgzone.cards.text.places import Question
from sgzone.cards.text.strokes import known_word
from sgzone.cards.tolerant.wording import folded, words_read

_MOST_WORDS = 60
_LONGEST_DAY = 7  # words
_METRES = frozenset(("m", "metre", "metres", "meter", "meters", "in metres", "in meters"))
_YARDS = frozenset(("yd", "yds", "yards", "in yards"))
_ROUND = re.compile(r"(?:round|rd\.?|r)\s*([1-9])|([1-9])(?:st|nd|rd|th) round", re.IGNORECASE)
_ROUND_WORDS = {"first round": "1", "second round": "2", "third round": "3"}
_NO_NAME = ("-", "?", "--")
_WORDS_OF = {
    column.name: frozenset((*column.words, *(REFUSED_FORMATS if column.name == "format" else ())))
    for column in columns_of("shot")
    if column.name in ("event", "format")
}


@dataclass(frozen=True, slots=True)
class Item:
    """What stands between two commas of a heading. ``named``: in brackets, so it is a name."""

    text: str
    named: bool = False


@dataclass(slots=True)
class Heading:
    """What a line with a day says of the holes below it.

    ``names``: its words that may be the player and the course, in order, with whether they stand
    before the day. ``cells``: columns of every stroke. ``no_course``: it says that there is none.
    """

    line: int
    day_text: str
    days: Readings
    names: list[tuple[str, bool]] = field(default_factory=list)
    round: str = "1"
    metres: bool = False
    no_course: bool = False
    cells: dict[str, str] = field(default_factory=dict)
    questions: list[Question] = field(default_factory=list)
    player: str | None = None
    day: date | None = None

    def ask(self, kind: str, token: str, /, **fields: str) -> None:
        """Keep a question about this line."""
        self.questions.append(Question(kind, token, fields))


def round_alone(text: str) -> str | None:
    """Return the number of the round where a line says that and nothing else.

    >>> round_alone("Round 2"), round_alone("second round"), round_alone("Home")
    ('2', '2', None)
    """
    plain = text.strip(" :.-").lower()
    if plain in _ROUND_WORDS:
        return _ROUND_WORDS[plain]
    match = _ROUND.fullmatch(plain)
    return (match[1] or match[2]) if match else None


def heading(text: str, line: int, today: date, *, at_start: bool = False) -> Heading | None:
    """Return what a clean line with a day says, None where it has none.

    ``at_start``: only a day with which the line begins counts, for it may be a hole.
    """
    items = _items(text)
    if sum(len(item.text.split()) for item in items) > _MOST_WORDS:
        return None
    found = _day(items[:1] if at_start else items, today, at_start=at_start)
    if found is None:
        return None
    before, after = found.before, [*found.after, *(items[1:] if at_start else [])]
    read = Heading(line, found.text, found.days)
    for item, early in [*((i, True) for i in before), *((i, False) for i in after)]:
        _take(read, item, early, today)
    return read


def _items(text: str) -> list[Item]:
    """Return what commas, semicolons and lone dashes part; brackets keep together."""
    found: list[Item] = []
    piece = ""
    at, closes = 0, True
    while at <= len(text):
        sign = text[at] if at < len(text) else ","
        end = bracket_end(text, at) if sign == "[" and closes else -1
        closes = closes and (sign != "[" or end >= 0)  # nor does any that opens behind it
        if end >= 0:
            inside = text[at + 1 : end]
            if not piece.strip() and _parts(text, end + 1):
                found.append(Item(unbracketed(inside), named=True))
                piece, at = "", end + 1
                at += text[at : at + 1] in (",", ";", "|")
                continue
            piece, at = piece + text[at : end + 1], end + 1
            continue
        if sign in ",;|" or (sign == "-" and _lone(text, at)):
            _add(found, piece)
            if sign == "-":
                rest = text[at + 1 :].lstrip()
                if not rest or rest[0] in ",;":
                    found.append(Item("-"))
            piece = ""
        else:
            piece += sign
        at += 1
    return found


def _parts(text: str, at: int) -> bool:
    """Return whether an item ends here."""
    rest = text[at:].lstrip()
    return not rest or rest[0] in ",;|" or rest.startswith("- ")


def _lone(text: str, at: int) -> bool:
    before = at == 0 or text[at - 1] in " ,;"
    behind = at + 1 >= len(text) or text[at + 1] in " ,;"
    return before and behind


def _add(found: list[Item], piece: str) -> None:
    plain = " ".join(piece.split()).strip(":")
    if plain:
        found.append(Item(plain))


@dataclass(frozen=True, slots=True)
class _Found:
    text: str
    days: Readings
    before: list[Item]
    after: list[Item]


def _day(items: Sequence[Item], today: date, *, at_start: bool) -> _Found | None:
    """Return the day of a line, the longest text that is one: it may go on behind a comma."""
    found = list(_candidates(items, today, at_start=at_start))
    return max(found, key=lambda one: (len(one.text.split()), bool(one.days.days)), default=None)


def _candidates(items: Sequence[Item], today: date, *, at_start: bool) -> Iterator[_Found]:
    for reach in (1, 2):
        for place in range(len(items) - reach + 1):
            several = items[place : place + reach]
            if any(item.named for item in several):
                continue
            words = " , ".join(item.text for item in several).split()
            for found in _windows(words, today, at_start=at_start):
                text, days, start, end = found
                comma = words.index(",") if reach == 2 else -1
                year = end == comma + 2 == len(words) and len(words[-1]) == 4
                if reach == 2 and not (start < comma < end and (start == 0 or year)):
                    continue
                before, after = _loose(words[:start]), _loose(words[end:])
                yield _Found(
                    text.replace(" ,", ","),
                    days,
                    [*items[:place], *before],
                    [*after, *items[place + reach :]],
                )


def _loose(words: Sequence[str]) -> list[Item]:
    return [Item(part.strip()) for part in " ".join(words).split(" , ") if part.strip(" ,")]


def _windows(
    words: Sequence[str], today: date, *, at_start: bool
) -> Iterator[tuple[str, Readings, int, int]]:
    for length in range(min(_LONGEST_DAY, len(words)), 0, -1):
        for start in range(1 if at_start else len(words) - length + 1):
            several = words[start : start + length]
            if not (several[0][0].isalnum() and any(map(str.isalnum, several[-1]))):
                continue
            text = " ".join(several).replace(" ,", ",")
            if any(sign.isdecimal() for sign in text):
                days = readings(text, today)
                if days != NONE:
                    yield text, days, start, start + length


def _take(read: Heading, item: Item, early: bool, today: date) -> None:
    """Read one item of a heading: a column, a word, or a name."""
    plain = item.text.lower().strip(" .")
    if item.named:
        read.names.append((item.text, early))
    elif item.text in _NO_NAME:
        read.no_course = True
    elif (pieces := atoms_of(item.text)) and all(piece.kind == PAIR for piece in pieces):
        for piece in pieces:
            _column(read, piece)
    elif plain in _METRES:
        read.metres = True
    elif number := round_alone(plain):
        read.round = number
    elif found := _event_or_format(plain):
        if found[0] in read.cells:
            read.ask("second value", item.text)
        read.cells[found[0]] = found[1]
    elif readings(item.text, today).days:
        read.ask("two days", item.text)
    elif plain not in _YARDS and not _is_weekday(plain, read, today):
        read.names.append((item.text, early))


def _event_or_format(plain: str) -> tuple[str, str] | None:
    """Return the column and the word of an item that says what kind of round it was."""
    for name, words in _WORDS_OF.items():
        if plain in words:
            return name, plain
        if word := words_read("shot", name).get(folded(plain)):
            return name, word
    return None


def _is_weekday(plain: str, read: Heading, today: date) -> bool:
    """Return whether an item is the day of the week of the day beside it; a wrong one is asked."""
    if not plain.isalpha() or not read.days.days:
        return False
    day = next(iter(read.days.days.values()))
    found = readings(f"{plain} {said(day)}", today)
    if found.wrong:
        read.days = found
    return found != NONE


def _column(read: Heading, piece: Atom) -> None:
    key = piece.key.strip().lower().replace("-", "_")
    bracketed = piece.text.startswith("[")
    if key == "player" and not bracketed:
        read.player = piece.value
    elif key == "course" and not bracketed:
        read.cells["course"] = piece.value
    elif key in ("date", "hole", "shot", "lie", "distance", "unit") and not bracketed:
        read.ask("own column", piece.text)
    elif not piece.value:
        read.ask("header word", piece.text)
    elif key == "round" and not bracketed:
        read.round = piece.value
    else:
        known = key in names_of("shot") and not bracketed
        word = known_word(key, piece.value) if known else None
        read.cells[key if known else piece.key.strip()] = word or piece.value


def settle(read: Heading, given: Given, order: str | None, players: dict[str, str]) -> None:
    """Decide who played, where and when; ask where that is not clear.

    ``order``: how other days of the file are written, where that settles this one. ``players``:
    names known so far, by their small letters; the last one is whoever played the round above.
    """
    _settle_day(read, given, order)
    names = [name for name, _ in read.names]
    shown = said(read.day) if read.day else read.day_text
    if read.player is None:
        read.player, names = _player(read, given, players, shown)
    if names and "course" not in read.cells and not read.no_course:
        read.cells["course"] = names.pop(0)
    for name in names:
        read.ask("header word", name)


def _settle_day(read: Heading, given: Given, order: str | None) -> None:
    days = read.days
    read.day = days.only or days.days.get(given.dates or order or "")
    if read.day is None:
        if days.days:
            one = said(next(iter(days.days.values())))
            read.ask("day", read.day_text, question=days.question(read.day_text), one=one)
        else:
            read.ask("bad day", read.day_text, why=days.wrong)


def _player(
    read: Heading, given: Given, players: dict[str, str], day: str
) -> tuple[str | None, list[str]]:
    """Return who played and the names that are left."""
    names = [name for name, _ in read.names]
    known = {_plain(given.player)} if given.player else {*players, *map(_plain, given.known)}
    those = [name for name in names if _plain(name) in known]
    if len(those) == 1:
        rest = [name for name in names if name != those[0]]
        return those[0], rest
    in_order = len(names) >= 2 and read.names[0][1] and not read.names[1][1]
    if given.player and len(names) < 2:
        return given.player, names
    if given.player:
        read.ask("other player", names[0], given=given.player)
    elif not names and players:
        return list(players.values())[-1], names
    elif not names:
        read.ask("who", read.day_text, day=day)
    elif in_order or (len(names) == 1 and read.no_course):
        return names[0], names[1:]
    else:
        read.ask("player or course", names[0], value=names[0], day=day)
    return None, []


def _plain(name: str) -> str:
    return " ".join(name.lower().split())
