"""The published figures and where they come from: the one way from ``data/published`` to code."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import pandas as pd

from sgzone.resources import data_path

FIGURE_COLUMNS = [
    *("file", "population", "quantity", "condition"),
    *("value", "unit", "source", "status"),
]

CITED_BY_CODE = {
    "rayleigh": "the Rayleigh density",
}
"""Source keys that no row of ``data/published`` carries: a formula of the code rests on them."""

_Column = str | Callable[[pd.DataFrame], pd.Series]


def _putts_from(rows: pd.DataFrame) -> pd.Series:
    return rows["distance_ft"] + " ft"


def _made(rows: pd.DataFrame) -> pd.Series:
    return rows["holed"] + " of " + rows["tries"]


# How each file's columns become a figure: a callable computes the column, "=word" is that word.
_SHAPES: dict[str, dict[str, _Column]] = {
    "tour_off_green.csv": {
        "population": "=tour",
        "quantity": "=expected strokes",
        "condition": lambda rows: rows["lie"] + " " + rows["distance_yd"] + " yd",
        "value": "strokes",
        "unit": "=strokes",
    },
    "expected_putts.csv": {
        "population": "population",
        "quantity": lambda rows: "expected putts, table " + rows["table"],
        "condition": _putts_from,
        "value": "putts",
        "unit": "=putts",
    },
    "putt_outcomes.csv": {
        "population": "population",
        "quantity": "outcome",
        "condition": _putts_from,
        "value": "percent",
        "unit": "=percent",
    },
    "putting_berry.csv": {
        "population": "=professionals",
        "quantity": "=putts holed",
        "condition": _putts_from,
        "value": _made,
        "unit": "=putts",
    },
    "putting_stat2.csv": {
        "population": "=one golfer",
        "quantity": "=putts holed",
        "condition": _putts_from,
        "value": _made,
        "unit": "=putts",
    },
    "putting_model_estimates.csv": {
        "population": "model",
        "quantity": "parameter",
        "condition": "=",
        "value": "value",
        "unit": "unit",
    },
    "anchors.csv": {
        "population": "population",
        "quantity": "quantity",
        "condition": "condition",
        "value": "value",
        "unit": "unit",
    },
    "course_rating.csv": {
        "population": "group",
        "quantity": "quantity",
        "condition": "=",
        "value": "value",
        "unit": "unit",
    },
    "practice_studies.csv": {
        "population": "=",
        "quantity": "topic",
        "condition": "=",
        "value": "finding",
        "unit": "=",
    },
    "worked_examples.csv": {
        "population": "=",
        "quantity": lambda rows: rows["example"] + ", " + rows["shot"],
        "condition": lambda rows: rows["start"] + " to " + rows["end"],
        "value": "gained",
        "unit": "=strokes gained",
    },
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One published value with its unit, source key and how it was checked.

    ``status`` is ``read`` (seen in the source), ``reproduced`` (seen in a copy) or ``memory``.
    """

    value: float
    unit: str
    source: str
    status: str


def read_published(file: str) -> pd.DataFrame:
    """Return one file of ``data/published``, every cell as the text that is printed there."""
    return _read(f"published/{file}").copy()


def sources() -> pd.DataFrame:
    """Return ``data/sources.csv``: key, authors, year, title, where, population."""
    return _read("sources.csv").copy()


def figures() -> pd.DataFrame:
    """Return every row of ``data/published`` as one long table with ``FIGURE_COLUMNS``.

    ``value`` is the printed text; ``source`` is a key of ``sources()``.
    """
    return pd.concat([_figures_of(file) for file in _SHAPES], ignore_index=True)


def cited_figures() -> pd.DataFrame:
    """Return every published figure with its source spelled out, by source.

    ``FIGURE_COLUMNS``, then authors, year, title, where and studied (whom the source studied). A
    source that the code cites for a formula has one row that says which.
    """
    named = pd.DataFrame(
        [{"source": key, "quantity": what} for key, what in CITED_BY_CODE.items()],
        columns=FIGURE_COLUMNS,
        dtype=str,
    ).fillna("")
    keys = sources().rename(columns={"key": "source", "population": "studied"})
    return keys.merge(pd.concat([figures(), named]), on="source", how="left")[
        [*FIGURE_COLUMNS, "authors", "year", "title", "where", "studied"]
    ]


@cache
def anchor(population: str, quantity: str, condition: str) -> Figure:
    """Return one value of ``anchors.csv``.

    Raises KeyError where the three words name no row or several, ValueError for a range.
    """
    row = _anchor_row(population, quantity, condition)
    return Figure(float(row["value"]), row["unit"], row["source"], row["status"])


def anchor_range(population: str, quantity: str, condition: str) -> tuple[Figure, Figure]:
    """Return the two ends of a value of ``anchors.csv`` printed as ``low-high``.

    Raises KeyError where the three words name no row or several, ValueError for a single value.
    """
    row = _anchor_row(population, quantity, condition)
    low, high = (float(end) for end in row["value"].split("-"))
    return (
        Figure(low, row["unit"], row["source"], row["status"]),
        Figure(high, row["unit"], row["source"], row["status"]),
    )


def _anchor_row(population: str, quantity: str, condition: str) -> dict[str, str]:
    rows = _read("published/anchors.csv")
    wanted = (
        (rows["population"] == population)
        & (rows["quantity"] == quantity)
        & (rows["condition"] == condition)
    )
    if wanted.sum() != 1:
        raise KeyError(f"{wanted.sum()} anchors for {population!r}, {quantity!r}, {condition!r}")
    return {str(column): str(cell) for column, cell in rows[wanted].iloc[0].items()}


@cache
def _read(name: str) -> pd.DataFrame:
    return pd.read_csv(data_path(name), dtype=str, keep_default_na=False)


def _figures_of(file: str) -> pd.DataFrame:
    rows = _read(f"published/{file}")
    shape: dict[str, _Column] = {
        "file": f"={file}",
        **_SHAPES[file],
        "source": "source",
        "status": "status",
    }
    return pd.DataFrame({name: _column(rows, shape[name]) for name in FIGURE_COLUMNS})


def _column(rows: pd.DataFrame, column: _Column) -> pd.Series:
    if callable(column):
        return column(rows)
    if column.startswith("="):
        return pd.Series(column[1:], index=rows.index)
    return rows[column]
