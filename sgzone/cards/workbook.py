"""Excel workbooks to the tables on their sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

from sgzone.cards.book import read_book
from sgzone.cards.given import Given
from sgzone.cards.grid import Cells, Grid, fatal, from_grid, no_header
from sgzone.cards.limits import MAX_TABLES
from sgzone.cards.sheet import Merge, is_filled, read_sheet
from sgzone.cards.tolerant.header import Header, find_header
from sgzone.cards.unpacking import UNREADABLE, Package
from sgzone.errors import DataError, Problem, did_you_mean

Taken = TypeVar("Taken")
NAMED = 10  # sheets named in a note; the rest is counted
EXPLAINED = "what the columns mean"
"""The sheet of an empty card that says so: words of ours, so never read and never missed."""
_SAID_ONCE = {"distance", "to_distance", "penalty", "result"}
"""What merged cells cannot say of several strokes."""


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet of any workbook: its name, whether it is hidden, and how to read its cells."""

    name: str
    hidden: bool
    read: Callable[[], tuple[Grid, list[Merge]]]


def read_workbook(path: Path, given: Given) -> list[tuple[str, Cells]]:
    """Read every visible sheet of a workbook that holds a table, each with what it is called.

    Dates become ISO dates, whole numbers lose their ``.0``; errors of the spreadsheet are kept
    for the rules to find.
    """
    return with_pages(path, lambda pages: tables_of(path.name, pages, given))


def with_pages(path: Path, use: Callable[[Sequence[Page]], Taken]) -> Taken:
    """Return what is made of the filled sheets of a workbook, which is open meanwhile."""
    try:
        with Package(path) as package:
            book = read_book(package)
            pages = [
                Page(sheet.name, sheet.hidden, partial(read_sheet, package, book, sheet))
                for sheet in book.sheets
                if is_filled(package, book, sheet)
            ]
            return use(pages)
    except UNREADABLE as wrong:
        raise fatal(
            path.name,
            f"the workbook cannot be read ({str(wrong) or 'it is cut short'})",
            "Open it in a spreadsheet, take off any password, and save it again as .xlsx.",
        ) from wrong


@dataclass(frozen=True, slots=True)
class _Found:
    """One sheet with the header of a table."""

    page: Page
    grid: Grid
    merges: list[Merge]
    header: Header


def tables_of(file: str, pages: Sequence[Page], given: Given) -> list[tuple[str, Cells]]:
    """Return the tables on the filled sheets of a workbook; hidden ones are asked about.

    Raises ``DataError`` where there is none.
    """
    pages = [page for page in pages if page.name != EXPLAINED]
    if given.sheet is not None:
        pages = [_chosen(file, pages, given.sheet)]
    if not pages or (all(page.hidden for page in pages) and given.sheet is None):
        raise _nothing_seen(file, pages)
    found, others, first = [], [], None
    for page in pages:
        grid, merges = page.read()
        header = find_header(grid)
        if header is not None:
            found.append(_Found(page, grid, merges, header))
        else:
            others.append(page)
            first = first or grid
    seen = [one for one in found if not one.page.hidden or given.sheet is not None]
    if not seen:
        raise no_header(file, first or [])
    if len(seen) > MAX_TABLES:
        raise fatal(
            file,
            f"{len(seen)} sheets with a table; up to {MAX_TABLES} are read",
            "Split the workbook into several.",
        )
    notes = [*_left_out(file, others), *_hidden(file, [one for one in found if one not in seen])]
    filled = [one for one in seen if len(one.grid) > one.header.row] or seen
    return [
        (
            f'{file}, sheet "{one.page.name}"' if len(filled) > 1 else file,
            _cells(file, one, notes if one is filled[0] else []),
        )
        for one in filled
    ]


def first_rows(file: str, pages: Sequence[Page], name: str | None) -> Grid:
    """Return the rows of the first visible one of filled sheets, or of the sheet ``name``."""
    if name is not None:
        return _chosen(file, pages, name).read()[0]
    pages = [page for page in pages if page.name != EXPLAINED]
    page = next((page for page in pages if not page.hidden), None)
    if page is None:
        raise _nothing_seen(file, pages)
    return page.read()[0]


def _chosen(file: str, pages: Sequence[Page], name: str) -> Page:
    for page in pages:
        if page.name.strip().casefold() == name.strip().casefold():
            return page
    hint = did_you_mean(name, [page.name for page in pages])
    fix = f"Its sheets: {_named(pages)}.{hint}"
    raise fatal(file, f'there is no sheet "{name}"', fix, value=name)


def _cells(file: str, found: _Found, notes: Sequence[Problem]) -> Cells:
    ends: dict[int, list[int]] = {}
    for merge in found.merges:
        ends.setdefault(merge.column, []).append(merge.last + 1)
    problems = [*notes, *_merged_once(file, found)]
    return from_grid(file, found.grid, problems, ends=ends)


def _merged_once(file: str, found: _Found) -> Iterator[Problem]:
    """Yield a question for merged cells that say of several strokes what is true of one."""
    headings = found.header.headings
    for column, first, last in found.merges:
        names = headings[column].names if column < len(headings) else ()
        if first > found.header.row and _SAID_ONCE & set(names):
            yield Problem(
                file,
                first,
                names[0],
                found.grid[first - 1][column],
                f"one cell merged over rows {first} to {last}",
                "Unmerge it, and write it in each row it is true of.",
            )


def _nothing_seen(file: str, hidden: Sequence[Page]) -> DataError:
    if not hidden:
        return fatal(file, "the workbook is empty", "Write the card on its first sheet.")
    return fatal(
        file,
        f"all its sheets with anything in them are hidden: {_named(hidden)}",
        "Show the sheet of the card, or name it with --sheet.",
    )


def _left_out(file: str, others: Sequence[Page]) -> Iterator[Problem]:
    seen = [page for page in others if not page.hidden]
    if seen:
        s, no = ("s", "") if len(seen) > 1 else ("", " it")
        wrong = f"sheet{s} without a table, passed over: {_named(seen)}"
        fix = f"Nothing, if no card is on{no or ' them'}."
        yield Problem(file, None, "", "", wrong, fix, "note")


def _hidden(file: str, found: Sequence[_Found]) -> Iterator[Problem]:
    for one in found:
        yield Problem(
            file,
            None,
            "",
            one.page.name,
            f'a hidden sheet holds a table too: "{one.page.name}"',
            "Show it to have it read, or delete it; or name the one to read with --sheet.",
        )


def _named(sheets: Sequence[Page]) -> str:
    names = [f"{sheet.name}{' (hidden)' if sheet.hidden else ''}" for sheet in sheets[:NAMED]]
    more = [f"and {len(sheets) - NAMED} more"] if len(sheets) > NAMED else []
    return ", ".join([*names, *more])
