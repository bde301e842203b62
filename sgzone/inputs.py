"""Files of a user opened for reading: plain files alone, up to a size, never waited for.

A pipe would be waited for without end and a device read without end, so neither is opened. Between
a look at a name and its opening somebody can put another file there: what counts is what was
opened, so that is looked at too, and opening does not wait.
"""

from __future__ import annotations

import codecs
import os
import re
import stat
import sys
from io import BufferedReader
from pathlib import Path

from sgzone.errors import CallError, DataError
from sgzone.harmless import named, one_line

MEGA, GIGA = 1_000_000, 1_000_000_000
_AT_ONCE = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0) | getattr(os, "O_BINARY", 0)
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_SIGNATURES = {
    b"PK\x03\x04": "a workbook or an archive",
    b"PAR1": "a Parquet file",
    b"%PDF": "a PDF",
    b"\xd0\xcf\x11\xe0": "an old Excel workbook",
}
_SOUND_UTF8 = re.compile(rb"[\xc3-\xf4][\x80-\xbf]")  # two or more bytes of one letter
STANDARD_INPUT = "standard input"
"""What it is called in messages, and the stem of the file that it is kept in meanwhile."""
_UTF8_FIX = "Save the file again as UTF-8."


class UnreadError(DataError):
    """A file that is not read: ``wrong`` and ``fix`` are sentences without its name.

    ``row``, ``value``: where in it and what stands there, for a text in another encoding.
    """

    def __init__(
        self, path: Path, wrong: str, fix: str, *, row: int | None = None, value: str = ""
    ) -> None:
        super().__init__(f"{named(path.name or path)}: {wrong}. {fix}")
        self.wrong, self.fix, self.row, self.value = wrong, fix, row, value


def size(number: int) -> str:
    """Return a number of bytes in words.

    >>> size(64_000_000)
    '64 MB'
    """
    return f"{number // GIGA} GB" if number >= GIGA else f"{number // MEGA} MB"


def refuse_no_name(name: str | Path) -> None:
    """Raise ``CallError`` for a name that no file can have: NUL in it, or half a character."""
    try:
        there = os.fsencode(name)
    except UnicodeEncodeError:
        there = b"\0"
    if b"\0" in there:
        raise CallError(
            f'"{one_line(str(name))}": no file can be called that. Name it by letters, digits and '
            "plain signs."
        )


def opened(
    path: Path, most: int | None = None, what: str = "such a file", *, links: bool = True
) -> BufferedReader:
    """Return a plain file of at most ``most`` bytes, open for reading.

    ``what`` may have so many, as the message says it. ``links`` false refuses a link. Raises
    ``UnreadError`` for a folder, a device, a pipe, a socket, a file too large or that may not be
    read.
    """
    try:
        _refuse(path, path.stat(follow_symlinks=links), most, what)
        number = os.open(path, os.O_RDONLY | _AT_ONCE | (0 if links else _NO_LINK))
        file = os.fdopen(number, "rb")
        try:
            _refuse(path, os.fstat(number), most, what)
        except BaseException:
            file.close()
            raise
    except FileNotFoundError as wrong:
        fix = f"Check the name; looked for {named(path)}."
        raise UnreadError(path, "there is no such file", fix) from wrong
    except OSError as wrong:
        raise _unopened(path, wrong) from wrong
    except ValueError as wrong:  # NUL, or half a character: refused before any system is asked
        fix = "Check the name: it holds a character that no name of a file can have."
        raise UnreadError(path, "no file can be called that", fix) from wrong
    return file


def _unopened(path: Path, wrong: OSError) -> UnreadError:
    why = f"the file cannot be opened ({wrong.strerror or wrong})"
    return UnreadError(path, why, "Check its name and its permissions.")


def _refuse(path: Path, state: os.stat_result, most: int | None, what: str) -> None:
    if stat.S_ISDIR(state.st_mode):
        raise UnreadError(path, "this is a folder, not a file", "Name the file itself.")
    if not stat.S_ISREG(state.st_mode):
        wrong = "this is a device or a pipe, not a file"
        raise UnreadError(path, wrong, "Save it as a file.")
    if most is not None and state.st_size > most:
        there = size(state.st_size)
        there = f"{state.st_size} bytes" if there == size(most) else there
        wrong = f"the file has {there}; {what} may have {size(most)}"
        raise UnreadError(path, wrong, "Keep what belongs in it alone, or split it.")


def read_bytes(path: Path, most: int | None = None, what: str = "such a file") -> bytes:
    """Return all of a plain file; one that grows meanwhile is refused. Errors as ``opened``.

    Some files that the system makes up say that they are empty and never end: they are empty here.
    """
    with opened(path, most, what) as file:
        there = os.fstat(file.fileno()).st_size
        try:
            held = (file.read(there + 1) or b"") if there else b""
        except OSError as wrong:
            raise _unopened(path, wrong) from wrong
    if len(held) > there:
        fix = "Wait until the other program has written it."
        raise UnreadError(path, "the file grew while it was read", fix)
    return held


def read_standard_input(most: int) -> bytes:
    """Return all that is piped or typed in, at most ``most`` bytes.

    Raises ``UnreadError`` where there is more, or nothing that could be read.
    """
    path = Path(STANDARD_INPUT)
    try:
        held = sys.stdin.buffer.read(most + 1)
    except (OSError, ValueError, AttributeError) as wrong:  # closed, or none at all
        fix = "Pipe a card into it, or name a file."
        raise UnreadError(path, "it cannot be read", fix) from wrong
    if len(held) > most:
        raise UnreadError(path, f"over {size(most)} came in", "Save it as a file, and load that.")
    return held


def file_name(path: str | Path) -> str:
    """Return what a file is called in a message; the folder one stands in (``.``) has no name."""
    where = Path(path)
    return STANDARD_INPUT if where.stem == STANDARD_INPUT else one_line(where.name or str(path))


def read_text(path: Path, most: int | None = None, what: str = "such a file") -> str:
    """Return all of a plain text file in UTF-8, with or without a byte order mark.

    Errors as ``read_bytes`` and ``plain_utf8``.
    """
    return plain_utf8(path, read_bytes(path, most, what)).decode()


def any_text(path: Path, data: bytes) -> tuple[bytes, str]:
    """Return a text file as UTF-8 without byte order mark, and its encoding where that is another.

    UTF-16 and Windows-1252 are read too. Raises ``UnreadError`` for what is no text, and where
    UTF-8 and another encoding are mixed.
    """
    refuse_no_text(path, data)
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or _looks_like_utf16(data):
        return _from_utf16(path, data), "UTF-16"
    try:
        return plain_utf8(path, data), ""
    except UnreadError as wrong:
        if b"\x00" in data or _SOUND_UTF8.search(data):
            raise
        try:
            return data.decode("cp1252").encode(), "Windows-1252"
        except UnicodeDecodeError:
            raise wrong from None


def _from_utf16(path: Path, data: bytes) -> bytes:
    order = "utf-16"
    if not data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        order = "utf-16-le" if data[1:400:2].count(0) > data[0:400:2].count(0) else "utf-16-be"
    try:
        text = data.decode(order)
    except UnicodeDecodeError as wrong:
        raise UnreadError(path, "the file is UTF-16 and damaged", _UTF8_FIX) from wrong
    if "\x00" in text:
        raise UnreadError(path, "the file holds binary data, not text", _UTF8_FIX)
    return text.encode("utf-8", "replace")


def refuse_no_text(path: Path, data: bytes) -> None:
    """Raise ``UnreadError`` for the bytes of a file that begins as no text does."""
    for signature, what in _SIGNATURES.items():
        if data.startswith(signature):
            fix = "Give the file its own ending (.xlsx, .parquet), or save it as text in UTF-8."
            raise UnreadError(path, f"this is {what}, not text", fix)


def plain_utf8(path: Path, data: bytes) -> bytes:
    """Return the bytes of a text file without its byte order mark.

    Raises ``UnreadError`` for another encoding and for what is no text.
    """
    refuse_no_text(path, data)
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or _looks_like_utf16(data):
        raise UnreadError(path, "the file is encoded in UTF-16", _UTF8_FIX, value="UTF-16")
    if b"\x00" in data:
        raise UnreadError(path, "the file holds binary data, not text", _UTF8_FIX)
    try:
        if not data.isascii():
            data.decode()
    except UnicodeDecodeError as wrong:
        raise UnreadError(
            path,
            "the file is not UTF-8, it looks like Latin-1 (Windows-1252)",
            _UTF8_FIX,
            row=data[: wrong.start].count(b"\n") + 1,
            value=f"byte {data[wrong.start]:#04x}",
        ) from wrong
    return data.removeprefix(codecs.BOM_UTF8)


def _looks_like_utf16(data: bytes) -> bool:
    head = data[:400]
    odd, even = head[1::2], head[0::2]
    return len(head) > 3 and max(odd.count(0) / len(odd), even.count(0) / len(even)) > 0.5
