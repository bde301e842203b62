"""CSV and TSV files to cells of text."""

from __future__ import annotations

import codecs
import csv
from io import BytesIO, StringIO
from pathlib import Path

from sgzone.cards.cells import Cells, Grid, fatal, from_grid
from sgzone.cards.columns import all_names
from sgzone.cards.limits import refuse_wide
from sgzone.cards.tidy import read_tidy
from sgzone.errors import Problem

DELIMITERS = (",", "\t", ";")
_BY_ENDING = {".csv": ",", ".tsv": "\t"}
_UTF8_FIX = "Save the file again as CSV UTF-8."
_SIGNATURES = {
    b"PK\x03\x04": "a workbook or an archive",
    b"PAR1": "a Parquet file",
    b"%PDF": "a PDF",
    b"\xd0\xcf\x11\xe0": "an old Excel workbook",
}


def read_delimited(path: Path) -> Cells:
    """Read a CSV or TSV file in UTF-8, with or without a byte order mark.

    The separator is whichever of comma, tab and semicolon splits the header into the most known
    columns. Raises ``DataError`` for another encoding, binary data, and quotes that never close.
    """
    data = _utf8(path.name, path.read_bytes())
    delimiter, columns_there = _delimiter(data, _BY_ENDING[path.suffix.lower()])
    refuse_wide(path.name, columns_there)
    if tidy := read_tidy(data, delimiter):
        headers, columns = tidy
        rows = len(columns[0])
        return Cells(headers, 1, columns, range(2, rows + 2), [False] * rows)
    return from_grid(path.name, *_grid(path.name, data.decode(), delimiter))


def _utf8(file: str, data: bytes) -> bytes:
    """Return the bytes of a text file without its byte order mark."""
    for signature, what in _SIGNATURES.items():
        if data.startswith(signature):
            raise fatal(
                file,
                f"this is {what}, not text",
                "Give the file its own ending (.xlsx, .parquet), or save it as CSV UTF-8.",
            )
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or _looks_like_utf16(data):
        raise fatal(file, "the file is encoded in UTF-16", _UTF8_FIX, value="UTF-16")
    if b"\x00" in data:
        raise fatal(
            file, "the file holds binary data, not text", "Save the card as CSV UTF-8 or .xlsx."
        )
    try:
        if not data.isascii():
            data.decode()
    except UnicodeDecodeError as wrong:
        before = data[: wrong.start]
        raise fatal(
            file,
            "the file is not UTF-8, it looks like Latin-1 (Windows-1252)",
            _UTF8_FIX,
            row=before.count(b"\n") + 1,
            value=f"byte {data[wrong.start]:#04x}",
        ) from wrong
    return data.removeprefix(codecs.BOM_UTF8)


def _looks_like_utf16(data: bytes) -> bool:
    head = data[:400]
    odd, even = head[1::2], head[0::2]
    return len(head) > 3 and max(odd.count(0) / len(odd), even.count(0) / len(even)) > 0.5


def _delimiter(data: bytes, usual: str) -> tuple[str, int]:
    """Return the separator and how many cells it makes of the header."""
    lines = (line.decode() for line in BytesIO(data))
    head = next((line for line in lines if line.strip()), "")
    known = all_names()

    def hits(delimiter: str) -> tuple[int, bool]:
        names = {name.strip().strip('"').strip().lower() for name in head.split(delimiter)}
        return len(names & known), delimiter == usual

    found = max(DELIMITERS, key=hits)
    return found, head.count(found) + 1


def _grid(file: str, text: str, delimiter: str) -> tuple[Grid, list[Problem]]:
    """Return the records; one record is one row of a spreadsheet, whatever lines it spans."""
    grid: Grid = []
    problems: list[Problem] = []
    try:
        # extend() keeps what came before the error, so that its row is known
        grid.extend(csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error as wrong:
        if "field limit" in str(wrong):
            raise fatal(
                file,
                f"a cell has more than {csv.field_size_limit()} characters",
                "Shorten it; look for quotes that open there and never close.",
                row=len(grid) + 1,
            ) from wrong
        problems.append(
            Problem(
                file,
                len(grid) + 1,
                "",
                "",
                "the quotes in this row do not match; what follows cannot be read",
                'Close the quotes; a quote inside quotes is written twice ("7\'10""").',
            )
        )
    return grid, problems
