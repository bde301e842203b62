"""An empty card to type into: the usual columns or all, and an example that loads as nothing."""

from __future__ import annotations

import csv
from io import StringIO
from pathlib import Path

from sgzone.cards.blank_book import blank_book
from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.cards.example import HOLE
from sgzone.cards.text.example import EXAMPLE
from sgzone.errors import CallError, did_you_mean
from sgzone.writing import Output

ENDINGS = (".csv", ".xlsx", ".txt")
USUAL = (
    *("player", "date", "hole", "shot", "lie", "distance", "penalty", "result", "club", "swing"),
    *("measured", "depth_ft", "side_ft", "wind", "note"),
)
"""What is worth most to write down; the others cost nothing where they are left out."""


def write_template(path: str | Path, *, every: bool = False) -> Path:
    """Write an empty card (.csv or .xlsx) of the usual columns, or of all; return its path.

    For .txt an example of a text card, which has no columns.

    Raises ``CallError`` for another ending, ``DataError`` where the file exists or cannot be
    written.
    """
    target = Path(path)
    if target.suffix.lower() not in ENDINGS:
        raise CallError(
            f"An empty card ends in {', '.join(ENDINGS)}, one to print in .pdf, not "
            f'"{target.suffix}".{did_you_mean(target.suffix, ENDINGS)} Name it card.xlsx, for one.'
        )
    output = Output(target, None).check()
    if target.suffix.lower() == ".txt":
        output.write(EXAMPLE)
        return target
    columns = [column for column in columns_of("shot") if every or column.name in USUAL]
    output.write(_csv(columns) if target.suffix.lower() == ".csv" else blank_book(columns))
    return target


def _csv(columns: list[ColumnSpec]) -> str:
    text = StringIO()
    rows = [[row.get(column.name, "") for column in columns] for row in HOLE]
    csv.writer(text, lineterminator="\n").writerows([[c.name for c in columns], *rows])
    return text.getvalue()
