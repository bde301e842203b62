"""Workbooks from a plain text: sheets behind ``#``, cells between tabs, merges behind ``!``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from string import ascii_uppercase
from typing import cast
from xml.sax.saxutils import escape, quoteattr
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

Value = str | float | int | bool | date | None
_NUMBER = re.compile(r"-?\d+(\.\d+)?")


@dataclass
class Sheet:
    """One sheet: its rows, its merged cells (``A2:A5``)."""

    name: str
    hidden: bool = False
    rows: list[list[Value]] = field(default_factory=list)
    merges: list[str] = field(default_factory=list)


def sheets_of(text: str) -> list[Sheet]:
    """Return the sheets a text describes; ``d:`` is a day, ``t:`` a text, ``f:`` a formula."""
    found: list[Sheet] = []
    for line in text.splitlines():
        if line.startswith("# "):
            name = line.removeprefix("# ")
            found.append(Sheet(name.removesuffix(" hidden"), name.endswith(" hidden")))
        elif line.startswith("! merge "):
            found[-1].merges.append(line.removeprefix("! merge "))
        else:
            found[-1].rows.append(list(_cells(line)))
    return found


def _cells(line: str) -> Iterator[Value]:
    for cell in line.split("\t"):
        kind, _, rest = cell.partition(":")
        if kind == "d":
            yield date.fromisoformat(rest)
        elif kind == "b":
            yield rest == "true"
        elif kind in ("t", "f"):
            yield rest
        elif _NUMBER.fullmatch(cell):
            yield float(cell) if "." in cell else int(cell)
        else:
            yield cell or None


def write_book(text: str, path: Path) -> Path:
    """Write the workbook a text describes, as .xlsx or .ods."""
    if path.suffix == ".ods":
        with ZipFile(path, "w", ZIP_DEFLATED) as package:
            package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
            package.writestr("content.xml", content_of(sheets_of(text)))
        return path
    book = Workbook()
    book.remove(book.worksheets[0])
    for one in sheets_of(text):
        sheet = cast(Worksheet, book.create_sheet(one.name))
        for row in one.rows:
            sheet.append(row)
        for merge in one.merges:
            sheet.merge_cells(merge)
        sheet.sheet_state = "hidden" if one.hidden else "visible"
    book.save(path)
    return path


def content_of(sheets: list[Sheet], more: str = "") -> str:
    """Return the content of an .ods of these sheets; ``more`` are rows of the last one."""
    tables = "".join(map(_table, sheets))
    if more:
        tables = tables.removesuffix("</table:table>") + more + "</table:table>"
    names = "".join(
        f' xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "style", "table", "text")
    )
    hidden = (
        '<style:style style:name="away" style:family="table">'
        '<style:table-properties table:display="false"/></style:style>'
    )
    return (
        f"<office:document-content{names}><office:automatic-styles>{hidden}"
        f"</office:automatic-styles><office:body><office:spreadsheet>{tables}"
        "</office:spreadsheet></office:body></office:document-content>"
    )


def _table(sheet: Sheet) -> str:
    spans: dict[str, int] = {}
    for merge in sheet.merges:
        first, last = merge.split(":")
        spans[first] = int(last[1:]) - int(first[1:]) + 1
    rows = "".join(
        "<table:table-row>"
        + "".join(_ods_cell(v, spans.get(f"{ascii_uppercase[k]}{n}", 1)) for k, v in enumerate(row))
        + '<table:table-cell table:number-columns-repeated="1000"/></table:table-row>'
        for n, row in enumerate(sheet.rows, 1)
    )
    style = ' table:style-name="away"' if sheet.hidden else ""
    blank = (
        '<table:table-row table:number-rows-repeated="1000000">'
        '<table:table-cell table:number-columns-repeated="1000"/></table:table-row>'
    )
    return f"<table:table table:name={quoteattr(sheet.name)}{style}>{rows}{blank}</table:table>"


def _ods_cell(value: Value, rows: int) -> str:
    span = f' table:number-rows-spanned="{rows}"' if rows > 1 else ""
    if isinstance(value, bool):
        kind, shown = f'boolean" office:boolean-value="{str(value).lower()}', str(value).upper()
    elif isinstance(value, date):
        kind, shown = f'date" office:date-value="{value}', f"{value:%d.%m.%y}"
    elif isinstance(value, int | float):
        kind, shown = f'float" office:value="{value}', str(value).replace(".", ",")
    elif value is None:
        return f"<table:table-cell{span}/>"
    elif value.startswith("="):
        return f"<table:table-cell table:formula={quoteattr(value)}{span}/>"
    else:
        kind, shown = "string", value
    return (
        f'<table:table-cell office:value-type="{kind}"{span}><text:p>{escape(shown)}</text:p>'
        "</table:table-cell>"
    )
