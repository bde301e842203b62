"""Old workbooks (.xls, of 1997 and later) to the tables on their sheets."""

from __future__ import annotations

import struct
from collections.abc import Callable, Sequence
from pathlib import Path

from sgzone.cards.book import FROM_1900, FROM_1904, how_shown
from sgzone.cards.given import Given
from sgzone.cards.grid import Cells, Grid, fatal
from sgzone.cards.limits import MAX_BYTES, MAX_CELLS, MAX_MERGES, MAX_TABLES
from sgzone.cards.rules import NO_RESULT
from sgzone.cards.sheet import Merge, fill_merged, number_text
from sgzone.cards.sheets.compound import stream_of
from sgzone.cards.sheets.records import CONTINUE, Pieces, Record, records
from sgzone.cards.sheets.rows import Budget, Rows
from sgzone.cards.unpacking import UNREADABLE
from sgzone.cards.workbook import Page, Taken, tables_of
from sgzone.inputs import read_bytes

_BOF, _EOF, _BIFF8 = 0x0809, 0x000A, 0x0600
_PASSWORD, _SHEET, _TEXTS, _FORMAT, _STYLE, _EPOCH = 0x002F, 0x0085, 0x00FC, 0x041E, 0x00E0, 0x0022
_TEXT_BY_NUMBER, _NUMBER, _SHORT, _SHORTS = 0x00FD, 0x0203, 0x027E, 0x00BD
_LABEL, _RICH_LABEL, _SIGN, _FORMULA, _RESULT = 0x0204, 0x00D6, 0x0205, 0x0006, 0x0207
_MERGED = 0x00E5
_NO_NUMBER = 0xFFFF  # in the last bytes of a formula's result: it is none
_ERRORS = {0: "#NULL!", 7: "#DIV/0!", 15: "#VALUE!", 23: "#REF!", 29: "#NAME?", 36: "#NUM!"}
_ERRORS[42] = "#N/A"


def read_xls(path: Path, given: Given) -> list[tuple[str, Cells]]:
    """Read every visible sheet of an old workbook that holds a table."""
    return with_pages(path, lambda pages: tables_of(path.name, pages, given))


def with_pages(path: Path, use: Callable[[Sequence[Page]], Taken]) -> Taken:
    """Return what is made of the filled sheets of an old workbook."""
    data = read_bytes(path, MAX_BYTES[".xls"], "a .xls file")
    try:
        book = _Book(path.name, stream_of(data, "Workbook", "Book"))
        return use(book.pages())
    except (*UNREADABLE, IndexError) as wrong:
        raise fatal(
            path.name,
            f"the workbook cannot be read ({str(wrong) or 'it is cut short'})",
            "Open it in a spreadsheet, take off any password, and save it as .xlsx.",
        ) from wrong


class _Book:
    """What an old workbook says of itself: its sheets, its texts, how its numbers are shown."""

    def __init__(self, file: str, stream: bytes) -> None:
        self.file, self.stream = file, stream
        self.budget = Budget(file, 4 * MAX_BYTES[".xls"])
        self.epoch = FROM_1900
        self.texts: list[str] = []
        self._left = len(stream) // 4  # records, each of four bytes or more
        self._codes: dict[int, str] = {}
        self._formats: list[int] = []
        self._sheets: list[tuple[str, bool, int]] = []
        takers: dict[int, Callable[[bytes], None]] = {
            **{_SHEET: self._sheet, _FORMAT: self._format, _STYLE: self._style},
            **{_EPOCH: self._start_of_days, _PASSWORD: _locked},
        }
        first, texts, pieces = True, False, list[bytes]()
        for record in records(stream):
            if first and (record.kind != _BOF or _short(record.data, 0) != _BIFF8):
                raise ValueError("it is older than 1997")
            first = False
            if record.kind == _EOF:
                break
            texts = record.kind == _TEXTS or (texts and record.kind == CONTINUE)
            if texts:
                pieces.append(record.data)
            elif record.kind in takers:
                takers[record.kind](record.data)
        if pieces:
            self._read_texts(pieces)

    def _start_of_days(self, data: bytes) -> None:
        self.epoch = FROM_1904 if _short(data, 0) else FROM_1900

    def _sheet(self, data: bytes) -> None:
        place, hidden, kind = struct.unpack_from("<IBB", data)
        if kind == 0:
            self._sheets.append((Pieces([data[6:]]).text(1), bool(hidden & 3), place))
        if len(self._sheets) > 10 * MAX_TABLES:
            raise ValueError("more sheets than any workbook has")

    def _format(self, data: bytes) -> None:
        self._codes[_short(data, 0)] = Pieces([data[2:]]).text()

    def _style(self, data: bytes) -> None:
        self._formats.append(_short(data, 2))

    def _read_texts(self, pieces: list[bytes]) -> None:
        left = Pieces(pieces)
        left.take(4)
        count = int.from_bytes(left.take(4), "little")
        if count > MAX_CELLS:
            raise ValueError("more texts than any workbook has")
        self.texts = [left.text() for _ in range(count)]

    def count_record(self) -> None:
        """Count a record of a sheet; ``ValueError`` where sheets share their records."""
        self._left -= 1
        if self._left < 0:
            raise ValueError("its sheets lie inside each other")

    def shown(self, style: int) -> str:
        """Return how a number of one style is shown."""
        known = style < len(self._formats)
        return how_shown(self._formats[style], self._codes) if known else ""

    def pages(self) -> list[Page]:
        """Return the sheets with anything in them."""
        if len({place for _, _, place in self._sheets}) < len(self._sheets):
            raise ValueError("two of its sheets are one and the same")
        found = []
        for name, hidden, place in self._sheets:
            cells = _SheetCells(self)
            cells.read(place)
            if cells.rows:
                found.append(Page(name, hidden, cells.page))
        return found


def _locked(_: bytes) -> None:
    raise ValueError("it has a password")


def _short(data: bytes, place: int) -> int:
    (number,) = struct.unpack_from("<H", data, place)
    return int(number)


class _SheetCells:
    """The cells of one sheet."""

    def __init__(self, book: _Book) -> None:
        self.rows = Rows(book.budget)
        self._book = book
        self._merges: list[Merge] = []
        self._awaiting: tuple[int, int] | None = None  # the cell of a formula whose text follows
        self._takers: dict[int, Callable[[bytes], None]] = {
            **{_TEXT_BY_NUMBER: self._text, _NUMBER: self._number, _SHORT: self._short_number},
            **{_SHORTS: self._short_numbers, _LABEL: self._label, _RICH_LABEL: self._label},
            **{_SIGN: self._sign, _FORMULA: self._formula, _RESULT: self._result},
            **{_MERGED: self._merged},
        }

    def read(self, place: int) -> None:
        """Read the records from the sheet's begin to its end; what stands within is a chart."""
        depth = 0
        for record in records(self._book.stream, place):
            self._book.count_record()
            depth += (record.kind == _BOF) - (record.kind == _EOF)
            if depth <= 0:
                return
            if depth == 1:
                self._take(record)

    def _take(self, record: Record) -> None:
        taker = self._takers.get(record.kind)
        if taker is not None:
            taker(record.data)

    def page(self) -> tuple[Grid, list[Merge]]:
        """Return the cells, and what is merged."""
        grid = self.rows.grid()
        return grid, fill_merged(grid, self._merges)

    def _put(self, data: bytes, text: str) -> None:
        row, column = struct.unpack_from("<HH", data)
        self.rows.put(row, column, text)

    def _value(self, style: int, value: float) -> str:
        return number_text(repr(value), self._book.shown(style), self._book.epoch)

    def _text(self, data: bytes) -> None:
        (number,) = struct.unpack_from("<I", data, 6)
        self._put(data, self._book.texts[number])

    def _number(self, data: bytes) -> None:
        (value,) = struct.unpack_from("<d", data, 6)
        self._put(data, self._value(_short(data, 4), value))

    def _short_number(self, data: bytes) -> None:
        self._put(data, self._value(_short(data, 4), _unpacked(data[6:10])))

    def _short_numbers(self, data: bytes) -> None:
        row, column = struct.unpack_from("<HH", data)
        for place in range(4, len(data) - 7, 6):
            text = self._value(_short(data, place), _unpacked(data[place + 2 : place + 6]))
            self.rows.put(row, column + (place - 4) // 6, text)

    def _label(self, data: bytes) -> None:
        self._put(data, Pieces([data[6:]]).text())

    def _sign(self, data: bytes) -> None:
        self._put(data, _ERRORS.get(data[6], "#ERROR!") if data[7] else _yes_no(data[6]))

    def _formula(self, data: bytes) -> None:
        kind, sign = data[6], data[8]
        self._awaiting = None
        if _short(data, 12) != _NO_NUMBER:
            self._number(data)
        elif kind == 0:
            row, column = struct.unpack_from("<HH", data)
            self._awaiting = (row, column)
        else:
            shown = {1: _yes_no(sign), 2: _ERRORS.get(sign, "#ERROR!"), 3: ""}
            self._put(data, shown.get(kind, NO_RESULT))

    def _result(self, data: bytes) -> None:
        if self._awaiting is not None:
            self.rows.put(*self._awaiting, Pieces([data]).text())
            self._awaiting = None

    def _merged(self, data: bytes) -> None:
        for place in range(2, len(data) - 7, 8):
            first, last, column = struct.unpack_from("<HHH", data, place)
            if len(self._merges) < MAX_MERGES:
                self._merges.append(Merge(column, first + 1, last + 1))


def _yes_no(value: int) -> str:
    return "true" if value else "false"


def _unpacked(data: bytes) -> float:
    """Return a number of four bytes: a whole one, or the front of a long one; maybe hundredths."""
    (packed,) = struct.unpack("<i", data)
    if packed & 2:
        value = float(packed >> 2)
    else:
        (value,) = struct.unpack("<d", b"\0\0\0\0" + struct.pack("<I", packed & 0xFFFFFFFC))
    return value / 100 if packed & 1 else value
