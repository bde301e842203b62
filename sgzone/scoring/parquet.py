"""Scoring where the strokes stand in Parquet files and carry their own ends: no window, no shuffle.

The same query runs on DuckDB here and on Spark in ``sgzone.distributed``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import pandas as pd
import pyarrow as pa

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import find
from sgzone.scoring.gained import refuse_unknown
from sgzone.scoring.places import curve_cells
from sgzone.scoring.recipe import WORDED_PLACES, recipe, step, sums_step
from sgzone.scoring.stroke_rules import refuse_wrong_strokes
from sgzone.season.parquet import refuse_lacking
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from sgzone.season.parquet import ParquetStrokes

_ROUND = ("player", "date", "round")
_MADE = ("part", "band", "month")  # columns of the recipe itself


def parquet_gained_query() -> str:
    """Return the query for the columns of ``strokes_gained``; left open: {strokes}, {curve}."""
    steps = recipe(
        ("parquet_strokes", "parquet_starts", "valued", "gained"), "parquet_starts", WORDED_PLACES
    )
    return steps + step("listed").replace("{more}", "")


def parquet_sums_query(by: Sequence[str], exact_sum: str, of_lies: Sequence[str] = ()) -> str:
    """Return the query for the sums per cell and round; left open: {strokes}, {curve}.

    ``exact_sum``, ``of_lies``: as ``sums_step``. Raises ``CallError`` for a column that strokes are
    not grouped by.
    """
    refuse_unknown(by)
    steps = recipe(
        ("parquet_strokes", "parquet_zone", "valued", "gained"), "parquet_zone", WORDED_PLACES
    )
    return steps + sums_step(list(dict.fromkeys((*by, *_ROUND))), exact_sum, of_lies)


def refuse_lacking_columns(there: Iterable[str], where: str, by: Sequence[str] = ()) -> None:
    """Raise ``DataError`` where strokes lack what scoring them and grouping them ``by`` needs."""
    refuse_lacking(there, where, [name for name in by if name not in _MADE])


def gained_reader(
    strokes: ParquetStrokes,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
) -> pa.RecordBatchReader:
    """Return the rows of ``strokes_gained`` as they come.

    The order is that of the files, but for strokes without a value or on an edge of two cells:
    those come a little after their neighbours, because a sort would hold up the stream.
    """
    return _run(strokes, benchmark, selection, parquet_gained_query())


def sums_reader(
    strokes: ParquetStrokes,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
    of_lies: Sequence[str] = (),
) -> pa.RecordBatchReader:
    """Return the sums of ``round_sums``; a round is known by player, date and round."""
    query = parquet_sums_query(by, "FSUM", of_lies)
    refuse_lacking_columns(strokes.columns, strokes.files[0], by)
    return _run(strokes, benchmark, selection, query)


def sums_and_sizes(
    strokes: ParquetStrokes,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
    of_lies: Sequence[str] = (),
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return what ``round_sums`` and ``round_sizes`` return of a season file, round keys made here.

    Sizes: player, round_key, holes. Both are held in memory, one row per cell and round.
    """
    refuse_wrong_strokes(strokes, selection)
    query = recipe(("parquet_strokes",), "").replace("{strokes}", "strokes") + step("parquet_sizes")
    sizes = strokes.reader(query, selection.parameters()).read_pandas()
    sizes = sizes.sort_values([*_ROUND], ignore_index=True)
    sizes["round_key"] = sizes.index
    sums = sums_reader(strokes, benchmark, selection, by, of_lies).read_pandas()
    sums = sums.merge(sizes[[*_ROUND, "round_key"]], on=[*_ROUND])
    keys = list(dict.fromkeys((*by, "player", "round_key")))
    sums = sums.sort_values(keys, ignore_index=True)
    return (
        sums[[*keys, *sums.columns.drop([*keys, "date", "round"])]],
        sizes[["player", "round_key", "holes"]],
    )


def _run(
    strokes: ParquetStrokes, curve: str | Benchmark, selection: Selection, query: str
) -> pa.RecordBatchReader:
    refuse_wrong_strokes(strokes, selection)
    strokes.temp("curve", curve_cells(find(curve)))
    filled = query.replace("{strokes}", "strokes").replace("{curve}", "curve")
    return strokes.reader(filled, {**selection.parameters(), "zone_ft": ZONE_FT})
