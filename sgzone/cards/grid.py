"""A sheet of text cells with its header found, ragged rows named and other rows left out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import pyarrow as pa

from sgzone.cards.tables import TABLES
from sgzone.cards.tolerant.header import Header, find_header
from sgzone.cards.tolerant.passing import Passed, pass_over
from sgzone.errors import DataError, Problem, first_of_a_kind
from sgzone.harmless import named

Grid = list[list[str]]
_MOST_NAMED = 4  # rows in one note; the rest is counted


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of one table as text.

    ``columns`` are arrays of strings (plain or dictionary-coded), one per cell of the header, one
    value per entry of ``row_numbers`` (rows as a spreadsheet numbers them). ``broken`` marks rows
    whose cells cannot be told apart; a problem in ``problems`` says why. ``commas``: a comma in a
    number can be a decimal one. ``typed``: numbers stand as somebody wrote them. ``ends``: column
    to the rows just below merged cells.
    """

    headers: list[str]
    header_row: int
    columns: list[pa.Array]
    row_numbers: Sequence[int]
    broken: Sequence[bool]
    problems: list[Problem] = field(default_factory=list)
    commas: bool = True
    typed: bool = False
    ends: Mapping[int, Sequence[int]] = field(default_factory=dict)

    @property
    def header(self) -> Header | None:
        """What the header stands for; None where it is that of no table."""
        found = find_header([self.headers])
        return None if found is None else replace(found, row=self.header_row)


@dataclass(frozen=True, slots=True)
class TextTable:
    """One table of a file as text.

    ``table`` has ``source_row`` (as a spreadsheet numbers them), ``broken`` (the row's cells
    cannot be told apart), every known column of the kind that the file has, and unknown columns as
    ``x0``, ``x1``, ...; ``extra`` holds the headers of those. ``problems`` are those seen while
    reading: what was read as what, and what is asked. ``mapping``: the SHA-256 of the mapping it
    was read with.
    """

    file: str
    kind: str
    table: pa.Table
    extra: tuple[str, ...]
    problems: tuple[Problem, ...]
    mapping: str | None = None


def fatal(file: str, wrong: str, fix: str, *, row: int | None = None, value: str = "") -> DataError:
    """Return the error of a file that cannot be read at all, with its one problem."""
    problem = Problem(file, row, "", value, wrong, fix)
    return DataError(f"{named(file)}: {wrong}. {fix}", [problem])


def from_grid(
    file: str,
    grid: Grid,
    problems: list[Problem],
    *,
    commas: bool = True,
    typed: bool = False,
    ends: Mapping[int, Sequence[int]] | None = None,
) -> Cells:
    """Return the cells of a grid whose first row is row 1 of the spreadsheet.

    Raises ``DataError`` for an empty file, a header alone, and a sheet without a header.
    """
    header = find_header(grid)
    if header is None:
        raise no_header(file, grid)
    passed = pass_over(grid, header)
    if not passed.kept and not any(problem.severity == "error" for problem in problems):
        raise fatal(
            file, "there is a header and no row under it", "Write one row per stroke under it."
        )
    problems.extend(_notes(file, grid, passed))
    problems.extend(_asked(file, grid, passed, header.row))
    headers = [one.written for one in header.headings]
    rows, broken = _even_rows(file, grid, len(headers), passed.kept, problems)
    columns = [pa.array(column, pa.string()) for column in zip(*rows, strict=True)]
    columns = columns or [pa.array([], pa.string()) for _ in headers]
    return Cells(
        headers, header.row, columns, passed.kept, broken, problems, commas, typed, ends or {}
    )


def no_header(file: str, grid: Sequence[Sequence[str]]) -> DataError:
    """Return the error of a sheet without the header of a table, or without anything."""
    filled = next((n for n, row in enumerate(grid) if "".join(row).strip()), None)
    if filled is None:
        return fatal(
            file, "the file is empty", "`sgzone template FILE` writes a card to start from."
        )
    there = ", ".join(cell.strip()[:30] for cell in grid[filled][:8])
    marks = ", ".join(f"{' or '.join(table.marks)} ({table.name})" for table in TABLES)
    return fatal(
        file,
        f"the header is none of a known table (there: {there})",
        f"One of these must be among the headers: {marks}.",
        row=filled + 1,
        value=there,
    )


def _notes(file: str, grid: Grid, passed: Passed) -> list[Problem]:
    """Return a note for each kind of row that is passed over."""
    kinds = (
        (passed.titles, "no part of the table, passed over: "),
        (passed.totals, "totals, passed over: "),
        (passed.headers, "the header once more, passed over: "),
    )
    found = []
    for rows, said in kinds:
        if rows:
            more = f" and {len(rows) - _MOST_NAMED} more" if len(rows) > _MOST_NAMED else ""
            numbers = ", ".join(str(row) for row in rows[:_MOST_NAMED])
            where = f"row{'s' if len(rows) > 1 else ''} {numbers}{more}"
            first = next(cell.strip() for cell in grid[rows[0] - 1] if cell.strip())
            fix = "Nothing, if that is right."
            found.append(Problem(file, None, "", first[:40], f"{said}{where}", fix, "note"))
    return found


def _asked(file: str, grid: Grid, passed: Passed, header_row: int) -> list[Problem]:
    """Return the question of rows above the header that are no title."""
    if not passed.strokes:
        return []
    row = passed.strokes[0]
    shown = ", ".join(cell.strip() for cell in grid[row - 1] if cell.strip())[:40]
    wrong = f"above the header (row {header_row}), and yet it looks like a row of the table"
    fix = "Move the header to the top, or delete the row."
    return [Problem(file, row, "", shown, wrong, fix)]


def _even_rows(
    file: str, grid: Grid, width: int, numbers: list[int], problems: list[Problem]
) -> tuple[Grid, list[bool]]:
    """Return rows of one width. A blank cell too many is a fault too: 87,5 unquoted makes one."""
    rows = [grid[number - 1] for number in numbers]
    broken = [False] * len(rows)
    uneven = [index for index, row in enumerate(rows) if len(row) != width]
    found = (_ragged(file, numbers[index], len(rows[index]), width) for index in uneven)
    problems.extend(first_of_a_kind(found, len(uneven)))
    for index in uneven:
        rows[index] = (rows[index] + [""] * width)[:width]
        broken[index] = True
    return rows, broken


def _ragged(file: str, number: int, cells: int, width: int) -> Problem:
    fix = "Write every separator, also those of blank cells at the end of the row."
    if cells > width:
        fix = (
            'Put quotes around a cell with the separator in it ("8 iron, choked"). Write decimals '
            "with a point, and end the row where the header ends."
        )
    wrong = f"this row has {cells} cells and the header has {width}"
    return Problem(file, number, "", "", wrong, fix)
