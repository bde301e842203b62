"""A sheet of text cells with its headers found, ragged rows named and blank rows left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import pyarrow as pa

from sgzone.cards.tables import kind_of
from sgzone.errors import DataError, Problem, first_of_a_kind
from sgzone.harmless import named

HEADER_SEARCH = 20  # rows looked through for a header that does not stand in the first one

Grid = list[list[str]]


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of one file as text.

    ``columns`` are arrays of strings (plain or dictionary-coded), one per header, one value per
    entry of ``row_numbers`` (rows as a spreadsheet numbers them). ``broken`` marks rows whose
    cells cannot be told apart; a problem in ``problems`` says why.
    """

    headers: list[str]
    header_row: int
    columns: list[pa.Array]
    row_numbers: Sequence[int]
    broken: list[bool]
    problems: list[Problem] = field(default_factory=list)


def fatal(file: str, wrong: str, fix: str, *, row: int | None = None, value: str = "") -> DataError:
    """Return the error of a file that cannot be read at all, with its one problem."""
    problem = Problem(file, row, "", value, wrong, fix)
    return DataError(f"{named(file)}: {wrong}. {fix}", [problem])


def from_grid(file: str, grid: Grid, problems: list[Problem]) -> Cells:
    """Return the cells of a grid whose first row is row 1 of the spreadsheet.

    Raises ``DataError`` for an empty file, a header alone, and a header that does not stand first.
    """
    filled = [number for number, row in enumerate(grid, 1) if "".join(row).strip()]
    if not filled:
        raise fatal(
            file, "the file is empty", "`sgzone template FILE` writes a card to start from."
        )
    header_row = filled[0]
    headers = [cell.strip() for cell in grid[header_row - 1]]
    if kind_of(map(_plain, headers)) is None:
        _refuse_late_header(file, grid, filled[1 : HEADER_SEARCH + 1])
    numbers = filled[1:]
    if not numbers and not any(problem.severity == "error" for problem in problems):
        raise fatal(
            file, "there is a header and no row under it", "Write one row per stroke under it."
        )
    numbers = _without_repeated_header(file, grid, headers, numbers, problems)
    rows, broken = _even_rows(file, grid, len(headers), numbers, problems)
    columns = [pa.array(column, pa.string()) for column in zip(*rows, strict=True)]
    columns = columns or [pa.array([], pa.string()) for _ in headers]
    return Cells(headers, header_row, columns, numbers, broken, problems)


def _plain(header: str) -> str:
    return header.strip().lower()


def _refuse_late_header(file: str, grid: Grid, candidates: list[int]) -> None:
    for number in candidates:
        if kind_of(map(_plain, grid[number - 1])) is not None:
            raise fatal(
                file,
                f"the header stands in row {number}, with other text above it",
                "Delete the rows above the header.",
                row=number,
            )


def _without_repeated_header(
    file: str, grid: Grid, headers: list[str], numbers: list[int], problems: list[Problem]
) -> list[int]:
    plain = [_plain(header) for header in headers]
    first = plain[0]
    repeated = {
        number
        for number in numbers
        if _plain(grid[number - 1][0]) == first
        and [_plain(cell) for cell in grid[number - 1]] == plain
    }
    found = (
        Problem(
            file,
            number,
            "",
            ", ".join(headers[:3]) + ", ...",
            "the header stands here a second time",
            "Delete this row; a file has one header.",
        )
        for number in sorted(repeated)
    )
    problems.extend(first_of_a_kind(found, len(repeated)))
    return [number for number in numbers if number not in repeated]


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
            'Put quotes around a cell that holds the separator ("8 iron, choked"), write '
            "decimals with a point, and end the row where the header ends."
        )
    wrong = f"this row has {cells} cells and the header has {width}"
    return Problem(file, number, "", "", wrong, fix)
