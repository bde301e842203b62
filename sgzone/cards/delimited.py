"""CSV and TSV files to cells of text."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from io import BytesIO, StringIO
from itertools import islice
from pathlib import Path

from sgzone.cards.grid import Cells, Grid, fatal, from_grid
from sgzone.cards.limits import MAX_BYTES, MAX_COLUMNS, MEGA, refuse_wide
from sgzone.cards.tables import TABLES, all_names
from sgzone.cards.tidy import read_tidy
from sgzone.cards.tolerant.header import LEAST, SEARCHED, heading
from sgzone.errors import Problem
from sgzone.inputs import any_text, read_bytes

DELIMITERS = (",", "\t", ";")
_BY_ENDING = {".csv": ",", ".tsv": "\t"}
_OTHER_LETTERS = re.compile(r"[^\W\x00-\x7f]?\w{0,20}[^\x00-\x7f]\w{0,20}")
_LOOKED_AT = 4 * MEGA  # bytes in which the header must begin and end
_SAYS_SEPARATOR = re.compile(r'"?sep=([,;\t|])"?')


def read_delimited(path: Path) -> Cells:
    """Read a CSV or TSV file in UTF-8, UTF-16 or Windows-1252; the latter two are noted.

    The separator is whichever of comma, tab and semicolon splits the header into the most known
    columns, or what a first line ``sep=;`` says. Raises ``DataError`` for another encoding, binary
    data, and quotes that never close.
    """
    ending = path.suffix.lower()
    data, encoding = any_text(path, read_bytes(path, MAX_BYTES[ending], f"a {ending} file"))
    delimiter, columns_there = _delimiter(data, _BY_ENDING[ending])
    refuse_wide(path.name, columns_there)
    commas = delimiter != ","
    notes = [encoded(path.name, encoding, data)] if encoding else []
    if tidy := read_tidy(data, delimiter):
        headers, columns = tidy
        rows = len(columns[0])
        broken = [False] * rows
        return Cells(headers, 1, columns, range(2, rows + 2), broken, notes, commas, True)
    grid, problems = csv_grid(path.name, data.decode(), delimiter)
    return from_grid(path.name, grid, [*notes, *problems], commas=commas, typed=True)


def encoded(file: str, encoding: str, data: bytes) -> Problem:
    """Return the note of another encoding, with a word to see whether it is the right one."""
    word = _OTHER_LETTERS.search(data[:_LOOKED_AT].decode(errors="ignore"))
    shown = word[0] if word else ""
    fix = "Nothing, if this looks right; else save the file as UTF-8."
    return Problem(file, None, "", shown, f"read as {encoding}", fix, "note")


def _delimiter(data: bytes, usual: str) -> tuple[str, int]:
    """Return the separator and how many cells it makes of the header, as far as one is seen."""
    heads = list(_first_lines(data))
    if heads and (said := _SAYS_SEPARATOR.fullmatch(heads[0].strip())):
        return said[1], max(line.count(said[1]) for line in heads) + 1

    if heads and (clear := _clear_delimiter(heads[0])):
        return clear, heads[0].count(clear) + 1

    def hits(delimiter: str) -> tuple[int, bool]:
        return max((_names_in(line, delimiter) for line in heads), default=0), delimiter == usual

    found = max(DELIMITERS, key=hits)
    head = max(heads, key=lambda line: _names_in(line, found), default="")
    return found, head.count(found) + 1


def _clear_delimiter(head: str) -> str | None:
    """Return what splits a first line into columns by their own names, None where nothing does."""
    known = all_names()
    for delimiter in DELIMITERS:
        names = {name.strip().strip('"').strip().lower() for name in head.split(delimiter)}
        if len(names & known) >= LEAST:
            return delimiter
    return None


def _first_lines(data: bytes) -> Iterator[str]:
    """Yield the first lines with anything in them."""
    start = data[:_LOOKED_AT].replace(b"\r", b"\n")
    lines = (line.decode(errors="ignore") for line in BytesIO(start))
    yield from islice(filter(str.strip, lines), SEARCHED)


def _names_in(line: str, delimiter: str) -> int:
    """Return how many cells of a line are known headers."""
    cells = [cell.strip().strip('"').strip() for cell in line.split(delimiter)[:MAX_COLUMNS]]
    kinds = (table.kind for table in TABLES)
    return max(sum(bool(heading(kind, cell).names) for cell in cells) for kind in kinds)


def csv_grid(file: str, text: str, delimiter: str) -> tuple[Grid, list[Problem]]:
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
