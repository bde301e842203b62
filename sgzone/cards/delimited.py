"""CSV and TSV files to cells of text."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from pathlib import Path

from sgzone.cards.grid import Cells, Grid, fatal, from_grid
from sgzone.cards.limits import MAX_BYTES, refuse_wide
from sgzone.cards.tables import all_names
from sgzone.cards.tidy import read_tidy
from sgzone.errors import Problem
from sgzone.inputs import plain_utf8, read_bytes

DELIMITERS = (",", "\t", ";")
_BY_ENDING = {".csv": ",", ".tsv": "\t"}


def read_delimited(path: Path) -> Cells:
    """Read a CSV or TSV file in UTF-8, with or without a byte order mark.

    The separator is whichever of comma, tab and semicolon splits the header into the most known
    columns. Raises ``DataError`` for another encoding, binary data, and quotes that never close.
    """
    ending = path.suffix.lower()
    data = plain_utf8(path, read_bytes(path, MAX_BYTES[ending], f"a {ending} file"))
    delimiter, columns_there = _delimiter(data, _BY_ENDING[ending])
    refuse_wide(path.name, columns_there)
    if tidy := read_tidy(data, delimiter):
        headers, columns = tidy
        rows = len(columns[0])
        return Cells(headers, 1, columns, range(2, rows + 2), [False] * rows)
    return from_grid(path.name, *csv_grid(path.name, data.decode(), delimiter))


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
