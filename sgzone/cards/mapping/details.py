"""What else a mapping says of a table: decimals, days, units, words, rows to pass over."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

from sgzone.cards.columns import ColumnSpec
from sgzone.cards.days import DMY, MDY, YMD, readings
from sgzone.cards.mapping.content import is_length, spec_of
from sgzone.cards.mapping.fits import filled, number
from sgzone.cards.mapping.guess import Guess, Match
from sgzone.cards.mapping.known import folded, meaning
from sgzone.terms import GREEN
from sgzone.units import UNIT_WORDS

_ORDERS = (DMY, MDY, YMD)
_COMMA, _POINT = re.compile(r"[+-]?\d*,\d+\D*"), re.compile(r"[+-]?\d*\.\d+\D*")
_PIECES = re.compile(r"[^\W\d_]+")
_MOST_TOTALS = 40  # rows; a table with more of them is not one that a list can mend
MOST_WORDS = 60
"""Of a column: one with more different words is no list of words."""


@dataclass(frozen=True, slots=True)
class Said:
    """One line of a mapping: a value, whether it is sure, and why; ``asked``: a person must say."""

    value: str
    sure: bool
    why: str
    asked: bool = False


@dataclass(frozen=True, slots=True)
class Word:
    """A word of theirs: ours, blank where none is known; in how many rows it stands."""

    theirs: str
    ours: str
    rows: int


def decimal(guess: Guess) -> Said | None:
    """Return the decimal sign of the numbers; None where they are all whole."""
    cells = [
        cell
        for match in guess.matches
        if spec_of(match.name).kind in ("integer", "number", "distance")
        for cell in filled(guess.cells(match.place))
    ]
    commas = sum(bool(_COMMA.fullmatch(cell)) for cell in cells)
    points = sum(bool(_POINT.fullmatch(cell)) for cell in cells)
    if commas and points:
        return Said("", False, f"{commas} numbers have a comma, {points} a point", True)
    if not commas and not points:
        return None
    sign, times = (",", commas) if commas else (".", points)
    return Said(sign, True, f"{times} number{'s have' if times > 1 else ' has'} one")


def days(guess: Guess) -> Said | None:
    """Return the order of days in numbers; None where no day needs one."""
    cells = {
        cell
        for match in guess.matches
        if spec_of(match.name).kind == "date"
        for cell in filled(guess.cells(match.place))
    }
    read = {cell: readings(cell, guess.today).days for cell in cells}
    ordered = {cell: {*found} & {*_ORDERS} for cell, found in read.items()}
    ordered = {cell: orders for cell, orders in ordered.items() if orders}
    if not ordered or all(orders == {YMD} for orders in ordered.values()):
        return None
    fit = [order for order in _ORDERS if all(order in orders for orders in ordered.values())]
    example = min(ordered, key=lambda cell: (len(ordered[cell]), cell))
    if len(fit) == 1:
        return Said(fit[0], True, f"{example} is no day in another order")
    if not fit:
        return Said("", False, "the days are written in more than one order", True)
    return Said("", False, f"{example} can be read as {' or '.join(fit)}", True)


def unit(guess: Guess, match: Match) -> Said | None:
    """Return the unit that a header names for its lengths; None where it is the usual one."""
    spec = spec_of(match.name)
    if not is_length(spec):
        return None
    words = _PIECES.findall(folded(guess.headers[match.place]))
    named = {UNIT_WORDS[word] for word in words if word in UNIT_WORDS}
    if len(named) != 1 or named == {spec.unit}:
        return None
    [found] = named
    header = " ".join(guess.headers[match.place].split())
    if found == "m" or spec.kind != "distance" or not _has_both(guess):
        return Said(found, True, f"header is {header}")
    return Said(found, False, f"header is {header}: are putts too?", True)


def _has_both(guess: Guess) -> bool:
    """Return whether a card has strokes on the green and off it, which have units of their own."""
    lie = guess.of.get("lie")
    if lie is None:
        return True
    lies = {meaning(lie.name, cell) for cell in filled(guess.cells(lie.place))}
    return GREEN in lies and len(lies) > 1


def words(guess: Guess, match: Match) -> list[Word]:
    """Return the words of a column that are not ours as they stand, the most frequent first."""
    spec = spec_of(match.name)
    if not spec.words and spec.name != "penalty":
        return []
    counts = Counter(filled(guess.cells(match.place)))
    if len(counts) > MOST_WORDS:
        return []
    return [
        Word(theirs, meaning(spec.name, theirs), rows)
        for theirs, rows in counts.most_common()
        if not _is_ours(spec, theirs)
    ]


def _is_ours(spec: ColumnSpec, word: str) -> bool:
    return word.lower() in spec.words or (spec.kind == "integer" and number(word) is not None)


def totals(guess: Guess) -> list[int]:
    """Return the places in the file of rows that are sums of others, none where too many are.

    A sum has no lie and no distance, and says that it is one.
    """
    places = [guess.of[name].place for name in ("lie", "distance") if name in guess.of]
    found = [
        at
        for at, row in guess.sums
        if not any(place < len(row) and row[place].strip() for place in places)
    ]
    return found if places and len(found) <= _MOST_TOTALS else []
