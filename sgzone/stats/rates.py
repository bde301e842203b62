"""Shares and medians of observations that come in rounds, with intervals.

A share has the Wilson interval of an effective number of observations: the number there is,
over how much more the rounds vary than single observations would and what t costs with few
rounds; never more than the number there is. A median is inverted from the interval of the share
below it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.stats import beta, norm
from scipy.stats import t as student_t
from statsmodels.stats.proportion import proportion_confint

from sgzone.stats.cluster import per_unit

Floats = NDArray[np.float64]


def share_interval(
    round_: NDArray[np.integer[Any]], hit: ArrayLike, level: float
) -> tuple[float, float, float]:
    """Return the share of ``hit`` (one truth value per observation) and its low and high.

    ``round_``: the round of each observation. With one round only, rounds cannot be told to vary
    and observations count as independent. NaN without any observation.
    """
    hit = np.asarray(hit, float)
    if len(hit) == 0:
        return np.nan, np.nan, np.nan
    share = float(hit.mean())
    size = len(hit) * _worth(round_, hit, level)
    low, high = proportion_confint(share * size, size, alpha=1 - level, method="wilson")
    return share, float(low), float(high)


def median_interval(
    round_: NDArray[np.integer[Any]], value: ArrayLike, level: float
) -> tuple[float, float, float]:
    """Return the median of ``value`` and its low and high; arguments as ``share_interval``.

    No interval where even from the least to the greatest value is not one: the median lies between
    n values with chance 1 - 2^(1 - n).
    """
    value = np.asarray(value, float)
    if len(value) == 0:
        return np.nan, np.nan, np.nan
    median = float(np.median(value))
    if 1 - 2.0 ** (1 - len(value)) < level:
        return median, np.nan, np.nan
    size = len(value) * _worth(round_, value <= median, level)
    low, high = proportion_confint(size / 2, size, alpha=1 - level, method="wilson")
    return median, float(np.quantile(value, low)), float(np.quantile(value, high))


def chance_reached(
    round_: NDArray[np.integer[Any]], hit: ArrayLike, least: float, level: float
) -> float:
    """Return how likely the true share is ``least`` or more; arguments as ``share_interval``.

    Of a share of the effective number of observations, after Jeffreys. NaN without any.
    """
    hit = np.asarray(hit, float)
    if len(hit) == 0:
        return np.nan
    size = len(hit) * _worth(round_, hit, level)
    won = float(hit.mean()) * size
    return float(beta.sf(least, won + 0.5, size - won + 0.5))


Estimate = tuple[float, float, float]
"""A value with its low and high."""


def difference_interval(first: Estimate, second: Estimate) -> Estimate:
    """Return ``second`` less ``first`` with the range that their own ranges leave it.

    Newcombe's hybrid of two intervals, as for two Wilson intervals of shares: it needs no common
    variance and stays in the scale's bounds.
    """
    change = second[0] - first[0]
    down = np.hypot(second[0] - second[1], first[2] - first[0])
    up = np.hypot(second[2] - second[0], first[0] - first[1])
    return change, float(change - down), float(change + up)


def _worth(round_: NDArray[np.integer[Any]], hit: ArrayLike, level: float) -> float:
    """Return what one observation is worth against an independent one, at most 1."""
    hit = np.asarray(hit, float)
    _, index = np.unique(round_, return_inverse=True)
    rounds = int(index.max()) + 1
    share = hit.mean()
    if rounds < 2 or share in (0.0, 1.0):
        return 1.0
    one_cell = np.zeros(rounds, dtype=int)
    sums = np.bincount(index, weights=hit)
    se = per_unit(one_cell, np.bincount(index), sums, 1, level).se[0]
    design = se**2 / (share * (1 - share) / len(hit))
    upper = 0.5 + level / 2
    few = (norm.ppf(upper) / student_t.ppf(upper, rounds - 1)) ** 2
    return float(few / max(design, few))
