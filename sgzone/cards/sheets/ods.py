"""OpenDocument spreadsheets to the tables on their sheets."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sgzone.cards.given import Given
from sgzone.cards.grid import Cells, Grid, fatal
from sgzone.cards.limits import MAX_COLUMNS, MAX_MERGES, MAX_TABLES, SHEET_ROWS
from sgzone.cards.rules import NO_RESULT, SHEET_ERRORS
from sgzone.cards.sheet import Merge, fill_merged
from sgzone.cards.sheets.rows import Budget, Rows
from sgzone.cards.unpacking import UNREADABLE, Package, too_much
from sgzone.cards.workbook import Page, Taken, tables_of

_CONTENT = "content.xml"
_ERROR_CODE = re.compile(r"Err:\d{3}")
_ERROR = "#ERROR!"
_MOST_ALIKE = 1000  # equal filled rows, written once and repeated
_MIDNIGHT = re.compile(r"T00:00:00(\.0+)?$")

Attributes = dict[str, str]


def read_ods(path: Path, given: Given) -> list[tuple[str, Cells]]:
    """Read every visible sheet of an OpenDocument spreadsheet that holds a table."""
    return with_pages(path, lambda pages: tables_of(path.name, pages, given))


def with_pages(path: Path, use: Callable[[Sequence[Page]], Taken]) -> Taken:
    """Return what is made of the filled sheets of an OpenDocument spreadsheet."""
    try:
        with Package(path) as package:
            reader = _Sheets(package)
            package.read(_CONTENT, reader)
        pages = [_page(sheet) for sheet in reader.sheets if sheet.rows]
        return use(pages)
    except UNREADABLE as wrong:
        raise fatal(
            path.name,
            f"the workbook cannot be read ({str(wrong) or 'it is cut short'})",
            "Open it in a spreadsheet, take off any password, and save it again.",
        ) from wrong


@dataclass(slots=True)
class _Sheet:
    """One sheet while it is read: where the next cell stands."""

    name: str
    hidden: bool
    rows: Rows
    merges: list[Merge] = field(default_factory=list)
    row: int = 0
    column: int = 0


def _page(sheet: _Sheet) -> Page:
    def read() -> tuple[Grid, list[Merge]]:
        grid = sheet.rows.grid()
        return grid, fill_merged(grid, sheet.merges)

    return Page(sheet.name, sheet.hidden, read)


class _Sheets:
    """Collects the sheets of the content: cells by their values, texts but for remarks on them."""

    def __init__(self, package: Package) -> None:
        self.sheets: list[_Sheet] = []
        self._file, self._budget = package.file, Budget(package.file, package.most)
        self._hidden_styles: set[str] = set()
        self._style = ""
        self._line: list[tuple[int, str, Attributes]] = []  # filled cells of the row
        self._repeated = 1
        self._cell: Attributes | None = None
        self._pieces: list[str] = []
        self._texts = self._remarks = 0
        self.starts: dict[str, Callable[[Attributes], None]] = {
            **{"style": self._start_style, "table-properties": self._properties},
            **{"table": self._start_table, "table-row": self._start_row},
            **{"table-cell": self._start_cell, "covered-table-cell": self._start_cell},
            **{"p": self._start_text, "annotation": self._start_remark, "s": self._blanks},
        }
        self.ends: dict[str, Callable[[], None]] = {
            **{"table-row": self._end_row, "table-cell": self._end_cell},
            **{"covered-table-cell": self._end_cell, "p": self._end_text},
            **{"annotation": self._end_remark},
        }

    def text(self, text: str) -> None:
        """Take text."""
        if self._texts and not self._remarks:
            self._pieces.append(text)

    def _start_style(self, attributes: Attributes) -> None:
        self._style = _of(attributes, "name")

    def _properties(self, attributes: Attributes) -> None:
        if _of(attributes, "display") == "false":
            self._hidden_styles.add(self._style)

    def _start_table(self, attributes: Attributes) -> None:
        if len(self.sheets) >= 10 * MAX_TABLES:
            raise ValueError("more sheets than any workbook has")
        hidden = _of(attributes, "style-name") in self._hidden_styles
        self.sheets.append(_Sheet(_of(attributes, "name"), hidden, Rows(self._budget)))

    def _start_row(self, attributes: Attributes) -> None:
        self._repeated = _count(attributes, "number-rows-repeated")
        self._line = []
        if self.sheets:
            self.sheets[-1].column = 0

    def _start_cell(self, attributes: Attributes) -> None:
        self._cell, self._pieces = attributes, []

    def _start_text(self, _: Attributes) -> None:
        if self._pieces and not self._remarks:
            self._pieces.append("\n")
        self._texts += 1

    def _end_text(self) -> None:
        self._texts -= 1

    def _start_remark(self, _: Attributes) -> None:
        self._remarks += 1

    def _end_remark(self) -> None:
        self._remarks -= 1

    def _blanks(self, attributes: Attributes) -> None:
        self.text(" " * min(_count(attributes, "c"), 100))

    def _end_cell(self) -> None:
        if self._cell is None or not self.sheets:
            return
        sheet, attributes = self.sheets[-1], self._cell
        text = _shown(attributes, "".join(self._pieces))
        times = _count(attributes, "number-columns-repeated")
        if text and not text.isspace():
            if times > MAX_COLUMNS:
                raise too_much(self._file, f"a sheet of more than {MAX_COLUMNS} columns")
            self._line += [(sheet.column + n, text, attributes) for n in range(times)]
        sheet.column += times
        self._cell, self._pieces = None, []

    def _end_row(self) -> None:
        if not self.sheets:
            return
        sheet = self.sheets[-1]
        if self._line:
            if self._repeated > _MOST_ALIKE:
                raise too_much(self._file, f"a row {self._repeated} times over")
            for row in range(sheet.row, sheet.row + self._repeated):
                for column, text, attributes in self._line:
                    sheet.rows.put(row, column, text)
                    self._merge(sheet, row, column, attributes)
        sheet.row += self._repeated
        self._line = []

    def _merge(self, sheet: _Sheet, row: int, column: int, attributes: Attributes) -> None:
        down = _count(attributes, "number-rows-spanned")
        if down > 1 and len(sheet.merges) < MAX_MERGES:
            sheet.merges.append(Merge(column, row + 1, row + down))


def _of(attributes: Attributes, name: str) -> str:
    """Return an attribute by its name without a prefix."""
    return next((v for key, v in attributes.items() if key.rpartition(":")[2] == name), "")


def _count(attributes: Attributes, name: str) -> int:
    written = _of(attributes, name)
    if not written:
        return 1
    if not written.isdecimal() or len(written) > len(str(SHEET_ROWS)):
        raise ValueError(f"a count of {written[:20]!r}")
    return max(int(written), 1)


def _shown(attributes: Attributes, text: str) -> str:
    """Return the text of a cell, given what it shows."""
    kind = _of(attributes, "value-type")
    if _of(attributes, "formula") and not text and not kind:
        return NO_RESULT
    if text in SHEET_ERRORS or _ERROR_CODE.fullmatch(text):
        return text if text in SHEET_ERRORS else _ERROR
    if kind in ("float", "currency", "percentage"):
        return _number(_of(attributes, "value"), kind, text)
    if kind == "date":
        return _MIDNIGHT.sub("", _of(attributes, "date-value")).replace("T", " ") or text
    if kind == "boolean":
        return _of(attributes, "boolean-value") or text
    return text or _of(attributes, "string-value")


def _number(written: str, kind: str, text: str) -> str:
    try:
        value = float(written)
    except ValueError:
        return text
    if kind == "percentage":
        return f"{value * 100:.15g}%"
    return str(int(value)) if value.is_integer() and abs(value) < 1e15 else str(value)
