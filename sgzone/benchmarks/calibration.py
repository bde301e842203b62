"""Do curves predict? Strokes expected against strokes needed, on rounds a curve has not seen."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks.fit import BAND_LEVEL, fit_benchmark
from sgzone.benchmarks.model import Benchmark
from sgzone.benchmarks.placing import bands_of
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.stats.cluster import means, sums
from sgzone.stats.resample import SEED
from sgzone.terms import BAND_NAMES, BANDS, GREEN

Floats = NDArray[np.float64]

FOLDS = 10
MIN_ROUNDS = 2
CALIBRATION_COLUMNS = [
    *("band", "strokes", "rounds", "observed", "low", "high"),
    *("base", "fitted", "base_error", "fitted_error"),
]


@dataclass(frozen=True, eq=False)
class Calibration:
    """Predicted and observed strokes to hole out by band (``CALIBRATION_COLUMNS``).

    ``base_error`` and ``fitted_error``: root mean square over bands, weighted by strokes, of
    predicted less observed. ``chance``: what a perfect curve would show by chance on as many.
    """

    table: pd.DataFrame
    base_error: float
    fitted_error: float
    chance: float
    folds: int


@bounded
def calibrate(
    rows: pd.DataFrame,
    base: Benchmark,
    level: float = BAND_LEVEL,
    folds: int = FOLDS,
    seed: int = SEED,
) -> Calibration:
    """Return how well ``base`` and a curve fitted on it predict strokes held out by round.

    ``rows``: ``outcomes``. Rounds are dealt into at most ``folds`` groups; each group is predicted
    by the curve fitted to the others. ``level``: of the observed mean's interval, by round.
    Raises ``CallError`` for fewer than 2 rounds.
    """
    rows = rows.reset_index(drop=True)
    keys, number = np.unique(rows["round_key"].to_numpy(), return_inverse=True)
    if len(keys) < MIN_ROUNDS:
        raise CallError(
            f"{len(keys)} rounds: a curve is checked on rounds it was not fitted to, so load at "
            f"least {MIN_ROUNDS}."
        )
    folds = min(folds, len(keys))
    dealt = np.random.default_rng(seed).permutation(len(keys)) % folds
    fold = dealt[number]
    fitted = np.full(len(rows), np.nan)
    for one in range(folds):
        held = fold == one
        fitted[held] = _expected(fit_benchmark("held out", base, rows[~held]), rows[held])
    known = rows.assign(
        base=_expected(base, rows),
        fitted=fitted,
        band=bands_of(rows["lie"] == GREEN, rows["distance_ft"]),
        round=number,
    ).dropna(subset=["base", "fitted"])
    return _compared(known, level, folds)


def _expected(curve: Benchmark, rows: pd.DataFrame) -> Floats:
    return curve.expected(rows["lie"].to_numpy(object), rows["distance_ft"])


def _compared(rows: pd.DataFrame, level: float, folds: int) -> Calibration:
    band = rows["band"].to_numpy()
    n = sums(band, np.ones(len(rows)), len(BANDS))
    there = n > 0
    observed = means(band, rows["round"], rows["strokes"], len(BANDS), level)
    with np.errstate(invalid="ignore"):  # bands without a stroke: dropped below
        base, fitted = (sums(band, rows[name], len(BANDS)) / n for name in ("base", "fitted"))
    table = pd.DataFrame(
        {
            "band": BAND_NAMES,
            "strokes": n.astype(int),
            "rounds": observed.rounds,
            "observed": observed.estimate,
            "low": observed.low,
            "high": observed.high,
            "base": base,
            "fitted": fitted,
            "base_error": base - observed.estimate,
            "fitted_error": fitted - observed.estimate,
        }
    )
    table = table[there].reset_index(drop=True)[CALIBRATION_COLUMNS]
    weight = table["strokes"].to_numpy(float)
    judged = np.isfinite(observed.se[there])

    def size(error: Floats) -> float:
        return float(np.sqrt(np.average(error[judged] ** 2, weights=weight[judged])))

    return Calibration(
        table,
        base_error=size(table["base_error"].to_numpy(float)),
        fitted_error=size(table["fitted_error"].to_numpy(float)),
        chance=size(observed.se[there]),
        folds=folds,
    )
