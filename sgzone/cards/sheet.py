"""The cells of one sheet of a workbook, as the text a person would type for what is shown."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime, time, timedelta
from math import floor, isfinite
from typing import NamedTuple

from sgzone.cards.book import DATE, ELAPSED, FROM_1900, PERCENT, Book, Runs, Sheet, unescaped
from sgzone.cards.grid import Grid
from sgzone.cards.limits import (
    MAX_CELLS,
    MAX_COLUMNS,
    MAX_MERGES,
    MEGA,
    SHEET_COLUMNS,
    SHEET_ROWS,
    size,
)
from sgzone.cards.rules import NO_RESULT, SHEET_ERRORS
from sgzone.cards.unpacking import EnoughError, Package, too_much

_LETTERS = 26
_DIGITS = "0123456789"
_PLAIN_DIGITS = 15  # a whole number of so many is held exactly
_DAY = 86_400  # seconds
_LEAP_DAY = 60  # spreadsheets hold 1900 for a leap year: this is its 29 February
_MERGED = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6}):[A-Z]{1,3}([1-9]\d{0,6})", re.ASCII)
_UNKNOWN_ERROR = "#ERROR!"


class Merge(NamedTuple):
    """Cells of one column that are merged: the column (the first is 0), the first and last row."""

    column: int
    first: int
    last: int


def read_sheet(package: Package, book: Book, sheet: Sheet) -> tuple[Grid, list[Merge]]:
    """Return the cells of a sheet from A1 to the last filled row and column, and what is merged.

    Merged cells hold what the first of them holds.

    Raises ``DataError`` for more than the limits, ``ValueError`` for what no spreadsheet writes:
    a place beyond the sheet or a second cell in the same place, which would hide one of the two.
    """
    reader = _Cells(package, book)
    package.read(sheet.part, reader)
    blank = [""] * reader.width
    height = max(reader.rows, default=0)
    grid = [
        row + blank[len(row) :] for row in (reader.rows.get(n, []) for n in range(1, height + 1))
    ]
    return grid, fill_merged(grid, reader.merges)


def fill_merged(grid: Grid, merges: Iterable[Merge]) -> list[Merge]:
    """Write into merged cells what the first of them holds; return the merges that were filled."""
    filled: list[Merge] = []
    last_of: dict[int, int] = {}
    for column, first, last in sorted(merges):
        end = min(last, len(grid))
        if first > end or column >= len(grid[first - 1]) or first <= last_of.get(column, 0):
            continue
        last_of[column] = end
        text = grid[first - 1][column]
        if text and end > first:
            for row in grid[first:end]:
                row[column] = row[column] or text
            filled.append(Merge(column, first, end))
    return filled


def is_filled(package: Package, book: Book, sheet: Sheet) -> bool:
    """Return whether a sheet has any text in it; no more of it is read than to the first."""
    reader = _Cells(package, book, first=True)
    package.read(sheet.part, reader)
    return bool(reader.rows)


class _Columns(dict[str, int]):
    """The letters of columns to their numbers."""

    def __missing__(self, letters: str) -> int:
        number = 0
        for letter in letters:
            if not "A" <= letter <= "Z" or number > SHEET_COLUMNS:
                break
            number = number * _LETTERS + ord(letter) - ord("A") + 1
        else:
            if 0 < number <= SHEET_COLUMNS:
                self[letters] = number
                return number
        raise ValueError(f"a cell in a column {letters[:9]!r} that no sheet has")


class _Cells(Runs):
    """The filled cells of a sheet: ``rows`` by their number, as wide as their last filled cell."""

    def __init__(self, package: Package, book: Book, *, first: bool = False) -> None:
        super().__init__()
        self.file, self.most, self.book, self.first = package.file, package.most, book, first
        self.rows: dict[int, list[str]] = {}
        self.width = self.height = 0
        self._columns = _Columns()
        self._row = self._column = self._seen = self._length = 0
        self._digits = ""
        self._attributes: dict[str, str] = {}
        self._formula = False
        self.merges: list[Merge] = []
        self.starts |= {
            **{"c": self._start_cell, "row": self._start_row},
            **{"v": self._start_value, "f": self._start_formula, "mergeCell": self._merge},
        }
        self.ends |= {"v": self._stop, "c": self._end_cell}

    def _start_value(self, _: object) -> None:
        self._taking = self._inside

    def _start_formula(self, _: object) -> None:
        self._formula = True

    def _merge(self, attributes: dict[str, str]) -> None:
        place = _MERGED.fullmatch(attributes.get("ref", ""))
        if place and len(self.merges) < MAX_MERGES:
            column = self._columns[place[1]] - 1
            self.merges.append(Merge(column, int(place[2]), int(place[3])))

    def _start_row(self, attributes: dict[str, str]) -> None:
        digits = attributes.get("r", "")
        if digits:
            if not digits.isdecimal() or not digits.isascii() or len(digits) > len("1048576"):
                raise ValueError(f"a row numbered {digits[:20]!r}")
            self._row = int(digits)
        else:
            self._row += 1
        if not 1 <= self._row <= SHEET_ROWS:
            raise ValueError(f"a row numbered {self._row}: no sheet has so many")
        self._digits, self._column = str(self._row), 0

    def _start_cell(self, attributes: dict[str, str]) -> None:
        self._seen += 1
        if self._seen > MAX_CELLS:
            raise too_much(self.file, f"a sheet of more than {MAX_CELLS // MEGA} million cells")
        place = attributes.get("r")
        if place is None:
            self._column += 1
        else:
            letters = place.rstrip(_DIGITS)
            self._column = self._columns[letters]
            if place[len(letters) :] != self._digits:
                raise ValueError(f"a cell named {place[:20]!r} in row {self._digits or 'none'}")
        self._attributes = attributes
        if self._pieces:
            self._pieces = []
        self._inside, self._formula = True, False

    def _end_cell(self) -> None:
        self._leave()
        if self._pieces or self._formula or self._attributes.get("t") == "e":
            text = self._text("".join(self._pieces))
            if text and not text.isspace():
                self._keep(text)

    def _keep(self, text: str) -> None:
        if self.first:
            self.rows[self._row] = [text]
            raise EnoughError
        row, column = self.rows.setdefault(self._row, []), self._column
        if column > self.width or self._row > self.height:
            self._grow(column)
        if column > len(row):
            row.extend([""] * (column - len(row) - 1))
            row.append(text)
        elif row[column - 1]:
            raise ValueError(f"two cells are in the same place of row {self._row}")
        else:
            row[column - 1] = text
        self._length += len(text)
        if self._length > self.most:
            raise too_much(self.file, f"cells whose text is more than {size(self.most)}")

    def _grow(self, column: int) -> None:
        self.width, self.height = max(self.width, column), max(self.height, self._row)
        if self.width > MAX_COLUMNS:
            raise too_much(self.file, f"a sheet of more than {MAX_COLUMNS} columns")
        if self.width * self.height > MAX_CELLS:
            raise too_much(self.file, f"a sheet of more than {MAX_CELLS // MEGA} million cells")

    def _text(self, value: str) -> str:
        """Return the text of the cell, given what is stored for it."""
        kind = self._attributes.get("t", "n")
        if kind == "s" and value:
            return self._shared(value)
        if self._formula and not value and kind != "str":
            return NO_RESULT
        if kind == "e":
            return value if value in SHEET_ERRORS else _UNKNOWN_ERROR
        if kind == "b":
            return {"0": "false", "1": "true"}.get(value, value)
        if kind == "n":
            return number_text(value, self._shown(), self.book.epoch) if value else ""
        return unescaped(value)

    def _shared(self, value: str) -> str:
        number = value.strip()
        if number.isdecimal() and len(number) < 10 and int(number) < len(self.book.texts):
            return self.book.texts[int(number)]
        raise ValueError("a cell names a text that is not there")

    def _shown(self) -> str:
        style, shown = self._attributes.get("s", ""), self.book.shown
        known = style.isdecimal() and len(style) < 10 and int(style) < len(shown)
        return shown[int(style)] if known else ""


def number_text(written: str, shown: str, epoch: datetime) -> str:
    """Return a stored number as it is shown; as it is written where it is none.

    The rules of the columns then say what is wrong with it.
    """
    if not shown and len(written) <= _PLAIN_DIGITS and written.isdecimal() and written[0] != "0":
        return written
    if not written.isascii() or "_" in written:
        return written
    try:
        value = float(written)
        if not isfinite(value):
            return written
        if shown == DATE:
            return _day(value, epoch)
        if shown == ELAPSED:
            return _hours(value)
    except (ArithmeticError, ValueError):
        return written
    if shown == PERCENT:
        return f"{value * 100:.15g}%"
    return str(int(value)) if value.is_integer() else str(value)


def _day(value: float, epoch: datetime) -> str:
    days = floor(value)
    moment = epoch + timedelta(days=days, seconds=round((value - days) * _DAY))
    if 0 <= value < 1:  # no day: a time alone
        return moment.time().isoformat()
    if epoch == FROM_1900 and 0 < days < _LEAP_DAY:
        moment += timedelta(days=1)
    return moment.isoformat(sep=" ") if moment.time() != time() else moment.date().isoformat()


def _hours(value: float) -> str:
    seconds = round(timedelta(days=value).total_seconds())
    sign, seconds = "-" if seconds < 0 else "", abs(seconds)
    return f"{sign}{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
