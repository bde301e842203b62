"""Scoring where the strokes live already: the same SQL on a user's Spark session.

The benchmark's cells go to every executor (a broadcast); a row of strokes is valued by itself, so
scoring moves no stroke, and the sums per round take one shuffle. Needs ``sgzone[spark]``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

import pyarrow as pa

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.scoring.flat import flat_gained_query, flat_sums_query
from sgzone.scoring.places import curve_cells
from sgzone.season.flat import refuse_lacking
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from pyspark.sql import DataFrame, SparkSession

SUM = "SUM"
"""The one aggregate that differs: DuckDB has a compensated FSUM, Spark only the plain one."""

_MADE = ("part", "band", "month")  # columns of the recipe itself
_BOUND = re.compile(r"\$(\w+)")  # DuckDB writes a bound value $name, Spark :name


def score(
    spark: SparkSession,
    strokes: DataFrame | str,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
) -> DataFrame:
    """Return the columns of ``strokes_gained`` for every listed stroke, lazily and in no order.

    ``strokes``: a frame, or the path of Parquet files, of whole holes with their ends
    (``season.flat.FLAT_COLUMNS``). Raises ``DataError`` where it lacks a column.
    """
    return _run(spark, strokes, benchmark, selection, flat_gained_query())


def round_sums(
    spark: SparkSession,
    strokes: DataFrame | str,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
) -> DataFrame:
    """Return per cell and round n, total, squares (strokes, strokes squared), unscored, unvalued.

    What ``scoring.round_sums`` returns, with player, date and round in the place of round_key.
    Raises ``CallError`` for an unknown ``by`` column, ``DataError`` where a column lacks.
    """
    return _run(spark, strokes, benchmark, selection, flat_sums_query(by, SUM), by)


def _run(
    spark: SparkSession,
    strokes: DataFrame | str,
    curve: str | Benchmark,
    selection: Selection,
    query: str,
    by: Sequence[str] = (),
) -> DataFrame:
    frame = spark.read.parquet(strokes) if isinstance(strokes, str) else strokes
    refuse_lacking(frame.columns, "the frame", [name for name in by if name not in _MADE])
    chosen = benchmark(curve) if isinstance(curve, str) else curve
    values = {**selection.parameters(), "zone_ft": ZONE_FT}
    return spark.sql(
        _BOUND.sub(r":\1", query),
        args=values,
        strokes=frame,
        curve=_cells(spark, chosen).hint("broadcast"),
    )


def _cells(spark: SparkSession, curve: Benchmark) -> DataFrame:
    cells = pa.Table.from_pandas(curve_cells(curve), preserve_index=False)  # NaN becomes null
    return spark.createDataFrame(cells)
