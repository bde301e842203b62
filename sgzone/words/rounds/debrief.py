"""Sentences about one round: how much, where, which strokes, beside the usual."""

from __future__ import annotations

from typing import Any

import pandas as pd

from sgzone.harmless import cut, one_line
from sgzone.review.debrief.one_round import Debrief
from sgzone.words.counts import holes_note
from sgzone.words.digits import MINUS, count, day, listed, number, rows
from sgzone.words.notes import left_out
from sgzone.words.rounds.strokes import places
from sgzone.words.say import Say, Words
from sgzone.words.season import benchmark_words, player_words

NO_VERDICT = "No verdict, no cause: one round has too few strokes to tell skill from luck."
"""Why ranks and plain comparison are all that is said."""

STROKES_TITLE = "The worst strokes, then the best"
NO_STROKES = "No stroke of this round has a value."
NEXT = "Next: sgzone debrief --brief is a message; sgzone summary takes all rounds."

_NAME_ROOM = 28
_CLUB_ROOM = 10
_NOTE_ROOM = 100  # on paper
_COURSE_ROOM = 40
_TABLE_WIDTH = 80
_GAP = 2


def typed(lines: Words) -> Words:
    """Return sentences with the minus that a terminal's tables have."""
    return tuple(line.replace(MINUS, "-") for line in lines)


def ordinal(place: int) -> str:
    """Return a place as a word with digits.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 22, 113)]
    ['1st', '2nd', '3rd', '4th', '11th', '22nd', '113th']
    """
    ends = {1: "st", 2: "nd", 3: "rd"}
    teen = place % 100 in (11, 12, 13)
    return f"{place}{'th' if teen else ends.get(place % 10, 'th')}"


def place_words(row: Any) -> str:
    """Return a round's place, from the nearer end: ``4th best of 38``; empty for none.

    ``row``: with ``better``, ``equal`` and ``worse``, counts of the other rounds.
    """
    if pd.isna(row.better) or row.better + row.equal + row.worse == 0:
        return ""
    better, equal, worse = int(row.better), int(row.equal), int(row.worse)
    size = better + equal + worse + 1
    if equal == size - 1:
        return f"the same in all {size}"
    ahead, word = (better, "best") if better <= worse else (worse, "worst")
    which = f"{ordinal(ahead + 1)} {word}" if ahead else word
    return f"{which} of {size}{', tied' if equal else ''}"


def counted_words(row: Any) -> str:
    """Return how many other rounds did better, the same and worse; empty without any."""
    if pd.isna(row.better):
        return ""
    said = [f"{row.better} better", f"{row.equal} same" if row.equal else "", f"{row.worse} worse"]
    return ", ".join(filter(None, said))


def title(of: Debrief) -> str:
    """Return the title of a report of the round."""
    which = f", round {of.round}" if of.same_day > 1 else ""
    return f"{player_words(of.player)}: the round of {day(of.date)}{which}"


def subtitle(of: Debrief) -> str:
    """Return where the round was played, and what it is against."""
    where = [_short(text) for text in (of.course, of.event) if text]
    holes = count(of.holes_played, "hole")
    return ", ".join((*where, holes, f"against {benchmark_words(of.benchmark)}"))


def _short(text: str) -> str:
    return cut(one_line(text), _COURSE_ROOM, "…")


def lead(of: Debrief, say: Say) -> Words:
    """Return the round in two sentences: in all, then off the green and on it."""
    whole = of.total.iloc[-1]
    if not whole["shots"]:
        return (f"{day(of.date)}: {NO_STROKES}",)
    return (in_all(of, say), *_halves(of))


def in_all(of: Debrief, say: Say) -> str:
    """Return what the round gained or lost in all, and its place among the others."""
    whole = of.total.iloc[-1]
    gained = float(whole["gained"])
    way, to = ("lost", "to") if gained < 0 else ("gained", "on")
    size = number(abs(gained), 2)
    place = place_words(whole)
    rank = f": {place}" if place else ""
    name = cut(of.benchmark, _NAME_ROOM, "...")
    return f"From {say.zone} in you {way} {size} {to} {name} on {day(of.date)}{rank}."


def _halves(of: Debrief) -> Words:
    """Return the two halves with their places; the usual of each is in the whole table."""
    said = [
        f"{name} {number(row.gained, 2, signed=True)}{_in_brackets(place_words(row))}"
        for name, row in zip(("off the green", "putting"), rows(of.total.iloc[:-1]), strict=True)
        if row.shots
    ]
    text = ", ".join(said)
    return (f"{text[0].upper()}{text[1:]}.",)


def _in_brackets(text: str) -> str:
    return f" ({text})" if text else ""


def counted(of: Debrief) -> Words:
    """Return what was counted in one sentence, each with the usual for as many chances."""
    said = [_count(row) for row in rows(of.counts) if row.chances]
    if not said:
        return ()
    text = ", ".join(said)
    usual = " (the usual in brackets)" if of.counts["usual"].notna().any() else ""
    return (f"Counted{usual}: {text}.",)


def _count(row: Any) -> str:
    usual = "" if row.usual != row.usual else f" ({number(row.usual, 1)})"
    return f"{row.measure} {of_chances(row)}{usual}"


def of_chances(row: Any) -> str:
    """Return a count, of tries with how many there were."""
    tried = row.measure in ("up-and-downs", "sand saves")
    return f"{row.value} of {row.chances}" if tried else f"{row.value}"


def care(of: Debrief, say: Say) -> Words:
    """Return what to be careful about: at most three lines, the first on why no verdict."""
    left = " ".join((*_left_out(of), *_missing(of, say)))
    return (NO_VERDICT, _compared(of), *((left,) if left else ()))


def _compared(of: Debrief) -> str:
    size = count(of.holes_played, "hole")
    if not of.compared:
        return f"No other round of {size} to set it beside yet."
    others = count(of.compared, "other round")
    return f"Usual: your {others} of {size}; by part, those with such a shot."


def _left_out(of: Debrief) -> Words:
    """Return which other rounds are not compared; nothing where all are."""
    fewer = of.compared - int(of.total["compared"].iloc[-1])
    said = [
        f"{count(of.left_out, 'round')} of other length" if of.left_out else "",
        f"{count(fewer, 'round')} with skipped strokes" if fewer else "",
    ]
    known = [text for text in said if text]
    return (f"Left out: {listed(known)}.",) if known else ()


def _missing(of: Debrief, say: Say) -> Words:
    """Return what no sum of the round holds."""
    skipped = left_out(of)
    outside = count(of.outside, "later stroke")
    said = [
        f"{skipped[0].upper()}{skipped[1:]}." if skipped else "",
        *holes_note({"picked_up": of.picked_up, "conceded": of.conceded}),
        f"{outside} from beyond {say.zone} not counted." if of.outside else "",
        f"{count(of.same_day, 'round')} that day: --round chooses." if of.same_day > 1 else "",
    ]
    return tuple(filter(None, said))


def by_hole(of: Debrief) -> pd.DataFrame:
    """Return each part of each hole with the hole's own sum, which its first row has."""
    sums = of.holes.groupby("hole")["gained"].transform("sum", min_count=1)
    first = ~of.holes["hole"].duplicated()
    unscored = of.holes["unscored"].where(of.holes["unscored"] > 0).astype("Int64")
    return of.holes.assign(hole_gained=sums.where(first), unscored=unscored)


def by_part(of: Debrief, *, halves: bool = False) -> pd.DataFrame:
    """Return the parts of the round to print, the worst first, the total last.

    ``halves``: off the green and putting stand before the total.
    """
    order = of.parts.sort_values("gained", kind="stable")
    table = pd.concat([order, of.total if halves else of.total.iloc[-1:]], ignore_index=True)
    named = table["part"].replace({"off_green": "off the green"})
    unscored = table["unscored"].where(table["unscored"] > 0).astype("Int64")
    places_ = [place_words(row) for row in rows(table)]
    return table.assign(part=named, unscored=unscored, place=places_)


def by_count(of: Debrief) -> pd.DataFrame:
    """Return what was counted to print, without what there was no chance for."""
    table = of.counts[of.counts["chances"] > 0].reset_index(drop=True)
    return table.assign(
        this=[of_chances(row) for row in rows(table)],
        others=[counted_words(row) for row in rows(table)],
    )


def told(strokes: pd.DataFrame, say: Say, *, notes: bool = True) -> pd.DataFrame:
    """Return strokes to print: their places in words; ``notes``: with what the card says."""
    table = strokes.assign(
        start=places(strokes["lie"], strokes["distance_yd"], say),
        end=places(strokes["end_lie"], strokes["end_distance_yd"], say),
        penalty=strokes["penalty"].where(strokes["penalty"] > 0).astype("Int64"),
    )
    return table if notes else table.drop(columns="note")


def told_on_paper(strokes: pd.DataFrame, say: Say, *, notes: bool) -> pd.DataFrame:
    """Return strokes for a page of one sheet: clubs and notes cut to the room it has."""
    table = told(strokes, say, notes=notes)
    table = table.assign(club=_cut(table["club"], _CLUB_ROOM))
    return table.assign(note=_cut(table["note"], _NOTE_ROOM)) if notes else table


def told_all(of: Debrief, say: Say) -> pd.DataFrame:
    """Return the worst strokes and then the best, the best of all last."""
    return told(pd.concat([of.worst, of.best.iloc[::-1]], ignore_index=True), say)


def told_short(of: Debrief, say: Say) -> pd.DataFrame:
    """Return ``told_all`` for 80 columns: clubs and notes cut to their room."""
    table = told_all(of, say)
    table = table.assign(club=_cut(table["club"], _CLUB_ROOM))
    used = _used(table)
    return table.assign(note=_cut(table["note"], _TABLE_WIDTH - used))


def _used(table: pd.DataFrame) -> int:
    """Return the columns of a terminal that all but the notes take, and the cut's own dots."""
    heads = {"hole": 4, "shot": 4, "start": 4, "club": 4, "end": 2, "gained": 6}
    if table["penalty"].notna().any():
        heads["penalty"] = 7
    widest = [
        max([least, *(len(text) for text in table[name] if isinstance(text, str))])
        for name, least in heads.items()
    ]
    return sum(widest) + _GAP * len(widest) + 1


def _cut(texts: pd.Series, room: int) -> pd.Series:
    """Return others' texts on one line each, cut to so many columns; missing where they are."""
    return texts.map(lambda text: cut(one_line(text), max(room, 1), "…"), na_action="ignore")
