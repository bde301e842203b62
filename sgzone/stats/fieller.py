"""Fieller's range of a ratio of sums over clusters."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtrit

Floats = NDArray[np.float64]


def ratio_range(above: Floats, below: Floats, level: float) -> tuple[float, float, float]:
    """Return sum(above) / sum(below) with its range of ``level``; one entry of each per cluster.

    The range are the k at which the sums of ``above - k below`` are no further from 0 than t of
    their standard errors, with as many degrees of freedom as clusters less one; the variance of a
    sum has the factor G / (G - 1) of few clusters. NaN ends where that is no bounded range.
    """
    clusters = len(above)
    x, y = float(np.sum(above)), float(np.sum(below))
    if clusters < 2 or y == 0:
        return x / y if y else math.nan, math.nan, math.nan
    factor = clusters * clusters / (clusters - 1)
    (xx, xy), (_, yy) = np.cov(above, below) * factor
    squared = stdtrit(clusters - 1, 0.5 + level / 2) ** 2
    a, b, c = y * y - squared * yy, x * y - squared * xy, x * x - squared * xx
    inside = b * b - a * c
    if a <= 0 or inside < 0:
        return x / y, math.nan, math.nan
    root = math.sqrt(inside)
    return x / y, (b - root) / a, (b + root) / a
