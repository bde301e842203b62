"""Excel workbooks to cells of text."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sgzone.cards.book import Sheet, read_book
from sgzone.cards.grid import Cells, Grid, fatal, from_grid
from sgzone.cards.sheet import is_filled, read_sheet
from sgzone.cards.unpacking import UNREADABLE, Package
from sgzone.errors import DataError, Problem
from sgzone.harmless import named

NAMED = 10  # sheets named in a note; the rest is counted
EXPLAINED = "what the columns mean"
"""The sheet of an empty card that says so: words of ours, so never read and never missed."""


def read_workbook(path: Path) -> Cells:
    """Read the first visible sheet with data of a workbook; a note says which, if there are more.

    Dates become ISO dates, whole numbers lose their ``.0``; errors of the spreadsheet are kept
    for the rules to find.
    """
    return from_grid(path.name, *read_rows(path))


def read_rows(path: Path, name: str | None = None) -> tuple[Grid, list[Problem]]:
    """Return the rows of the first visible sheet with data, or of the sheet ``name``.

    With them a note where other sheets hold data too.
    """
    try:
        with Package(path) as package:
            book = read_book(package)
            sheets = [sheet for sheet in book.sheets if sheet.name != EXPLAINED]
            filled = [sheet for sheet in sheets if is_filled(package, book, sheet)]
            seen = [sheet for sheet in filled if not sheet.hidden and name is None]
            seen += [sheet for sheet in filled if sheet.name == name]
            if not seen:
                raise (
                    _nothing_seen(path.name, filled)
                    if name is None
                    else _no_such(path.name, name, filled)
                )
            grid = read_sheet(package, book, seen[0])
    except UNREADABLE as wrong:
        raise fatal(
            path.name,
            f"the workbook cannot be read ({str(wrong) or 'it is cut short'})",
            "Open it in a spreadsheet, take off any password, and save it again as .xlsx.",
        ) from wrong
    others = [sheet for sheet in filled if sheet is not seen[0]]
    told = others and name is None
    return grid, [_which_sheet(path.name, seen[0], others)] if told else []


def _no_such(file: str, name: str, filled: Sequence[Sheet]) -> DataError:
    wrong = f"there is no sheet {named(name)} with anything in it"
    return fatal(file, wrong, f"Its sheets are {_named(filled)}.", value=name)


def _nothing_seen(file: str, hidden: Sequence[Sheet]) -> DataError:
    if not hidden:
        return fatal(file, "the workbook is empty", "Write the card on its first sheet.")
    return fatal(
        file,
        f"all its sheets with anything in them are hidden: {_named(hidden)}",
        "Show the sheet of the card in a spreadsheet program and save the workbook.",
    )


def _which_sheet(file: str, read: Sheet, others: Sequence[Sheet]) -> Problem:
    return Problem(
        file,
        None,
        "",
        read.name,
        f'only the sheet "{read.name}" was read; not read: {_named(others)}',
        "Save other sheets as files of their own.",
        "note",
    )


def _named(sheets: Sequence[Sheet]) -> str:
    names = [f"{sheet.name}{' (hidden)' if sheet.hidden else ''}" for sheet in sheets[:NAMED]]
    more = [f"and {len(sheets) - NAMED} more"] if len(sheets) > NAMED else []
    return ", ".join([*names, *more])
