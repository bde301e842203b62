"""One cell of another table made a cell of ours: its word, its decimals, its day, its unit."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

from sgzone.cards.columns import ColumnSpec
from sgzone.cards.mapping.content import is_length, spec_of
from sgzone.cards.mapping.schema import Mapping, plain
from sgzone.units import UNIT_WORDS, from_ft, to_ft

_TIME = r"(?:[ T]+\d{1,2}:\d\d(?::\d\d(?:\.\d+)?)?)?"
_DAY = re.compile(rf"(\d{{1,4}})\s*([./-])\s*(\d{{1,2}})\s*\2\s*(\d{{1,4}})\.?{_TIME}")
_BARE = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")
_GROUPED = {
    ",": re.compile(r"[+-]?\d{1,3}(\.\d{3})+(,\d+)?"),
    ".": re.compile(r"[+-]?\d{1,3}(,\d{3})+(\.\d+)?"),
}
_COMMA = re.compile(r"(\d*),(\d)")
_FRACTION = 6  # decimals of a converted length: a millionth of a foot
_TURN = 70  # of years of two digits: 69 is 2069, 70 is 1970


class NoDayError(ValueError):
    """A day that is none in the order that the mapping names."""


def reader(mapping: Mapping, name: str, *, stored: bool) -> Callable[[str], str] | None:
    """Return what makes a cell of theirs one of our column ``name``; None for cells as they are.

    ``stored``: the cells of a workbook, whose numbers have a point and no separator of thousands.
    What it cannot read it leaves as it is: the rules of the card say what is wrong. It raises
    ``NoDayError`` for a day that the mapping's order makes none.
    """
    spec, words = spec_of(name), mapping.words.get(name, {})
    steps = [step for step in _steps(mapping, spec, stored=stored) if step]
    if not words and not steps:
        return None

    def read(cell: str) -> str:
        word = words.get(plain(cell)) if words else None
        if word is not None:
            return word
        for step in steps:
            cell = step(cell)
        return cell

    return read


def _steps(
    mapping: Mapping, spec: ColumnSpec, *, stored: bool
) -> list[Callable[[str], str] | None]:
    number = spec.kind in ("integer", "number", "distance")
    unit = mapping.lengths.get(spec.name, "")
    order, decimal = mapping.dates, mapping.decimal
    return [
        (lambda cell: point(cell, decimal, stored=stored)) if number and decimal else None,
        (lambda cell: iso_day(cell, order)) if spec.kind == "date" and order else None,
        (lambda cell: with_unit(cell, unit, spec)) if unit in UNIT_WORDS.values() else None,
    ]


def point(cell: str, decimal: str, *, stored: bool = False) -> str:
    """Return a number written with a decimal comma or separators of thousands as ours are.

    >>> point("87,5", ","), point("5.250", ","), point("5,250", "."), point("14,5 m", ",")
    ('87.5', '5250', '5250', '14.5 m')
    """
    text = cell.strip()
    if not stored and _GROUPED[decimal].fullmatch(text):
        text = text.replace("." if decimal == "," else ",", "")
    elif "," not in text:
        return cell
    return _COMMA.sub(r"\1.\2", text, count=1) if decimal == "," else text


def iso_day(cell: str, order: str) -> str:
    """Return a day of numbers alone as ISO writes it, the time after it left out.

    ``order``: ``dmy``, ``mdy`` or ``ymd``; a year of four digits in front is read as one in any.

    >>> iso_day("5/6/2026", "dmy"), iso_day("5.6.26", "mdy"), iso_day("2026-06-05", "dmy")
    ('2026-06-05', '2026-05-06', '2026-06-05')
    """
    match = _DAY.fullmatch(cell.strip())
    if match is None:
        return cell
    parts = [match[1], match[3], match[4]]
    if len(match[1]) > 2:
        order = "ymd"
    year, month, day = (int(parts[order.index(part)]) for part in "ymd")
    if len(parts[order.index("y")]) < 3:
        year += 2000 if year < _TURN else 1900
    try:
        return date(year, month, day).isoformat()
    except ValueError as wrong:
        raise NoDayError(cell) from wrong


def with_unit(cell: str, unit: str, spec: ColumnSpec) -> str:
    """Return a bare length with its unit, or in the unit of its column where that has one.

    >>> with_unit("14", "m", spec_of("distance")), with_unit("2", "m", spec_of("depth_ft"))
    ('14 m', '6.56168')
    """
    text = cell.strip()
    if not is_length(spec) or not _BARE.fullmatch(text):
        return cell
    if spec.kind == "distance":
        return f"{text} {unit}"
    if unit == spec.unit:
        return text
    return str(round(from_ft(to_ft(float(text), unit), spec.unit), _FRACTION))
