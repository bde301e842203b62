"""Workbooks from a plain text: sheets behind ``#``, cells between tabs, merges behind ``!``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import cast

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
    """Write the workbook a text describes as .xlsx."""
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
