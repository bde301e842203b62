"""A mapping put to a table: other headers, words, units and days become those of a card.

The rows stay where they are, so that their numbers stay those of the file; what is passed over
becomes a blank row. Whatever is read after this reads a card.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sgzone.cards.grid import Grid
from sgzone.cards.mapping.cells import NoDayError, reader, with_unit
from sgzone.cards.mapping.content import spec_of
from sgzone.cards.mapping.headers import (
    Places,
    find_places,
    refuse_late_header,
    refuse_rows,
)
from sgzone.cards.mapping.positions import add_measures
from sgzone.cards.mapping.schema import Mapping, plain
from sgzone.cards.mapping.sheet import Sheet, turned
from sgzone.cards.tolerant.header import SEARCHED
from sgzone.errors import Problem
from sgzone.harmless import named
from sgzone.units import UNIT_WORDS

_ORDERS = {"dmy": "day.month.year", "mdy": "month/day/year", "ymd": "year-month-day"}
_LEFT = "not mapped: "


class Made(NamedTuple):
    """A table as a card: its rows, what was wrong with its cells, and the headers used up."""

    grid: Grid
    problems: list[Problem]
    used: list[str]


def applied(mapping: Mapping, file: str, grid: Grid, *, stored: bool) -> Made:
    """Return a table as a card.

    ``grid``: every row of the file, the first is row 1. ``stored``: it is a workbook's. Raises
    ``DataError`` where the mapping names what the file does not have.
    """
    refuse_rows(mapping, file, len(grid))
    skipped = frozenset(mapping.skipped)
    grid = [
        [] if number <= mapping.above or number in skipped else row
        for number, row in enumerate(grid, 1)
    ]
    filled = [at for at, row in enumerate(grid) if any(cell.strip() for cell in row)]
    if not filled:
        return Made(grid, [], [])
    first, *rows = filled
    refuse_late_header(mapping, file, [(at + 1, grid[at]) for at in filled[:SEARCHED]])
    places = find_places(mapping, file, grid[first])
    start = plain(grid[first][0])
    headers = {at for at in rows if _same_row(grid[at], grid[first], start)}
    rows = [at for at in rows if at not in headers]
    theirs = turned([grid[at] for at in rows], len(grid[first]))
    sheet = Sheet(file, mapping, grid, rows, theirs, stored)
    for name, place in places.ours.items():
        sheet.columns[name] = _read(sheet, name, place)
    for name, place in places.unit_of.items():
        sheet.columns[name] = _with_units(sheet, name, place)
    for name, value in mapping.fixed.items():
        sheet.columns[name] = [value] * len(sheet.rows)
    add_measures(sheet, places)
    used = {*places.unit_of.values()}.union(*places.positions.values())
    grid = _written(sheet, places, {first, *headers})
    return Made(grid, sheet.problems, [places.headers[place] for place in used])


def note(mapping: Mapping, file: str) -> Problem:
    """Return the note that says which mapping a file is read with."""
    wrong = f"read with the mapping {named(mapping.file)}"
    fix = "Nothing, if you meant it; without that file the table is read as it is."
    return Problem(file, None, "", "", wrong, fix, "note")


def _same_row(row: list[str], head: list[str], start: str) -> bool:
    """Return whether a row is the header once more; ``start``: the header's first cell, plain."""
    same = len(row) == len(head) and plain(row[0]) == start
    return same and list(map(plain, row)) == list(map(plain, head))


def _read(sheet: Sheet, name: str, place: int) -> Sequence[str]:
    read = reader(sheet.mapping, name, stored=sheet.stored)
    cells = sheet.theirs[place]
    if read is None:
        return cells
    known: dict[str, str] = {}
    no_days: set[str] = set()
    for cell in dict.fromkeys(cells):
        try:
            known[cell] = read(cell)
        except NoDayError:
            known[cell] = cell
            no_days.add(cell)
    if no_days:
        faulty = [at for at, cell in enumerate(cells) if cell in no_days]
        order = _ORDERS[sheet.mapping.dates or "ymd"]
        fix = f"Correct the day, or dates in {named(sheet.mapping.file)} (dmy, mdy or ymd)."
        wrong = f"read as {order}, as the mapping says, this is no day"
        sheet.faults(name, faulty, cells, wrong, fix)
    return [known[cell] for cell in cells]


def _with_units(sheet: Sheet, name: str, place: int) -> list[str]:
    """Return lengths, each with the unit that another column says in its row."""
    words, spec = sheet.mapping.words.get("unit", {}), spec_of(name)
    written = sheet.theirs[place]
    units = [words.get(plain(cell), cell).strip().lower() for cell in written]
    faulty = [at for at, unit in enumerate(units) if unit and unit not in UNIT_WORDS]
    fix = "Write yd, m or ft there, or their word under [words.unit] of the mapping."
    sheet.faults(name, faulty, written, "no unit of length", fix)
    return [
        with_unit(cell, UNIT_WORDS[unit], spec) if unit in UNIT_WORDS else cell
        for cell, unit in zip(sheet.columns[name], units, strict=True)
    ]


def _written(sheet: Sheet, places: Places, headers: set[int]) -> Grid:
    """Return the rows of the card: what has no place of its own in the file stands in front.

    There it moves no cell of a row that has one too few.
    """
    home = {place: name for name, place in reversed(places.ours.items())}
    front = [name for name in sheet.columns if name not in home.values()]
    width = len(places.headers)
    head = [_header(places, place, home.get(place)) for place in range(width)]
    body = [sheet.columns[home[at]] if at in home else sheet.theirs[at] for at in range(width)]
    grid: Grid = [[] for _ in sheet.grid]
    for at in headers:
        grid[at] = [*front, *head]
    new_rows = zip(*(sheet.columns[name] for name in front), *body, strict=True)
    for at, cells in zip(sheet.rows, new_rows, strict=True):
        there = len(sheet.grid[at])
        grid[at] = list(cells)
        if there != width:  # as uneven as it was
            grid[at] = [*cells[: len(front) + there], *sheet.grid[at][width:]]
    return grid


def _header(places: Places, place: int, ours: str | None) -> str:
    written = places.headers[place]
    return ours or (f"{_LEFT}{written.strip()}" if place in places.left else written)
