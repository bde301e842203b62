"""The dictionary of answers: every column that is given out, read from ``data/answers.csv``.

Terminal, page, paper and the docs' dictionary of output columns are made from it; there is no
heading and no format anywhere else.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache

from sgzone.resources import data_path

SHORT, WIDE, DATA = "short", "wide", "data"
"""Where a column is shown: in every table, in whole tables, in csv and json alone."""
BY_ROW = "*"
"""Unit of a column whose rows each name their own in the column ``unit``."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of one answer.

    ``heading``: without the unit of a length, which follows the units asked for; blank on the high
    end of a range. ``unit``: ``yd``, ``ft``, ``BY_ROW`` or none. ``decimals``: None for text.
    ``share``: of 1, shown in percent, to the nearest so many (1 or 5); 0 for what is no share.
    ``sense``: ``gain`` (above 0 is good), ``signed`` or ``plain``. ``range_of``: the column whose
    range this is an end of; the low end stands first.
    """

    name: str
    heading: str
    unit: str
    decimals: int | None
    share: int
    shown: str
    sense: str
    range_of: str
    meaning: str

    @property
    def signed(self) -> bool:
        """Whether a plus is written before what is above 0."""
        return self.sense != "plain"

    @property
    def numeric(self) -> bool:
        """Whether it holds numbers."""
        return self.decimals is not None or self.unit == BY_ROW


@cache
def _all() -> dict[str, tuple[Column, ...]]:
    found: dict[str, list[Column]] = {}
    with data_path("answers.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            found.setdefault(row["answer"], []).append(
                Column(
                    name=row["column"],
                    heading=row["heading"],
                    unit=row["unit"],
                    decimals=int(row["decimals"]) if row["decimals"] else None,
                    share=int(row["share"] or 0),
                    shown=row["shown"],
                    sense=row["sense"],
                    range_of=row["range_of"],
                    meaning=row["meaning"],
                )
            )
    return {answer: tuple(columns) for answer, columns in found.items()}


def answers() -> tuple[str, ...]:
    """Return the names of all answers, in the dictionary's order."""
    return tuple(_all())


def columns_of(answer: str) -> tuple[Column, ...]:
    """Return the columns of an answer in the order they are shown; KeyError for an unknown one."""
    return _all()[answer]
