"""A text card from its first line to its last: headings, holes, and what is passed over."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from sgzone.cards.clock import today
from sgzone.cards.days import DMY, MDY
from sgzone.cards.given import Given
from sgzone.cards.text.clean import MAX_LINE, clean
from sgzone.cards.text.heading import Heading, heading, round_alone, settle
from sgzone.cards.text.hole import MOST_HOLES, HoleLine, has_strokes, hole_line, read_hole
from sgzone.cards.text.mail import around_the_card
from sgzone.cards.text.passed import is_passed_over
from sgzone.cards.text.places import Place, Question, Reading
from sgzone.cards.text.vocabulary import RESULT_OF

_LINE_END = re.compile(r"\r\n|\r|\n")
_HOLE_SIGN = re.compile(r"\s*#(?=\d{1,2}(?!\d))")
_COMMENT = re.compile(r"\s*#")
Row = dict[str, str]
ONCE = frozenset(("comma", "day", "no header"))
"""Questions that are asked once a file: one answer settles every place."""


@dataclass(slots=True)
class Hole:
    """A hole that was read, below a heading."""

    at: HoleLine
    heading: Heading | None
    reading: Reading


@dataclass(slots=True)
class Card:
    """All of a file. ``asked``: questions with their line and hole (None: no hole's).

    ``passed``, ``mail``: numbers of lines in which no stroke was looked for.
    """

    holes: list[Hole] = field(default_factory=list)
    headings: list[Heading] = field(default_factory=list)
    asked: list[tuple[int, int | None, Question, Reading | None]] = field(default_factory=list)
    passed: list[int] = field(default_factory=list)
    mail: list[int] = field(default_factory=list)

    def ask(
        self,
        line: int,
        question: Question,
        hole: int | None = None,
        reading: Reading | None = None,
    ) -> None:
        """Keep a question; of some kinds the first of a file stands for all."""
        if question.kind in ONCE and any(q.kind == question.kind for _, _, q, _ in self.asked):
            return
        self.asked.append((line, hole, question, reading))


def lines_of(text: str) -> list[str]:
    """Return the lines of a text, numbered as an editor numbers them."""
    return _LINE_END.split(text)


def card_of(text: str, given: Given) -> Card:
    """Read a text card; raises nothing: what is not clear is in ``asked``."""
    reader = _Reader(given)
    lines = lines_of(text)
    around = around_the_card(lines)
    reader.card.mail = sorted(number for number in around if lines[number - 1].strip())
    for number, raw in enumerate(lines, 1):
        if number not in around:
            reader.line(number, raw)
    reader.settle()
    return reader.card


class _Reader:
    """Where a reader of the file is: below which heading, in which round."""

    def __init__(self, given: Given) -> None:
        self.given, self.card, self.today = given, Card(), today()
        self._heading: Heading | None = None
        self._below: list[tuple[HoleLine, Heading | None]] = []

    def line(self, number: int, raw: str) -> None:
        if len(raw) > MAX_LINE:
            question = Question("long line", raw[:20], {"most": str(MAX_LINE)})
            self.card.ask(number, question)
            return
        raw = _HOLE_SIGN.sub("", raw)
        text = "" if _COMMENT.match(raw) else clean(raw)
        if not text:
            return
        hole = hole_line(text, number)
        strokes = hole is not None and has_strokes(hole.rest)
        if read := heading(text, number, self.today, at_start=strokes):
            self._heading = read
            self.card.headings.append(read)
        elif (again := round_alone(text)) and self._heading is not None:
            self._heading = _another_round(self._heading, number, again)
            self.card.headings.append(self._heading)
        elif is_passed_over(text) and not strokes:
            self.card.passed.append(number)
        elif hole is not None:
            self._below.append((hole, self._heading))
        elif has_strokes(text):
            self.card.ask(number, Question("which hole", text[:60]))
        else:
            self.card.passed.append(number)

    def settle(self) -> None:
        """Decide whose rounds these are, and read every hole as its heading says."""
        order = _one_order(self.card.headings)
        players: dict[str, str] = {}
        for read in self.card.headings:
            settle(read, self.given, order, players)
            if read.player is not None:
                plain = " ".join(read.player.lower().split())
                players.pop(plain, None)
                players[plain] = read.player
            for question in read.questions:
                self.card.ask(read.line, question)
        first: dict[tuple[object, ...], int] = {}
        for hole, above in self._below:
            self._hole(hole, above, first)

    def _hole(
        self, at: HoleLine, above: Heading | None, first: dict[tuple[object, ...], int]
    ) -> None:
        if above is None:
            self.card.ask(at.line, Question("no header", f"{at.number} {at.rest}"[:60]), at.number)
        reading = read_hole(at, metres=above is not None and above.metres)
        for question in _questions(at, above, reading, first):
            self.card.ask(at.line, question, at.number, reading)
        if not reading.questions and reading.places:
            self.card.holes.append(Hole(at, above, reading))
        elif not reading.questions:
            self.card.passed.append(at.line)


def _questions(
    at: HoleLine, above: Heading | None, reading: Reading, first: dict[tuple[object, ...], int]
) -> Iterator[Question]:
    """Yield what is asked of one hole: its number, whether it was there before, its strokes."""
    if not 1 <= at.number <= MOST_HOLES:
        reading.questions.insert(0, Question("no such hole", str(at.number)))
    elif reading.places or reading.questions:
        player = above.player.lower() if above and above.player else ""
        when = above and (above.day or above.line)
        key = (player, when, above and above.round, at.number)
        if key in first:
            fields = {"line": str(first[key])}
            reading.questions.insert(0, Question("hole twice", str(at.number), fields))
        first.setdefault(key, at.line)
    yield from reading.questions


def _one_order(headings: list[Heading]) -> str | None:
    """Return the order in which days are written, where those with one reading settle it."""
    found = set()
    for read in headings:
        orders = set(read.days.days) & {DMY, MDY}
        if read.days.only is not None and len(orders) == 1 and "." not in read.day_text:
            found |= orders
    return found.pop() if len(found) == 1 else None


def _another_round(above: Heading, line: int, number: str) -> Heading:
    """Return the heading of another round of the day that was written above."""
    return Heading(
        line,
        above.day_text,
        above.days,
        list(above.names),
        number,
        above.metres,
        above.no_course,
        dict(above.cells),
        player=above.player,
    )


def rows_of(hole: Hole) -> Iterator[Row]:
    """Yield one row of cells per place of a hole, as a table would hold them."""
    above, reading = hole.heading, hole.reading
    whole: Row = dict(above.cells) if above else {}
    if above and above.player and above.day:
        whole |= {"player": above.player, "date": above.day.isoformat(), "round": above.round}
    whole |= {"hole": str(hole.at.number), **({"par": reading.par} if reading.par else {})}
    whole |= reading.cells
    metres = above is not None and above.metres
    for number, place in enumerate(reading.places):
        row = {**whole, "shot": str(reading.first + number), **_cells(place, metres)}
        if number == 0 and reading.notes:
            row["note"] = "; ".join([*reading.notes, *filter(None, [row.get("note")])])
        yield row


def _cells(place: Place, metres: bool) -> Row:
    row = {
        "lie": place.lie,
        "distance": place.distance(metres) if place.number is not None else None,
        "penalty": str(place.penalty) if place.penalty else None,
        "result": RESULT_OF.get(place.mark),
        "club": place.club,
        "swing": place.swing,
    }
    return {**{name: cell for name, cell in row.items() if cell is not None}, **place.cells}
