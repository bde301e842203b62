"""Which row of a sheet is its header, and what each of its cells stands for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sgzone.cards.columns import names_of
from sgzone.cards.tables import TABLE, TABLES, kind_of
from sgzone.cards.tolerant.units import without_unit
from sgzone.cards.tolerant.wording import LONGEST, folded, header_names

SEARCHED = 20  # rows looked through for the header
LEAST = 3  # names of a header that is known for one wherever it stands
_VALUE = re.compile(r"[-+]?[\d.,:/\-\s]*\d[\d.,:/\-\s]*(\D{0,3})?")
_TOGETHER = {"shot": ({"hole", "shot", "lie"}, {"distance"})}
"""Kind -> sets of columns, one of each of which a header has that may stand below other rows."""


@dataclass(frozen=True, slots=True)
class Heading:
    """One cell of a header: the columns it may stand for, as written, and the units it names."""

    written: str
    names: tuple[str, ...]
    lengths_in: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Header:
    """The header of a sheet: its kind of table, its cells, and its row (the first is 1)."""

    kind: str
    headings: tuple[Heading, ...]
    row: int


def heading(kind: str, cell: str) -> Heading:
    """Return what one cell of a header stands for in a table of one kind."""
    written = cell.strip()
    plain = written.lower()
    if plain in names_of(kind):
        return Heading(written, (plain,))
    if not written or len(written) > LONGEST:
        return Heading(written, ())
    known = header_names(kind)
    base, units = without_unit(written)
    for words in (written, base):
        if names := known.get(folded(words)):
            return Heading(written, names, units)
    return Heading(written, ())


def find_header(grid: Sequence[Sequence[str]]) -> Header | None:
    """Return the header of a sheet, None where no row of the first 20 filled ones is one.

    It is the first row that names three columns, among them what tells its kind of table, and
    holds no number; else the first that names, as they are, what tells a kind.
    """
    rows = list(_first_rows(grid))
    for number, row in rows:
        if (kind := _sure_kind(row)) is not None:
            return header_at(kind, number, row)
    for number, row in rows:
        if (kind := kind_of(cell.strip().lower() for cell in row)) is not None:
            return header_at(kind, number, row)
    return None


def header_at(kind: str, number: int, row: Sequence[str]) -> Header:
    """Return the header that stands in a row."""
    return Header(kind, tuple(heading(kind, cell) for cell in row), number)


def _first_rows(grid: Sequence[Sequence[str]]) -> Iterator[tuple[int, Sequence[str]]]:
    seen = 0
    for number, row in enumerate(grid, 1):
        if any(cell.strip() for cell in row):
            yield number, row
            seen += 1
        if seen > SEARCHED:
            return


def is_sure(row: Sequence[str]) -> bool:
    """Return whether a row of cells can be nothing but the header of a table."""
    return _sure_kind(row) is not None


def _sure_kind(row: Sequence[str]) -> str | None:
    cells = [cell for cell in row if cell.strip()]
    if len(cells) < LEAST or any(_is_value(cell) for cell in cells):
        return None
    return next((table.kind for table in TABLES if _is_sure(table.kind, cells)), None)


def _is_value(cell: str) -> bool:
    return _VALUE.fullmatch(cell.strip()[:LONGEST]) is not None


def _is_sure(kind: str, cells: Sequence[str]) -> bool:
    found = [names for cell in cells if (names := heading(kind, cell).names)]
    there = {name for names in found for name in names}
    wanted = _TOGETHER.get(kind, (set(TABLE[kind].marks),))
    return len(set(found)) >= LEAST and all(there & names for names in wanted)


def is_same(headings: Sequence[Heading], row: Sequence[str]) -> bool:
    """Return whether a row of cells is the header once more."""
    cells = [folded(cell[:LONGEST]) for cell in row]
    said = [folded(one.written[:LONGEST]) for one in headings]
    while cells and not cells[-1]:
        cells.pop()
    while said and not said[-1]:
        said.pop()
    return bool(said) and cells == said
