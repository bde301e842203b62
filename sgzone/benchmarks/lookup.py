"""One value of a benchmark, with what it rests on."""

from __future__ import annotations

import pandas as pd

from sgzone.benchmarks.model import Benchmark, leans_on
from sgzone.terms import LIE
from sgzone.units import FT_DECIMALS, from_ft, to_ft

VALUE_COLUMNS = ["benchmark", "lie", "distance", "unit", "strokes", "status", "source"]
NO_BENCHMARK = "no_benchmark"


def at(benchmark: Benchmark, lie: str, distance_ft: float, unit: str) -> pd.DataFrame:
    """Return the one row of ``VALUE_COLUMNS`` for a lie and a distance in feet.

    ``distance`` is given in ``unit`` (yd, ft or m). Without a value ``strokes`` is NaN and
    ``status`` no_benchmark.
    """
    row = {
        "benchmark": benchmark.name,
        "lie": lie,
        # what was written comes back: feet are kept to 9 decimals, so 12 m had 11.999999999952
        "distance": round(from_ft(distance_ft, unit), FT_DECIMALS),
        "unit": unit,
        "strokes": float(benchmark.expected(lie, distance_ft)),
        "status": str(benchmark.status(lie, distance_ft)) or NO_BENCHMARK,
        "source": "+".join(sorted(sources_at(benchmark, lie, distance_ft))),
    }
    return pd.DataFrame([row], columns=VALUE_COLUMNS)


def sources_at(benchmark: Benchmark, lie: str, distance_ft: float) -> set[str]:
    """Return the source keys of the knots that a value at this distance (feet) rests on."""
    if lie not in benchmark.curves:
        return set()
    knots = benchmark.knots[benchmark.knots["lie"] == lie]
    if knots.empty:
        both = [sources_at(benchmark, other, distance_ft) for other in LIE[lie].mean_of]
        return set().union(*both)
    feet = pd.Series(
        [to_ft(d, u) for d, u in zip(knots["distance"], knots["unit"], strict=True)],
        index=knots["source"],
    ).sort_values()
    below, above = feet[feet <= distance_ft], feet[feet > distance_ft]
    if below.empty:
        base = leans_on(lie, benchmark.curves)
        leaned = sources_at(benchmark, base, distance_ft) if base else set()
        return _keys(above.index[:1]) | leaned
    if above.empty:
        return _keys(below.index[-1:] if below.iloc[-1] == distance_ft else below.index[-2:])
    if below.iloc[-1] == distance_ft:
        return _keys(below.index[-1:])
    return _keys([below.index[-1], above.index[0]])


def _keys(joined: pd.Index | list[str]) -> set[str]:
    return {key for text in joined for key in str(text).split("+")}
