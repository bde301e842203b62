"""The data dictionary: every column of the four tables, read from ``data/columns.csv``."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

from sgzone.errors import nearest as nearest
from sgzone.resources import data_path


class Spoken(NamedTuple):
    """Words of one language: ``en``, ``de``, ``fr``, ``es`` or ``sv``."""

    language: str
    words: str


@dataclass(frozen=True, slots=True)
class ColumnSpec:
    """One column of one table.

    ``kind`` is ``text``, ``date``, ``integer``, ``number``, ``distance``, ``word`` (one of
    ``words``) or ``words`` (the player's own words are kept). ``low`` and ``high`` are in the
    column's ``unit``; for text ``high`` is the greatest number of characters. ``headers``: what
    else the header may be, each with its language; ``synonyms``: what else a cell may hold, to the
    word it is read as, each with its language.
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
    headers: tuple[Spoken, ...] = ()
    synonyms: Mapping[Spoken, str] = field(default_factory=dict)


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
            words=tuple(_listed(row["words"])),
            default=row["default"],
            meaning=row["meaning"],
            headers=tuple(map(_spoken, _listed(row["headers"]))),
            synonyms={
                _spoken(said): word
                for word, _, said in (pair.partition("=") for pair in _listed(row["synonyms"]))
            },
        )
        for row in rows
    )


@cache
def names_of(table: str) -> tuple[str, ...]:
    """Return the column names of one table."""
    return tuple(column.name for column in columns_of(table))


@cache
def column_of(table: str, name: str) -> ColumnSpec:
    """Return one column of one table; ``KeyError`` where it has none of that name."""
    return {column.name: column for column in columns_of(table)}[name]


def _listed(cell: str) -> list[str]:
    return [word for word in cell.split("|") if word]


def _spoken(written: str) -> Spoken:
    language, _, words = written.partition(":")
    return Spoken(language, words)


def _number(cell: str) -> float | None:
    return float(cell) if cell else None
