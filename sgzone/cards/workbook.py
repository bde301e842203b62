"""Excel workbooks to cells of text."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sgzone.cards.book import Sheet, read_book
from sgzone.cards.grid import Cells, fatal, from_grid
from sgzone.cards.sheet import is_filled, read_sheet
from sgzone.cards.unpacking import UNREADABLE, Package
from sgzone.errors import DataError, Problem

NAMED = 10  # sheets named in a note; the rest is counted
EXPLAINED = "what the columns mean"
"""The sheet of an empty card that says so: words of ours, so never read and never missed."""


def read_workbook(path: Path) -> Cells:
    """Read the first visible sheet with data of a workbook; a note says which, if there are more.

    Dates become ISO dates, whole numbers lose their ``.0``; errors of the spreadsheet are kept
    for the rules to find.
    """
    try:
        with Package(path) as package:
            book = read_book(package)
            sheets = [sheet for sheet in book.sheets if sheet.name != EXPLAINED]
            filled = [sheet for sheet in sheets if is_filled(package, book, sheet)]
            seen = [sheet for sheet in filled if not sheet.hidden]
            if not seen:
                raise _nothing_seen(path.name, filled)
            grid = read_sheet(package, book, seen[0])
    except UNREADABLE as wrong:
        raise fatal(
            path.name,
            f"the workbook cannot be read ({str(wrong) or 'it is cut short'})",
            "Open it in a spreadsheet, take off any password, and save it again as .xlsx.",
        ) from wrong
    others = [sheet for sheet in filled if sheet is not seen[0]]
    return from_grid(path.name, grid, [_which_sheet(path.name, seen[0], others)] if others else [])


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
