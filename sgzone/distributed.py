"""Scoring where the strokes live already: the same SQL on a user's Spark session.

The benchmark's cells go to every executor (a broadcast); a row of strokes is valued by itself, so
scoring moves no stroke, and the sums per round take one shuffle. Needs ``sgzone[spark]``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import pyarrow as pa

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import find
from sgzone.scoring.parquet import parquet_gained_query, parquet_sums_query, refuse_lacking_columns
from sgzone.scoring.places import curve_cells
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from pyspark.sql import DataFrame, SparkSession

SUM = "SUM"
"""The one aggregate that differs: DuckDB has a compensated FSUM, Spark only the plain one."""

_BOUND = re.compile(r"\$(\w+)")  # DuckDB writes a bound value $name, Spark :name


def score(
    spark: SparkSession,
    strokes: DataFrame | str,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    db: str | Path | None = None,
) -> DataFrame:
    """Return the columns of ``strokes_gained`` for every listed stroke, lazily and in no order.

    ``strokes``: a frame, or the path of Parquet files, of whole holes with their ends
    (``season.parquet.STROKE_COLUMNS``). ``benchmark``: a name, a CSV's path, or a ``Benchmark``;
    ``db``: the season file that a fitted one's name is looked up in. Raises ``DataError`` where a
    column lacks, ``CallError`` for a name that is none.
    """
    return _run(spark, strokes, find(benchmark, db), selection, parquet_gained_query())


def round_sums(
    spark: SparkSession,
    strokes: DataFrame | str,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
    *,
    db: str | Path | None = None,
) -> DataFrame:
    """Return per cell and round n, total, squares (strokes, strokes squared), unscored, unvalued.

    What ``scoring.round_sums`` returns, with player, date and round in the place of round_key.
    Raises ``CallError`` for an unknown ``by`` column, else as ``score``.
    """
    curve = find(benchmark, db)
    return _run(spark, strokes, curve, selection, parquet_sums_query(by, SUM), by)


def _run(
    spark: SparkSession,
    strokes: DataFrame | str,
    curve: Benchmark,
    selection: Selection,
    query: str,
    by: Sequence[str] = (),
) -> DataFrame:
    frame = spark.read.parquet(strokes) if isinstance(strokes, str) else strokes
    refuse_lacking_columns(frame.columns, "the frame", by)
    values = {**selection.parameters(), "zone_ft": ZONE_FT}
    return spark.sql(
        _BOUND.sub(r":\1", query),
        args=values,
        strokes=frame,
        curve=_cells(spark, curve).hint("broadcast"),
    )


def _cells(spark: SparkSession, curve: Benchmark) -> DataFrame:
    cells = pa.Table.from_pandas(curve_cells(curve), preserve_index=False)  # NaN becomes null
    return spark.createDataFrame(cells)
