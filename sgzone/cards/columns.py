"""The data dictionary: every column of the four tables, read from ``data/columns.csv``."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache

from sgzone.errors import nearest as nearest
from sgzone.resources import data_path


@dataclass(frozen=True, slots=True)
class ColumnSpec:
    """One column of one table.

    ``kind`` is ``text``, ``date``, ``integer``, ``number``, ``distance``, ``word`` (one of
    ``words``) or ``words`` (the player's own words are kept). ``low`` and ``high`` are in the
    column's ``unit``; for text ``high`` is the greatest number of characters.
    """

    name: str
    needed: bool
    kind: str
    unit: str
    low: float | None
    high: float | None
    words: tuple[str, ...]
    default: str
    meaning: str


@cache
def columns_of(table: str) -> tuple[ColumnSpec, ...]:
    """Return the columns of ``shot``, ``log``, ``test`` or ``bag`` in the dictionary's order."""
    with data_path("columns.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["table"] == table]
    return tuple(
        ColumnSpec(
            name=row["column"],
            needed=row["needed"] == "yes",
            kind=row["kind"],
            unit=row["unit"],
            low=_number(row["low"]),
            high=_number(row["high"]),
            words=tuple(word for word in row["words"].split("|") if word),
            default=row["default"],
            meaning=row["meaning"],
        )
        for row in rows
    )


@cache
def names_of(table: str) -> tuple[str, ...]:
    """Return the column names of one table."""
    return tuple(column.name for column in columns_of(table))


def _number(cell: str) -> float | None:
    return float(cell) if cell else None
