"""The parts of a workbook, unpacked and read piece by piece, never more than a card can need.

A few kilobytes can hold gigabytes, nest without end or name things without number. What is
measured here is what is read: there is no second reader that could see something else.
"""

from __future__ import annotations

import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Protocol
from xml.parsers import expat

from sgzone.cards.grid import fatal
from sgzone.cards.limits import (
    MAX_BOOK_RATIO,
    MAX_PARTS,
    MAX_UNPACKED,
    SMALL_BOOK,
    size,
)
from sgzone.errors import DataError

CHUNK = 1 << 20
MAX_TAG = 4 * CHUNK  # bytes of one tag or comment: it is kept whole until it ends
MAX_NAMES = 10_000  # different names of elements and attributes: each is kept to the end
MAX_DEPTH = 100  # elements within elements
UNREADABLE = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    OSError,
    OverflowError,
    NotImplementedError,
    ValueError,
)
"""What the standard library raises for an archive that is none, or damaged."""
_ENTRY = b"PK\x01\x02"  # begins each entry of an archive's list
_ENCRYPTED = 0x1


class Reader(Protocol):
    """What is told of the elements of one part as they come.

    ``starts`` and ``ends``: what takes the start (with its attributes) and the end of an element,
    by its name without a prefix. ``text`` takes the text between, maybe not all at once.
    """

    @property
    def starts(self) -> Mapping[str, Callable[[dict[str, str]], None]]:
        """What takes starts."""

    @property
    def ends(self) -> Mapping[str, Callable[[], None]]:
        """What takes ends."""

    def text(self, text: str) -> None:
        """Take text."""


class EnoughError(Exception):
    """A reader has seen all it wants of a part."""


class Package:
    """An open workbook: its parts by name.

    ``most``: how many bytes what is read of it may unpack to, and the text of a sheet's cells.
    """

    def __init__(self, path: Path) -> None:
        """Raise ``DataError`` for too many parts, one of ``UNREADABLE`` where it is no archive."""
        self.file = path.name
        _refuse_many_parts(path)
        self.most = min(MAX_UNPACKED, max(SMALL_BOOK, MAX_BOOK_RATIO * path.stat().st_size))
        self._left = self.most
        self._archive = zipfile.ZipFile(path)
        self._parts: dict[str, zipfile.ZipInfo] = {}
        for entry in self._archive.infolist():
            name = _plain(entry.filename)
            if name in self._parts:
                raise ValueError(f"its part {name[:80]} is there twice")
            self._parts[name] = entry

    def __enter__(self) -> Package:
        return self

    def __exit__(self, *_: object) -> None:
        self._archive.close()

    def __contains__(self, part: str) -> bool:
        return _plain(part) in self._parts

    def read(self, part: str, reader: Reader) -> None:
        """Read a part of XML.

        Raises ``DataError`` for more than the limits, ``ValueError`` for what is no sound XML.
        """
        name = _plain(part)
        if name not in self._parts:
            raise ValueError(f"its part {name[:80]} is missing")
        parser = _parser(reader)
        fed = 0
        try:
            for piece in self._pieces(self._parts[name]):
                fed += len(piece)
                parser.Parse(piece, False)
                if fed - parser.CurrentByteIndex > MAX_TAG or len(parser.intern) > MAX_NAMES:
                    raise ValueError("a tag without end, or names without number")
            parser.Parse(b"", True)
        except EnoughError:
            return
        except (expat.ExpatError, LookupError, ValueError) as wrong:
            raise ValueError(f"its part {name[:80]} is damaged: {wrong}") from wrong

    def _pieces(self, entry: zipfile.ZipInfo) -> Iterator[bytes]:
        if entry.flag_bits & _ENCRYPTED or entry.compress_type not in (
            zipfile.ZIP_STORED,
            zipfile.ZIP_DEFLATED,
        ):
            raise ValueError("it is encrypted or packed in an unusual way")
        with self._archive.open(entry) as packed:
            while piece := packed.read(CHUNK):
                self._left -= len(piece)
                if self._left < 0:
                    raise too_much(self.file, f"more than {size(self.most)} when unpacked")
                yield piece


def too_much(file: str, what: str) -> DataError:
    """Return the error of a workbook that holds more than a card can."""
    return fatal(
        file,
        f"the workbook has {what}; no card has as much",
        "Copy the cells of the card into a new workbook, or save the card as CSV UTF-8.",
    )


def _plain(part: str) -> str:
    """Return the name of a part as it is compared; some programs write backslashes."""
    return part.replace("\\", "/").lstrip("/").lower()


def _refuse_many_parts(path: Path) -> None:
    """Raise ``DataError`` before a list of a million parts is read."""
    there, tail = 0, b""
    with path.open("rb") as file:
        while piece := file.read(CHUNK):
            there += (tail + piece).count(_ENTRY)
            tail = piece[-len(_ENTRY) + 1 :]
    if there > MAX_PARTS:
        raise too_much(path.name, f"more than {MAX_PARTS} parts")


class _Taken(dict[str, Callable[..., None] | None]):
    """What takes an element of each name, without its prefix, in the part; None: nothing does."""

    def __init__(self, takers: Mapping[str, Callable[..., None]]) -> None:
        super().__init__()
        self._takers = takers

    def __missing__(self, name: str) -> Callable[..., None] | None:
        self[name] = taker = self._takers.get(name.rpartition(":")[2])
        return taker


def _parser(reader: Reader) -> expat.XMLParserType:
    starts, ends = _Taken(reader.starts), _Taken(reader.ends)
    depth = 0

    def start(name: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > MAX_DEPTH:
            raise ValueError(f"elements nested more than {MAX_DEPTH} deep")
        if (take := starts[name]) is not None:
            take(attributes)

    def end(name: str) -> None:
        nonlocal depth
        depth -= 1
        if (take := ends[name]) is not None:
            take()

    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = reader.text
    parser.StartDoctypeDeclHandler = _refuse_doctype
    return parser


def _refuse_doctype(*_: object) -> None:
    """Refuse what no spreadsheet writes: entities in it can multiply."""
    raise ValueError("a document type is declared")
