"""Standards of play: a published one by its name, one of your own, one fitted to strokes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from sgzone import benchmarks
from sgzone.benchmarks import Benchmark, calibration, fit, model
from sgzone.benchmarks import outcomes as needed
from sgzone.benchmarks.fit import BAND_LEVEL
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.public.dtypes import out, plain
from sgzone.public.seasons import Day, Season, asking
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED


def benchmark(name: str | Path | Benchmark) -> Benchmark:
    """Return a standard of play by its name or by the path of a CSV; one that is there as it is.

    The names are tour, scratch, amateur-80, amateur-90, amateur-100, women-scratch, women-bogey. A
    fitted one is known by its name where a question is asked of the season file that keeps it.

    >>> import sgzone as sg
    >>> sg.benchmark("tour")
    <Benchmark tour: 7 lies, 183 knots>
    >>> round(float(sg.benchmark("tour").expected("green", 8)), 2)
    1.5
    """
    return name if isinstance(name, Benchmark) else benchmarks.benchmark(name)


def break_even_proximity(
    benchmark: str | Path | Benchmark, lie: str | ArrayLike, distance_ft: ArrayLike
) -> NDArray[np.float64]:
    """Return from how far, in feet on the green, a stroke from here gained exactly 0.

    ``distance_ft``: feet before the stroke. NaN where there is no such distance.

    >>> import sgzone as sg
    >>> round(float(sg.break_even_proximity("tour", "fairway", 300)), 1)
    15.9
    """
    return model.break_even_proximity(_standard(benchmark), lie, distance_ft)


def outcomes(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    players: Sequence[str] = (),
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return what strokes really took: where from, in feet, and the strokes to hole out.

    A hole that was given or picked up ends with what ``benchmark`` expects from the last place.

    >>> import sgzone as sg
    >>> rows = sg.outcomes(sg.simulate_season(rounds=2).card, "tour")
    >>> bool((rows["strokes"] >= 1).all())
    True
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        curve = in_store(store, benchmark)
        return out(needed.outcomes(store, curve, asked, players), "outcomes")


@bounded
def fit_benchmark(
    name: str, base: str | Path | Benchmark, rows: pd.DataFrame, level: float = BAND_LEVEL
) -> Benchmark:
    """Return the standard of the strokes ``rows`` (``sg.outcomes``), drawn towards ``base``.

    Its knots carry how many strokes they rest on and their range at ``level``.

    >>> import sgzone as sg
    >>> rows = sg.outcomes(sg.simulate_season(rounds=2).card)
    >>> sg.fit_benchmark("squad", "tour", rows).name
    'squad'
    """
    return fit.fit_benchmark(name, _standard(base), plain(rows), level)


@bounded
def calibrate(
    rows: pd.DataFrame,
    base: str | Benchmark = "tour",
    level: float = BAND_LEVEL,
    folds: int = calibration.FOLDS,
    seed: int = SEED,
) -> calibration.Calibration:
    """Return how well ``base`` and a curve fitted on it predict rounds they were not fitted to.

    ``rows``: ``sg.outcomes``.

    >>> import sgzone as sg
    >>> held = sg.calibrate(sg.outcomes(sg.simulate_season(rounds=3).card), "tour", folds=2)
    >>> held.folds
    2
    """
    found = calibration.calibrate(plain(rows), _standard(base), level, folds, seed)
    return replace(found, table=out(found.table, "outcomes"))


_standard = benchmark
"""The function by a name that no argument has."""
