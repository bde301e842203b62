"""Scoring where the strokes stand in flat files and carry their own ends: no window, no shuffle.

The same query runs on DuckDB here and on Spark in ``sgzone.distributed``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import pyarrow as pa

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.scoring.gained import refuse_unknown
from sgzone.scoring.places import curve_cells
from sgzone.scoring.recipe import recipe, step
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import ZONE_FT

if TYPE_CHECKING:
    from sgzone.season.flat import FlatStrokes

_ROUND = ("player", "date", "round")


def flat_gained_query() -> str:
    """Return the query for the columns of ``strokes_gained``; left open: {strokes}, {curve}."""
    steps = recipe(("flat_strokes", "flat_starts", "valued", "gained"), "flat_starts")
    return steps + step("listed").replace("{more}", "")


def flat_sums_query(by: Sequence[str], exact_sum: str) -> str:
    """Return the query for the sums per cell and round; left open: {strokes}, {curve}.

    ``exact_sum``: the engine's best aggregate for a sum of doubles. Raises ``CallError`` for a
    column that strokes are not grouped by.
    """
    refuse_unknown(by)
    steps = recipe(("flat_strokes", "flat_zone", "valued", "gained"), "flat_zone")
    keys = ", ".join(dict.fromkeys((*by, *_ROUND)))
    return steps + step("round_sums").replace("{keys}", keys).replace("{sum}", exact_sum)


def gained_reader(
    strokes: FlatStrokes,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
) -> pa.RecordBatchReader:
    """Return the rows of ``strokes_gained`` as they come.

    The order is that of the files, but for strokes without a value or on an edge of two cells:
    those come a little after their neighbours, because a sort would hold up the stream.
    """
    return _run(strokes, benchmark, selection, flat_gained_query())


def sums_reader(
    strokes: FlatStrokes,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: Sequence[str] = (),
) -> pa.RecordBatchReader:
    """Return the sums of ``round_sums``; a round is known by player, date and round."""
    return _run(strokes, benchmark, selection, flat_sums_query(by, "FSUM"))


def _run(
    strokes: FlatStrokes, curve: str | Benchmark, selection: Selection, query: str
) -> pa.RecordBatchReader:
    chosen = benchmark(curve) if isinstance(curve, str) else curve
    strokes.temp("curve", curve_cells(chosen))
    filled = query.replace("{strokes}", "strokes").replace("{curve}", "curve")
    return strokes.reader(filled, {**selection.parameters(), "zone_ft": ZONE_FT})
