"""A curve through noisy values over time, with a band from dealing the departures out again.

The smoother is statsmodels' lowess without its robustness rounds: then every smoothed value is a
fixed weighting of the observed ones, one matrix smooths any number of series, and a bootstrap of
2,000 draws is one product.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtrit

from sgzone.stats.resample import DRAWS, SEED

Floats = NDArray[np.float64]

SPAN = 0.6
"""Share of the points that each local line rests on."""


@dataclass(frozen=True, slots=True)
class Smooth:
    """Smoothed series and their pointwise band, arrays of shape (n, series)."""

    value: Floats
    low: Floats
    high: Floats


def smoother(x: Floats, span: float = SPAN) -> Floats:
    """Return the (n, n) matrix that smooths values at ``x``: ``matrix @ y`` is the lowess curve."""
    from statsmodels.nonparametric.smoothers_lowess import lowess

    unit = np.eye(len(x))
    columns = [lowess(one, x, frac=span, it=0, return_sorted=False) for one in unit]
    return np.column_stack(columns)


def smooth(
    x: Floats,
    y: Floats,
    weight: Floats,
    level: float,
    span: float = SPAN,
    draws: int = DRAWS,
    seed: int = SEED,
) -> Smooth:
    """Smooth several series seen at the same points.

    ``x``: (n,), rising; ``y``: (n, series); ``weight``: (n,), how much of a whole observation each
    point is (its noise has variance proportional to 1 / weight). A point's departures from all
    series are dealt out together, so whole rounds are resampled.
    """
    matrix = smoother(x, span)
    curve = matrix @ y
    scale = np.sqrt(weight)[:, None]
    freedom = max(len(x) - float(np.trace(matrix)), 1.0)
    departure = scale * (y - curve)
    departure = (departure - departure.mean(axis=0)) * np.sqrt(len(x) / freedom)
    rng = np.random.default_rng(seed)
    dealt = rng.integers(len(x), size=(draws, len(x)))
    noise = np.matmul(matrix, departure[dealt] / scale)
    reach = float(stdtrit(freedom, 0.5 + level / 2))
    half = reach * noise.std(axis=0)
    return Smooth(value=curve, low=curve - half, high=curve + half)
