"""Whether the cells under a header can be those of a column of ours."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date
from itertools import pairwise

from sgzone.cards.columns import ColumnSpec
from sgzone.cards.days import readings
from sgzone.cards.mapping.known import meaning

_NUMBER = re.compile(r"[+-]?(\d{1,9}([.,]\d{0,9})?|[.,]\d{1,9})")
_LENGTH = re.compile(
    r"(\d{1,4}([.,]\d{0,9})?|[.,]\d{1,9})\s*[a-z]*['’′]?\s*(\d{0,2}\s*[\"”″a-z]*)?"
)
MOST_CELLS = 2000
"""Of a column, the first that a guess looks at."""
_MOST = 0.8  # of the cells that are not blank must fit
_HOLES = range(1, 19)
_ENOUGH_HOLES = 6  # different ones, to take whole numbers for holes by their values alone


def number(cell: str) -> float | None:
    """Return a number with a decimal point or comma, None for anything else.

    >>> number("87,5"), number("87 m")
    (87.5, None)
    """
    text = cell.strip()
    return float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else None


def filled(cells: Sequence[str]) -> list[str]:
    """Return the first cells of a column that are not blank."""
    return [cell.strip() for cell in cells[:MOST_CELLS] if cell.strip()]


def fits(spec: ColumnSpec, cells: Sequence[str], today: date) -> bool:
    """Return whether most cells can be of this column; blanks alone fit any."""
    there = filled(cells)
    can_be = _forms(spec, today).get(spec.kind)
    return not there or can_be is None or _share(there, can_be) >= _MOST


def speaks(spec: ColumnSpec, cells: Sequence[str], today: date) -> str | None:
    """Return why cells are those of a column whatever their header; None where they do not say.

    Only what nothing else looks like: days, words of one list, holes.
    """
    there = filled(cells)
    if not there:
        return None
    if spec.kind == "date" and spec.needed:
        return "all values are days" if _share(there, _forms(spec, today)["date"]) == 1 else None
    if spec.kind == "word":
        enough = _share(there, lambda cell: bool(meaning(spec.name, cell))) >= _MOST
        return "its values are words of ours" if enough else None
    return "all values are 1 to 18 and rise" if spec.name == "hole" and _rise(there) else None


def count_up(cells: Sequence[str], holes: Sequence[str]) -> bool:
    """Return whether whole numbers rise from row to row of each hole and begin anew on the next.

    ``holes``: the hole of each row; a blank one is that of the row above.
    """
    numbers = [int(cell) if cell.strip().isdecimal() and len(cell) < 3 else 0 for cell in cells]
    numbers, holes = numbers[:MOST_CELLS], holes[:MOST_CELLS]
    changes = [bool(hole.strip()) and hole != before for before, hole in pairwise(holes)]
    rises = [after > before for before, after in pairwise(numbers)]
    inside = [rise for rise, change in zip(rises, changes, strict=True) if not change]
    at_change = [rise for rise, change in zip(rises, changes, strict=True) if change]
    begins_anew = not at_change or not all(at_change)
    return bool(inside) and min(numbers) > 0 and all(inside) and begins_anew


def _forms(spec: ColumnSpec, today: date) -> dict[str, Callable[[str], bool]]:
    def whole(cell: str) -> bool:
        value = number(cell)
        if value is None:
            return bool(meaning(spec.name, cell))
        return value.is_integer() and (spec.low or 0) <= value <= (spec.high or value)

    return {
        "integer": whole,
        "number": lambda cell: number(cell) is not None,
        "distance": lambda cell: bool(_LENGTH.fullmatch(cell.lower())),
        "date": lambda cell: bool(readings(cell, today).possible),
        "word": lambda cell: number(cell) is None,
        "words": lambda cell: number(cell) is None,
    }


def _rise(cells: Sequence[str]) -> bool:
    """Return whether cells count holes: 1 to 18, each as often as it has strokes."""
    numbers = [int(cell) if cell.isdecimal() and len(cell) < 3 else 0 for cell in cells]
    if not set(numbers) <= set(_HOLES) or len(set(numbers)) < _ENOUGH_HOLES:
        return False
    falls = sum(a > b for a, b in pairwise(numbers))
    # holes fall where a round ends, strokes at every hole
    return falls * len(set(numbers)) <= len(numbers)


def _share(cells: Sequence[str], holds: Callable[[str], bool]) -> float:
    return sum(map(holds, cells)) / len(cells)
