"""Spreads from few observations: stray ones set aside, the rest pulled towards a smooth curve."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import fdtrc, gammaincinv, ndtri, stdtrit

from sgzone.stats.cluster import Ints, sums

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

STRAY = 3.5
"""Sds from the median, the sd taken from the median absolute deviation, before one is stray."""
MAD_SD = 1.4826  # sd of a normal variable over its median absolute deviation
SCALE_N = 20
"""What the deviation of all cells together counts for beside a cell's own: that of a few dozen
observations may come out at half its true size, and then sound ones are set aside."""
POOL_DF = 20.0
"""What the smooth curve counts for beside a cell's own variance."""
BANDWIDTH = 0.35
"""Of the smooth curve, in ln(x)."""
LEAN_N = 100.0
"""Observations that the least spread of means counts for."""
_MEDIAN_SE = float(np.sqrt(np.pi / 2))  # standard error of a median over that of a mean, normal


def medians(cell: Ints, values: Floats, n_cells: int) -> Floats:
    """Return the median of each cell; NaN where a cell is empty."""
    found = np.full(n_cells, np.nan)
    order = np.lexsort((values, cell))
    count = np.bincount(cell, minlength=n_cells)
    start = np.cumsum(count) - count
    some = count > 0
    low, high = (start + (count - 1) // 2)[some], (start + count // 2)[some]
    found[some] = 0.5 * (values[order][low] + values[order][high])
    return found


def stray(cell: Ints, values: Floats, n_cells: int) -> Bools:
    """Return which values are too far from their cell's median to be of the usual kind."""
    apart = np.abs(values - medians(cell, values, n_cells)[cell])
    own = MAD_SD * medians(cell, apart, n_cells)
    common = MAD_SD * float(np.median(apart)) if len(apart) else np.nan
    count = np.bincount(cell, minlength=n_cells)
    square = (SCALE_N * common**2 + count * np.nan_to_num(own) ** 2) / (SCALE_N + count)
    found: Bools = apart > STRAY * np.sqrt(square)[cell]
    return found


def variances(cell: Ints, values: Floats, n_cells: int) -> tuple[Floats, Floats]:
    """Return size and variance (divisor n - 1) of each cell; NaN variance under two values."""
    n = np.bincount(cell, minlength=n_cells).astype(float)
    mean = sums(cell, values, n_cells) / np.where(n > 0, n, np.nan)
    square = sums(cell, (values - mean[cell]) ** 2, n_cells)
    return n, square / np.where(n > 1, n - 1, np.nan)


def smooth_variance(
    x: Floats, variance: Floats, df: Floats, at: ArrayLike, prior: ArrayLike, prior_df: float
) -> Floats:
    """Return the variance at ``at``: cells near it in ln(x), weighted, beside a prior.

    ``x``, ``variance``, ``df``: (cells,), df = 0 where a cell has no variance. ``at`` and ``prior``
    (the variance believed there): (points,); ``prior_df``: what the prior counts for.
    """
    where, belief = np.asarray(at, float), np.asarray(prior, float)
    used = df > 0
    gap = (np.log(where)[:, None] - np.log(x[used])) / BANDWIDTH
    weight = np.exp(-0.5 * gap**2) * df[used]
    total = prior_df * belief + weight @ variance[used]
    smoothed: Floats = total / (prior_df + weight.sum(axis=1))
    return smoothed


def smooth_doubt(x: Floats, df: Floats, at: ArrayLike, prior_df: float) -> Floats:
    """Return the sd of half the logarithm of ``smooth_variance``: how well the smooth sd is known.

    A cell's variance has a relative variance of 2 / df about its own truth, and that one of
    2 / ``POOL_DF`` about the curve; the prior is as if of ``prior_df`` observations.
    """
    where, used = np.asarray(at, float), df > 0
    gap = (np.log(where)[:, None] - np.log(x[used])) / BANDWIDTH
    weight = np.exp(-0.5 * gap**2) * df[used]
    square = 2 * prior_df + weight**2 @ (2 / df[used] + 2 / POOL_DF)
    doubt: Floats = 0.5 * np.sqrt(square) / (prior_df + weight.sum(axis=1))
    return doubt


def pulled_variance(n: Floats, variance: Floats, pool: Floats) -> Floats:
    """Return (20 pool + (n - 1) own) / (19 + n) per cell: few shots make a poor spread.

    A cell of one value or none has the pool's.
    """
    own = np.where(n > 1, (n - 1) * np.nan_to_num(variance), 0.0)
    pulled: Floats = (POOL_DF * pool + own) / (POOL_DF + np.maximum(n - 1, 0))
    return pulled


def pulled_df(n: Floats) -> Floats:
    """Return the degrees of freedom of a pulled variance, 19 + n; 20 where a cell is empty."""
    df: Floats = POOL_DF + np.maximum(n - 1, 0)
    return df


def sd_interval(sd: Floats, df: Floats, level: float) -> tuple[Floats, Floats]:
    """Return the interval of a normal sd by chi-square."""
    ends = (2 * gammaincinv(df / 2, p) for p in (0.5 + level / 2, 0.5 - level / 2))
    low, high = (sd * np.sqrt(df / end) for end in ends)
    return low, high


def median_interval(
    median: Floats, sd: Floats, n: Floats, df: Floats, level: float
) -> tuple[Floats, Floats]:
    """Return the interval of a normal sample's median; ``sd`` of one value, known to ``df``."""
    half = stdtrit(df, 0.5 + level / 2) * _MEDIAN_SE * sd / np.sqrt(np.where(n > 0, n, np.nan))
    return median - half, median + half


def unlike_spreads(first: Floats, second: Floats) -> float:
    """Return the p-value of the Brown-Forsythe test that two samples spread alike.

    The F test of their distances from their own medians; scipy's ``levene`` by the median, summed
    in its order.
    """
    apart = [np.abs(one - np.median(one)) for one in (first, second)]
    sizes, means = [len(one) for one in apart], [one.mean() for one in apart]
    n = sum(sizes)
    whole = sum(size * mean for size, mean in zip(sizes, means, strict=True)) / n
    between = sum(size * (mean - whole) ** 2 for size, mean in zip(sizes, means, strict=True))
    within = sum(((one - mean) ** 2).sum() for one, mean in zip(apart, means, strict=True))
    with np.errstate(divide="ignore", invalid="ignore"):  # samples of one value each
        return float(fdtrc(1.0, n - 2, (n - 2) * between / within))


def pulled_mean(mean: Floats, n: Floats, sd: Floats, prior_sd: Floats) -> tuple[Floats, Floats]:
    """Return mean n / (n + (sd / prior_sd)^2) and its sd: a mean pulled towards 0.

    The posterior of a normal mean with prior N(0, prior_sd^2).
    """
    share = n / (n + (sd / prior_sd) ** 2)
    return share * np.where(n > 0, mean, 0.0), prior_sd * np.sqrt(1 - share)


def lean_spread(mean: Floats, n: Floats, sd: Floats, least: float) -> float:
    """Return how far true means lie from 0, as an sd over all cells; ``least`` or more.

    The mean of mean^2 - sd^2 / n, weighted by n: what sampling does not explain. ``least`` counts
    for ``LEAN_N`` observations in it.
    """
    some = n > 0
    beyond = LEAN_N * least**2 + (n * mean**2 - sd**2)[some].sum()
    return float(np.sqrt(max(beyond / (LEAN_N + n.sum()), least**2)))


def mean_doubt(mean: Floats, n: Floats, sd: Floats, at: Floats, spreads: Floats) -> Floats:
    """Return how far each true mean is likely to lie from ``at``, as an sd.

    True means are N(0, b^2), b any of ``spreads`` with the same chance before looking: unlike a
    pull with one b this holds how little a few means tell of b.
    """
    seen, count = np.where(n > 0, mean, 0.0), np.maximum(n, 1e-9)
    b = spreads[:, None]
    total = b**2 + sd**2 / count
    log_weight = -0.5 * (seen**2 / total + np.log(total)).sum(axis=1)
    weight = np.exp(log_weight - log_weight.max())
    share = b**2 / total
    square = b**2 * (1 - share) + (share * seen - at) ** 2
    doubt: Floats = np.sqrt(weight / weight.sum() @ square)
    return doubt


def normal_half(level: float) -> float:
    """Return how many sds a two-sided normal interval reaches."""
    return float(ndtri(0.5 + level / 2))
