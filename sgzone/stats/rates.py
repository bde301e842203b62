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
from scipy.special import betainc, betaincc, chdtrc, ndtr, ndtri, stdtrit

from sgzone.stats.cluster import per_unit

Floats = NDArray[np.float64]


def wilson(hits: ArrayLike, n: ArrayLike, level: float) -> tuple[Floats, Floats]:
    """Return low and high of Wilson's interval of a share, ``hits`` of ``n`` (> 0).

    Neither need be whole. It is statsmodels' ``proportion_confint`` to the bit, which takes longer
    to load than most answers take.
    """
    of, reach = np.asarray(n), -ndtri((1 - level) / 2)
    share, square = np.asarray(hits) / of, reach**2
    whole = 1 + square / of
    middle = (share + square / (2 * of)) / whole
    half = reach * np.sqrt(share * (1.0 - share) / of + square / (4.0 * of**2))
    half /= whole
    return np.clip(middle - half, 0, 1), np.clip(middle + half, 0, 1)


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
    low, high = wilson(share * size, size, level)
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
    low, high = wilson(size / 2, size, level)
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
    return float(betaincc(won + 0.5, size - won + 0.5, min(max(least, 0.0), 1.0)))


def chance_of_as_many(hits: int, n: int, share: float) -> float:
    """Return how likely ``n`` observations hold ``hits`` or more, each a hit with chance ``share``.

    The binomial's upper tail; scipy's ``binomtest`` to rounding.
    """
    return float(betainc(hits, n - hits + 1, share)) if hits else 1.0


def unlike(hits: tuple[int, int], n: tuple[int, int]) -> float:
    """Return the p-value of the pooled test that two shares, ``hits`` of ``n``, are equal.

    statsmodels' ``proportions_ztest``. Some hits and some misses must be among them.
    """
    pooled = sum(hits) / sum(n)
    spread = np.sqrt(pooled * (1 - pooled) * (1 / n[0] + 1 / n[1]))
    return float(2 * ndtr(-abs(hits[0] / n[0] - hits[1] / n[1]) / spread))


def unlike_shares(table: NDArray[np.integer[Any]]) -> float:
    """Return the p-value of Pearson's test that the rows of a table of counts share out alike.

    ``table``: (rows, columns), none of them empty. scipy's ``chi2_contingency``: with Yates'
    correction for two by two.
    """
    expected = table.sum(axis=1, keepdims=True) * table.sum(axis=0) / table.sum()
    apart = np.abs(table - expected)
    df = (table.shape[0] - 1) * (table.shape[1] - 1)
    if df == 1:
        apart = apart - np.minimum(0.5, apart)
    return float(chdtrc(df, (apart**2 / expected).sum()))


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
    few = (ndtri(upper) / stdtrit(rounds - 1, upper)) ** 2
    return float(few / max(design, few))
