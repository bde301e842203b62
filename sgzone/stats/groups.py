"""Groups of observations in the same strata: how far apart, and how likely the second is better.

y = stratum + group + noise. The groups' own levels are exchangeable about an unknown common mean,
so every difference of two groups has the prior N(0, difference_sd^2) and all groups are pulled
towards what they have in common. Everything is normal and in closed form. For two groups

    w = difference_sd^2 / (difference_sd^2 + se^2),   P(second > first) = Phi(sqrt(w) d / se).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr, ndtri, stdtrit

from sgzone.stats.alike import Alike, Places, alike, lift
from sgzone.stats.cluster import Ints, sums

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Prior:
    """What is believed before looking.

    ``difference_sd``: of a true difference of two groups; ``sd``: of one observation, worth ``df``
    degrees of freedom.
    """

    difference_sd: float
    sd: float
    df: float


@dataclass(frozen=True, slots=True)
class Observations:
    """One row per observation, arrays of shape (n,); codes start at 0 and none is missing.

    ``y``: the outcome. ``group``, ``stratum``: what it is compared by and within. ``cluster``: the
    round it was made in.
    """

    y: Floats
    group: Ints
    stratum: Ints
    cluster: Ints


@dataclass(frozen=True, slots=True)
class Scatter:
    """Noise of one observation: ``variance``, its degrees of freedom, how ``alike`` a round is."""

    variance: float
    df: float
    alike: Alike = field(default_factory=Alike)


@dataclass(frozen=True, slots=True)
class Pairs:
    """One row per pair of groups, arrays of shape (pairs,).

    ``first``, ``second``: group codes. ``n_first``, ``n_second``: observations in strata both have.
    ``difference``: second - first inside those strata, with ``se``. ``mean`` and ``sd``: what is
    believed of it once all groups are pulled towards their common mean. ``p_second``: P(second >
    first). NaN where the two share no stratum. ``design``: by what rounds raise the variance of
    each difference, 1 where there is none, and ``usual_design`` of all.
    """

    first: Ints
    second: Ints
    n_first: Floats
    n_second: Floats
    difference: Floats
    se: Floats
    mean: Floats
    sd: Floats
    p_second: Floats
    design: Floats
    usual_design: float

    def interval(self, level: float, df: float) -> tuple[Floats, Floats]:
        """Return the interval of the raw difference at ``level``."""
        half = stdtrit(df, 0.5 + level / 2) * self.se
        return self.difference - half, self.difference + half


def counts(rows: Observations) -> Floats:
    """Return the number of observations per stratum and group, shape (strata, groups)."""
    shape = (int(rows.stratum.max(initial=-1)) + 1, int(rows.group.max(initial=-1)) + 1)
    return _table(rows, np.ones(len(rows.y)), shape)


def scatter(rows: Observations, prior: Prior) -> Scatter:
    """Return the noise pooled over all groups and strata with the prior's degrees of freedom."""
    cells = rows.stratum.astype(np.int64) * (int(rows.group.max(initial=0)) + 1) + rows.group
    cell = np.unique(cells, return_inverse=True)[1]
    size, whole = np.bincount(cell), np.bincount(cell, rows.y)
    df = len(rows.y) - len(size)
    about_mean = max(float((rows.y**2).sum() - (whole**2 / size).sum()), 0.0)
    variance = (prior.df * prior.sd**2 + about_mean) / (prior.df + df)
    found = alike(rows.y, Places(cell, rows.group, rows.cluster), variance)
    return Scatter(variance, prior.df + df, found)


def compare(rows: Observations, noise: Scatter, prior: Prior) -> Pairs:
    """Compare every two groups; each stratum counts by how much it tells of the two."""
    n = counts(rows)
    total = _table(rows, rows.y, n.shape)
    first, second = np.triu_indices(n.shape[1], 1)
    difference, information, n_first, n_second = _within(n, total, first, second)
    known = information > 0
    design = _designs(rows, n, information, noise.alike)
    usual = float(information @ design / information.sum()) if known.any() else 1.0
    mean, sd = _pulled(n, total, first, second, noise.variance * usual, prior)
    se = np.sqrt(noise.variance * design / np.where(known, information, np.nan))
    return Pairs(
        first=first,
        second=second,
        n_first=n_first,
        n_second=n_second,
        difference=difference,
        se=se,
        mean=np.where(known, mean, np.nan),
        sd=np.where(known, sd, np.nan),
        p_second=np.where(known, ndtr(mean / sd), np.nan),
        design=design,
        usual_design=usual,
    )


def needed_each(
    variance: ArrayLike, gap: float, power: float = 0.80, alpha: float = 0.05
) -> Floats:
    """Return the observations each of two groups needs to show a true ``gap``.

    One-sided level ``alpha``. ``variance``: of one observation, design effect included.
    """
    reach = float(ndtri(1 - alpha) + ndtri(power))
    needed: Floats = 2 * np.asarray(variance, float) * reach**2 / gap**2
    return needed


def _table(rows: Observations, values: Floats, shape: tuple[int, int]) -> Floats:
    cell = rows.stratum.astype(np.int64) * shape[1] + rows.group
    return np.bincount(cell, values, shape[0] * shape[1]).astype(float).reshape(shape)


def _within(
    n: Floats, total: Floats, first: Ints, second: Ints
) -> tuple[Floats, Floats, Floats, Floats]:
    """Return difference, information and shots of each pair from the strata that both have.

    A stratum's weight n1 n2 / (n1 + n2) is the precision of its difference.
    """
    n1, n2 = n[:, first], n[:, second]
    both = (n1 > 0) & (n2 > 0)
    weight = np.divide(n1 * n2, n1 + n2, out=np.zeros_like(n1), where=both)
    mean = np.divide(total, n, out=np.zeros_like(n), where=n > 0)
    information = weight.sum(axis=0)
    apart = (weight * (mean[:, second] - mean[:, first])).sum(axis=0)
    difference = np.divide(
        apart, information, out=np.full_like(apart, np.nan), where=information > 0
    )
    return difference, information, (n1 * both).sum(axis=0), (n2 * both).sum(axis=0)


def _designs(rows: Observations, n: Floats, information: Floats, alike: Alike) -> Floats:
    """Return by what the rounds raise the variance of each pair's difference.

    An observation's weight in it is its stratum's share of the information over the group's size
    there.
    """
    rounds = int(rows.cluster.max(initial=-1)) + 1
    of = [np.flatnonzero(rows.group == group) for group in range(n.shape[1])]
    designs = np.ones(len(information))
    for k, (a, b) in enumerate(zip(*np.triu_indices(n.shape[1], 1), strict=True)):
        if information[k] <= 0:
            continue
        share = 1 / (n[:, a] + n[:, b]).clip(1) / information[k]
        mine = [
            sums(rows.cluster[of[g]], (share * n[:, other])[rows.stratum[of[g]]], rounds)
            for g, other in ((a, b), (b, a))
        ]
        designs[k] = lift(alike, 1 / information[k], -mine[0], mine[1])
    return designs


def _pulled(
    n: Floats, total: Floats, first: Ints, second: Ints, variance: float, prior: Prior
) -> tuple[Floats, Floats]:
    """Return posterior mean and sd of each difference, all groups about their common mean."""
    size = n.sum(axis=1)
    seen = size > 0
    share = np.divide(n, size[:, None], out=np.zeros_like(n), where=seen[:, None])
    tells = (np.diag(n.sum(axis=0)) - n.T @ share) / variance
    pull = (total.sum(axis=0) - share.T @ total.sum(axis=1)) / variance
    groups = n.shape[1]
    own = 2 / prior.difference_sd**2  # a group's own level has half the variance of a difference
    precision = tells + own * (np.eye(groups) - 1 / groups)
    covariance = np.linalg.pinv(precision, hermitian=True)
    centre = covariance @ pull
    spread = covariance[first, first] + covariance[second, second] - 2 * covariance[first, second]
    return centre[second] - centre[first], np.sqrt(spread)
