"""The rows of a file as they stand in it, before anything is known of its headers."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from sgzone.cards import workbook
from sgzone.cards.delimited import csv_grid, encoded
from sgzone.cards.given import MAPPING
from sgzone.cards.grid import Grid, fatal
from sgzone.cards.limits import MAX_BYTES
from sgzone.cards.sheets import ods, xls
from sgzone.errors import Problem
from sgzone.inputs import any_text, read_bytes, refuse_no_text

ENCODINGS = {
    "utf-8": "utf-8-sig",
    "utf-16": "utf-16",
    "cp1252": "cp1252",
    "iso-8859-15": "iso-8859-15",
    "mac-roman": "mac-roman",
}
"""How a mapping names an encoding -> Python's name; a mark at the start is none of the text."""
FALLBACK = "cp1252"
"""What text is taken for that is nothing else."""
_NAMED = {"": "utf-8", "UTF-16": "utf-16", "Windows-1252": FALLBACK}
SEPARATORS = (",", ";", "\t", "|")
DELIMITED = (".csv", ".tsv")
BOOKS = {".xlsx": workbook.with_pages, ".ods": ods.with_pages, ".xls": xls.with_pages}
MAPPED = (*DELIMITED, *BOOKS)
"""The endings of files that a mapping can be for."""
_LOOKED_AT = 60  # lines, to find the separator by


@dataclass(frozen=True, slots=True)
class Raw:
    """All rows of a file (the first is row 1), and the problems seen while they were read.

    ``stored``: a workbook's, whose numbers and days are no text of a person. ``encoding``,
    ``separator``: of a file of text, None of a workbook.
    """

    grid: Grid
    problems: list[Problem]
    stored: bool
    encoding: str | None = None
    separator: str | None = None


def read_raw(
    path: Path,
    *,
    encoding: str | None = None,
    separator: str | None = None,
    sheet: str | None = None,
) -> Raw:
    """Read the rows of a file of text or of a workbook's first sheet with data, or of ``sheet``.

    What is not said is found out. Raises ``DataError`` for what cannot be read, ``UnreadError``
    for what may not be.
    """
    ending = path.suffix.lower()
    if ending in BOOKS:
        rows = BOOKS[ending](path, lambda pages: workbook.first_rows(path.name, pages, sheet))
        return Raw(rows, [], stored=True)
    if ending not in DELIMITED:
        raise fatal(
            path.name,
            f'a mapping is for tables ({", ".join(MAPPED)}), not for files ending in "{ending}"',
            "Other files are read as they are, without one.",
            value=ending,
        )
    held = read_bytes(path, MAX_BYTES[ending], f"a {ending} file")
    problems: list[Problem] = []
    if encoding is None:
        data, other = any_text(path, held)
        text, encoding = data.decode(), _NAMED[other]
        problems += [encoded(path.name, other, data)] if other else []
    else:
        refuse_no_text(path, held)
        text = _text(path, held, encoding)
    separator = separator or separator_of(text)
    grid, faults = csv_grid(path.name, text, separator)
    return Raw(grid, [*problems, *faults], False, encoding, separator)


def separator_of(text: str) -> str:
    """Return what splits most lines into the same number of cells, and the more cells the better.

    >>> separator_of("Runde vom 5. Mai, Heimplatz\\nLoch;Lage;Meter\\n1;Bahn;87,5\\n1;Grün;4,1")
    ';'
    """
    lines = [line for line in text[: 1 << 16].splitlines()[:_LOOKED_AT] if line.strip()]

    def splits(separator: str) -> int:
        counts = Counter(n for line in lines if (n := line.count(separator)))
        return max((cells * times for cells, times in counts.items()), default=0)

    return max(SEPARATORS, key=splits)


def _text(path: Path, data: bytes, encoding: str) -> str:
    try:
        return data.decode(ENCODINGS[encoding])
    except UnicodeError as wrong:
        start = wrong.start if isinstance(wrong, UnicodeDecodeError) else 0
        raise fatal(
            path.name,
            f"the file is not {encoding}, as its mapping says",
            f"Write another encoding there: {', '.join(ENCODINGS)}.",
            row=data[:start].count(b"\n") + 1,
            value=f"byte {data[start]:#04x}" if start < len(data) else "",
        ) from wrong


def beside(path: Path) -> Path:
    """Return the name of the mapping of a file.

    >>> beside(Path("rounds/may.csv")).name
    'may.csv.map.toml'
    """
    return path.with_name(path.name + MAPPING)
