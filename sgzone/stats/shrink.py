"""Many cells at once: each cell's mean pulled towards what the cells have in common.

y_j ~ N(theta_j, v_j); theta = X b + u; b ~ N(0, diag(spread)^2); u ~ N(0, tau^2). tau is unknown:
its values stand on a grid and are mixed by prior and marginal likelihood. Given tau everything is
normal and in closed form, so the answer is a mixture of normals per cell and nothing has to
converge.

The prior of tau is a Rayleigh density, tau exp(-tau^2 / (2 scale^2)). A half-normal, which has
its peak at no difference between the cells, made 80% intervals that cover 74-77% where the cells
differ by 0.03-0.06; this one covers 77-83% there, with no more squared error.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import logsumexp, ndtr

from sgzone.stats.cluster import Ints, sums

Floats = NDArray[np.float64]

TAU = np.linspace(0.008, 0.4, 50)
TAU_SCALE = 0.06
"""Where the prior of tau has its peak: a player's cells differ by about 0.06 strokes per shot."""
INTERCEPT_SPREAD = 1.0
_TINY_VARIANCE = 1e-12
_BISECTIONS = 48


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is believed of each cell: a mixture over tau of normals.

    ``weight`` has shape (taus,) and sums to 1; ``centre`` and ``spread`` (taus, cells).
    """

    weight: Floats
    centre: Floats
    spread: Floats

    @property
    def mean(self) -> Floats:
        """Return the posterior mean of each cell."""
        mean: Floats = self.weight @ self.centre
        return mean

    @property
    def sd(self) -> Floats:
        """Return the posterior standard deviation of each cell."""
        second = self.weight @ (self.spread**2 + self.centre**2)
        sd: Floats = np.sqrt(np.maximum(second - self.mean**2, 0.0))
        return sd

    def below(self, value: ArrayLike) -> Floats:
        """Return P(theta < value) per cell; ``value`` is one number or one per cell."""
        standard = (np.asarray(value, float) - self.centre) / self.spread
        probability: Floats = np.minimum(self.weight @ ndtr(standard), 1.0)
        return probability

    def quantile(self, p: float) -> Floats:
        """Return the p-quantile of each cell's mixture, by bisection."""
        low: Floats = (self.centre - 10 * self.spread).min(axis=0)
        high: Floats = (self.centre + 10 * self.spread).max(axis=0)
        for _ in range(_BISECTIONS):
            middle = 0.5 * (low + high)
            short = self.below(middle) < p
            low, high = np.where(short, middle, low), np.where(short, high, middle)
        return 0.5 * (low + high)


@dataclass(frozen=True, slots=True)
class Noise:
    """What the cells share: ``variance`` of one observation, ``icc`` of a cell's own round."""

    variance: float
    icc: float


def pooled_noise(cell: Ints, n: ArrayLike, total: ArrayLike, squares: ArrayLike) -> Noise:
    """Estimate the pooled variance in a cell and the share of it that a whole round has in common.

    One row per cell and round: ``n`` observations, their sum and sum of squares. The share is
    the analysis-of-variance estimate over all cells, floored at 0. NaN variance where no cell
    has two observations.
    """
    n, total, squares = (np.asarray(x, float) for x in (n, total, squares))
    n_cells = int(cell.max(initial=-1)) + 1
    size, rounds = sums(cell, n, n_cells), np.bincount(cell, minlength=n_cells)
    whole = sums(cell, total, n_cells)
    used = size > 0
    about_mean = float(squares.sum() - (whole[used] ** 2 / size[used]).sum())
    within = float((squares - total**2 / n).sum())
    df_within = float(n.sum() - len(n))
    df_between = float((rounds[used] - 1).sum())
    df_cells = df_within + df_between
    if df_cells <= 0:
        return Noise(np.nan, 0.0)
    variance = max(about_mean, 0.0) / df_cells
    if df_within <= 0 or df_between <= 0 or within <= 0:
        return Noise(variance, 0.0)
    per_group = float((size - sums(cell, n**2, n_cells) / np.where(used, size, 1)).sum())
    mean_square = within / df_within
    shared = max(((about_mean - within) / df_between - mean_square) * df_between / per_group, 0.0)
    return Noise(variance, shared / (shared + mean_square))


def cell_variances(n: ArrayLike, rounds: ArrayLike, noise: Noise) -> Floats:
    """Return the variance of each cell's mean: pooled, raised where rounds hold many shots."""
    n, rounds = np.asarray(n, float), np.asarray(rounds, float)
    raised: Floats = np.maximum(1.0, 1.0 + (n / rounds - 1.0) * noise.icc)
    return noise.variance / n * raised


def shrink(
    estimate: ArrayLike,
    variance: ArrayLike,
    design: Floats | None = None,
    spread: ArrayLike = (),
) -> Posterior:
    """Return the posterior of each cell's true mean.

    ``estimate`` and ``variance``: shape (cells,), finite. ``design``: further columns of X beside
    the intercept, shape (cells, columns), with the prior sd of each coefficient in ``spread``.
    """
    y = np.asarray(estimate, float)
    v = np.maximum(np.asarray(variance, float), _TINY_VARIANCE)
    X = np.ones((len(y), 1)) if design is None else np.column_stack([np.ones(len(y)), design])
    prior = np.diag(1.0 / np.array([INTERCEPT_SPREAD, *np.asarray(spread, float)]) ** 2)

    precision = 1.0 / (TAU[:, None] ** 2 + v)  # (taus, cells)
    weighted = precision[:, :, None] * X  # (taus, cells, columns)
    information = prior + np.matmul(weighted.transpose(0, 2, 1), X)
    covariance = np.linalg.inv(information)
    pull = np.matmul(weighted.transpose(0, 2, 1), y)  # (taus, columns)
    b = np.einsum("tij,tj->ti", covariance, pull)
    fit = (precision * y**2).sum(axis=1) - (pull * b).sum(axis=1)
    log_weight = -0.5 * (
        fit
        - np.log(precision).sum(axis=1)
        + np.linalg.slogdet(information).logabsdet
        + (TAU / TAU_SCALE) ** 2
        - 2 * np.log(TAU)
    )
    own = TAU[:, None] ** 2 * precision  # how far a cell trusts its own mean
    common = np.matmul(X, b.T).T
    doubt = np.einsum("ji,tik,jk->tj", X, covariance, X)
    return Posterior(
        weight=np.exp(log_weight - logsumexp(log_weight)),
        centre=own * y + (1 - own) * common,
        spread=np.sqrt(own * v + (1 - own) ** 2 * doubt),
    )
