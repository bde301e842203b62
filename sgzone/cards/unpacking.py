"""What a workbook would unfold to, found without unfolding it.

A few kilobytes can hold gigabytes: packed zeros, one cell in the last corner of a sheet, one long
text used by every cell. The reader of workbooks trusts what it reads, so this looks first.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from xml.parsers import expat

from sgzone.cards.cells import fatal
from sgzone.cards.limits import MAX_CELLS, MAX_COLUMNS, MAX_UNPACKED, size
from sgzone.errors import DataError

CHUNK = 1 << 20
_LOCAL_HEADER = 30  # bytes before the name; lengths of name and extra field stand at 26 and 28
_PLAIN, _DEFLATED = 0, 8
_ENCRYPTED = 0x1
_REFERENCE = re.compile(r"([A-Z]{1,7})([0-9]{1,9})")
_LETTERS = 26


def refuse_bomb(path: Path) -> None:
    """Raise ``DataError`` where a workbook would unfold to more than the limits.

    Raises ``zipfile.BadZipFile``, ``OSError`` or ``ValueError`` where it is no workbook at all.
    """
    texts: list[int] = []
    used: Counter[int] = Counter()
    unpacked = 0
    with zipfile.ZipFile(path) as archive:
        for entry in archive.infolist():
            parts = _Parts(path.name, texts, used)
            for piece in _pieces(archive, entry):
                unpacked += len(piece)
                if unpacked > MAX_UNPACKED:
                    raise _too_much(path.name, f"more than {size(MAX_UNPACKED)} when unpacked")
                parts.feed(piece)
    length = len(texts)
    if sum(texts[i] * n for i, n in used.items() if i < length) > MAX_UNPACKED:
        raise _too_much(path.name, f"cells whose text is more than {size(MAX_UNPACKED)}")


def _too_much(file: str, what: str) -> DataError:
    return fatal(
        file,
        f"the workbook has {what}; no card has as much",
        "Copy the cells of the card into a new workbook, or save the card as CSV UTF-8.",
    )


def _pieces(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> Iterator[bytes]:
    """Yield what an entry unpacks to, to its true end: the size it states may be a lie."""
    if entry.flag_bits & _ENCRYPTED or entry.compress_type not in (_PLAIN, _DEFLATED):
        raise ValueError("it is encrypted or packed in an unusual way")
    file = archive.fp
    assert file is not None
    file.seek(entry.header_offset)
    head = file.read(_LOCAL_HEADER)
    file.seek(sum(int.from_bytes(head[at : at + 2], "little") for at in (26, 28)), 1)
    unpack = zlib.decompressobj(-zlib.MAX_WBITS) if entry.compress_type == _DEFLATED else None
    left = entry.compress_size
    while left > 0 and (packed := file.read(min(left, CHUNK))):
        left -= len(packed)
        while packed and unpack:
            try:
                yield unpack.decompress(packed, CHUNK)
            except zlib.error as wrong:
                raise ValueError(str(wrong)) from wrong
            packed = unpack.unconsumed_tail
        yield packed


class _Parts:
    """The cells and shared texts of one entry, counted as its XML comes in."""

    def __init__(self, file: str, texts: list[int], used: Counter[int]) -> None:
        self.file, self.texts, self.used = file, texts, used
        self.row = self.column = self.rows = self.columns = 0
        self.shared = self.in_value = self.in_text = False
        self.value = ""
        self.broken = self.is_xml = False
        self._tail = b""
        self._parser = expat.ParserCreate()
        self._parser.buffer_text = True
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._characters

    def feed(self, piece: bytes) -> None:
        """Take the next piece; raise ``ValueError`` for a sheet that is no XML."""
        if not self.broken:
            try:
                self._parser.Parse(piece, False)
                return
            except expat.ExpatError:
                self.broken = True  # a picture, say; only a sheet must be XML
        if b"sheetData" in self._tail + piece or self.rows:
            raise ValueError("a sheet of it is damaged")
        self._tail = piece[-16:]

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        name = name.rpartition(":")[2]
        if name == "c":
            self._cell(attributes)
        elif name == "row":
            number = attributes.get("r", "")
            self.row = int(number) if number.isdecimal() and len(number) < 10 else self.row + 1
            self.column = 0
        elif name in ("v", "is"):
            self.in_value, self.value = self.shared, ""
            self._filled()
        elif name == "si":
            self.texts.append(0)
            self.in_text = True

    def _cell(self, attributes: dict[str, str]) -> None:
        self.shared = attributes.get("t") == "s"
        place = _REFERENCE.fullmatch(attributes.get("r", "").upper())
        if place is None:
            self.column += 1
            return
        self.column, self.row = 0, int(place[2])
        for letter in place[1]:
            self.column = self.column * _LETTERS + ord(letter) - ord("A") + 1

    def _filled(self) -> None:
        self.rows, self.columns = max(self.rows, self.row), max(self.columns, self.column)
        if self.columns > MAX_COLUMNS:
            raise _too_much(self.file, f"a sheet of more than {MAX_COLUMNS} columns")
        if self.rows * self.columns > MAX_CELLS:
            raise _too_much(self.file, f"a sheet of more than {MAX_CELLS // 10**6} million cells")

    def _characters(self, text: str) -> None:
        if self.in_value:
            self.value += text
        elif self.in_text:
            self.texts[-1] += len(text)

    def _end(self, name: str) -> None:
        name = name.rpartition(":")[2]
        if name == "v" and self.in_value:
            self.in_value = False
            if self.value.strip().isdecimal() and len(self.value) < 10:
                self.used[int(self.value)] += 1
        elif name == "si":
            self.in_text = False
