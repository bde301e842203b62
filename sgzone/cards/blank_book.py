"""The workbook of an empty card: a sheet to type into, and one that says what its columns mean."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from io import BytesIO
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.cards.example import HOLE
from sgzone.cards.workbook import EXPLAINED

_DAY, _AS_TYPED = "yyyy-mm-dd", "@"
_GREY = "808080"
_ROOM = {"date": 12, "text": 16}
"""Least width of a column, in digits, by what it holds."""
_LAST_ROW = 1_048_576  # of any sheet: the lists are there however long the season
_LINE = Border(bottom=Side(style="thin"))
_ABOUT = (
    "One row per stroke on the sheet before this one, from the first stroke inside 150 yards.",
    "The hole in grey is an example: it loads as nothing while its player is (example).",
    "Bold columns are needed. Any other may stay blank, or be deleted with its header. To have "
    "one more of these, write its name in the first row.",
)
_HEADS = ("column", "on this card", "needed", "meaning", "words or range")
_WIDTHS = (16, 13, 9, 62, 58)


def blank_book(columns: Sequence[ColumnSpec]) -> bytes:
    """Return a workbook with these columns of a card and the example hole."""
    book = Workbook()
    card = book.active
    assert isinstance(card, Worksheet)
    card.title = "card"
    _fill_card(card, columns)
    _explain(book.create_sheet(EXPLAINED), [column.name for column in columns])
    packed = BytesIO()
    book.save(packed)
    return packed.getvalue()


def _fill_card(sheet: Worksheet, columns: Sequence[ColumnSpec]) -> None:
    for place, column in enumerate(columns, 1):
        letter = get_column_letter(place)
        head = sheet.cell(1, place, column.name)
        head.font, head.border = Font(bold=column.needed), _LINE
        # of the column, not of its cells: it stays where rows are put in, and no cell is filled
        sheet.column_dimensions[letter].number_format = _shown(column)
        sheet.column_dimensions[letter].width = _width(column)
        if help_with := _help_with(column):
            help_with.add(f"{letter}2:{letter}{_LAST_ROW}")
            sheet.add_data_validation(help_with)
        for number, row in enumerate(HOLE, 2):
            cell = sheet.cell(number, place, _value(row.get(column.name, ""), column))
            cell.number_format, cell.font = _shown(column), Font(color=_GREY)
    sheet.freeze_panes = "A2"
    _to_print(sheet)


def _shown(column: ColumnSpec) -> str:
    """Return how a column's cells are shown; as typed where 3/4 would become a day in March."""
    if column.kind == "date":
        return _DAY
    return _AS_TYPED if column.kind in ("word", "words") or column.name == "note" else "General"


def _width(column: ColumnSpec) -> int:
    longest = max(map(len, (column.name, *column.words)))
    return max(longest + 2, _ROOM.get(column.kind, 9))


def _value(text: str, column: ColumnSpec) -> int | date | str | None:
    if column.kind == "date":
        return date.fromisoformat(text)
    if text.removeprefix("-").isdecimal():
        return int(text)
    return text or None


def _help_with(column: ColumnSpec) -> DataValidation | None:
    """Return the list to choose from, or the hint that a day is wanted; none refuses a cell.

    More is understood than the list has, and what is not is named by `sgzone check`.
    """
    if column.words:
        listed = DataValidation("list", formula1=f'"{",".join(column.words)}"', allow_blank=True)
        listed.showErrorMessage = False
        return listed
    if column.kind == "date":
        return DataValidation(
            "date",
            operator="greaterThanOrEqual",
            formula1="DATE(1970,1,1)",
            allow_blank=True,
            showErrorMessage=True,
            errorStyle="warning",
            errorTitle="A day",
            error="Write a day such as 2026-05-14.",
        )
    return None


def _explain(sheet: Worksheet, on_card: Sequence[str]) -> None:
    for line in _ABOUT:
        sheet.append([line])
    sheet.append([])
    sheet.append(_HEADS)
    head = sheet.max_row
    for row in _explained(on_card):
        sheet.append(row)
    for cell in sheet[head]:
        cell.font, cell.border = Font(bold=True), _LINE
    for cells in sheet.iter_rows(min_row=head):
        for cell in cells:
            cell.alignment = Alignment(wrap_text=True, vertical="top")
    for place, width in enumerate(_WIDTHS, 1):
        sheet.column_dimensions[get_column_letter(place)].width = width
    sheet.freeze_panes = f"A{head + 1}"
    _to_print(sheet)


def _explained(on_card: Iterable[str]) -> Iterator[list[str]]:
    for column in sorted(columns_of("shot"), key=lambda column: column.name not in on_card):
        here = "yes" if column.name in on_card else ""
        needed = "yes" if column.needed else ""
        yield [column.name, here, needed, column.meaning, _may_be(column)]


def _may_be(column: ColumnSpec) -> str:
    if column.words:
        own = " (or your own words)" if column.kind == "words" else ""
        return ", ".join(column.words) + own
    if column.kind == "text":
        return f"up to {column.high:.0f} characters"
    unit = f" {column.unit}" if column.unit else ""
    if column.low is None:
        return unit.strip()
    return f"{column.low:g} to {column.high:g}{unit}"


def _to_print(sheet: Any) -> None:
    """Have it printed on one page's width, lying, if anybody prints it."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
