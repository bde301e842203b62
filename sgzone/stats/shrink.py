"""Many cells at once: each cell's mean pulled towards what the cells have in common.

y_j ~ N(theta_j, v_j); theta = X b + u; b ~ N(0, diag(spread)^2); u_j ~ N(0, (tau scale_j)^2), with
known scales. tau is unknown:
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
from scipy.special import logsumexp, ndtr, ndtri

from sgzone.stats.cluster import Ints, sums

Floats = NDArray[np.float64]

TAU = np.linspace(0.008, 0.4, 50)
TAU_SCALE = 0.06
"""Where the prior of tau has its peak: a player's cells differ by about 0.06 strokes per shot."""
INTERCEPT_SPREAD = 1.0
PRIOR_DF = 30.0
"""What the pooled variance counts for in a cell's own: medium putts scatter a third more than
short ones, and one variance for all called a benchmark player's medium putts a clear loss."""
_TINY_VARIANCE = 1e-12
_TINY_DENSITY = 1e-300
_CLOSE = 1e-13  # strokes
_STEPS = 60  # halving the bracket that often would do too
_ROOT_TWO_PI = np.sqrt(2 * np.pi)


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

    def draw(self, draws: int, rng: np.random.Generator) -> Floats:
        """Return draws of all cells' true means, shape (draws, cells); one tau a draw."""
        at = rng.choice(len(self.weight), size=draws, p=self.weight)
        drawn: Floats = rng.normal(self.centre[at], self.spread[at])
        return drawn

    def below(self, value: ArrayLike) -> Floats:
        """Return P(theta < value) per cell; ``value`` is one number or one per cell."""
        standard = (np.asarray(value, float) - self.centre) / self.spread
        probability: Floats = np.minimum(self.weight @ ndtr(standard), 1.0)
        return probability

    def quantile(self, p: float) -> Floats:
        """Return the p-quantile of each cell's mixture, by Newton's steps kept in a bracket."""
        low: Floats = (self.centre - 10 * self.spread).min(axis=0)
        high: Floats = (self.centre + 10 * self.spread).max(axis=0)
        value = self.mean + self.sd * float(ndtri(p))
        for _ in range(_STEPS):
            standard = (value - self.centre) / self.spread
            excess = self.weight @ ndtr(standard) - p
            low, high = np.where(excess < 0, value, low), np.where(excess < 0, high, value)
            density = self.weight @ (np.exp(-0.5 * standard**2) / self.spread) / _ROOT_TWO_PI
            step = value - excess / np.maximum(density, _TINY_DENSITY)
            inside = (step > low) & (step < high)
            after = np.where(inside, step, 0.5 * (low + high))
            done = np.abs(after - value).max(initial=0.0) < _CLOSE
            value = after
            if done:
                break
        return value


@dataclass(frozen=True, slots=True)
class Noise:
    """How single observations scatter in their cells.

    ``variance``: of one observation, per cell: its own, pulled towards the pooled one as if that
    held ``PRIOR_DF`` degrees of freedom. ``icc``: the share of it that a cell's round has in
    common, one number for all.
    """

    variance: Floats
    icc: float


def observation_noise(
    cell: Ints, n: ArrayLike, total: ArrayLike, squares: ArrayLike, n_cells: int
) -> Noise:
    """Estimate the scatter of one observation in each cell, and the share a round has in common.

    One row per cell and round: ``n`` observations, their sum and sum of squares; every cell has
    one at least. The share is the analysis-of-variance estimate over all cells, floored at 0.
    NaN variance where no cell has two observations.
    """
    n, total, squares = (np.asarray(x, float) for x in (n, total, squares))
    size = sums(cell, n, n_cells)
    about_mean = np.maximum(
        sums(cell, squares, n_cells) - sums(cell, total, n_cells) ** 2 / size, 0.0
    )
    df = size.sum() - n_cells
    if df <= 0:
        return Noise(np.full(n_cells, np.nan), 0.0)
    pooled = about_mean.sum() / df
    variance = (PRIOR_DF * pooled + about_mean) / (PRIOR_DF + size - 1)

    within = float((squares - total**2 / n).sum())
    df_within, df_between = n.sum() - len(n), float(len(n) - n_cells)
    if df_within <= 0 or df_between <= 0 or within <= 0:
        return Noise(variance, 0.0)
    per_group = (size - sums(cell, n**2, n_cells) / size).sum()
    mean_square = within / df_within
    between = about_mean.sum() - within
    shared = max((between - df_between * mean_square) / per_group, 0.0)
    return Noise(variance, float(shared / (shared + mean_square)))


def cell_variances(n: ArrayLike, rounds: ArrayLike, noise: Noise) -> Floats:
    """Return the variance of each cell's mean, raised where its rounds hold many shots.

    And by G / (G - 1), as the interval of a single cell is, where there are few rounds.
    """
    n, rounds = np.asarray(n, float), np.asarray(rounds, float)
    raised = np.maximum(1.0, 1.0 + (n / rounds - 1.0) * noise.icc)
    raised *= rounds / np.maximum(rounds - 1.0, 1.0)
    variance: Floats = noise.variance / n * raised
    return variance


def shrink(
    estimate: ArrayLike,
    variance: ArrayLike,
    design: Floats | None = None,
    spread: ArrayLike = (),
    scale: ArrayLike = 1.0,
) -> Posterior:
    """Return the posterior of each cell's true mean.

    ``estimate`` and ``variance``: shape (cells,), finite. ``design``: further columns of X beside
    the intercept, shape (cells, columns), with the prior sd of each coefficient in ``spread``.
    ``scale``: how much a cell may differ from what X says, relative to the others, above 0.
    """
    y = np.asarray(estimate, float)
    v = np.maximum(np.asarray(variance, float), _TINY_VARIANCE)
    X = np.ones((len(y), 1)) if design is None else np.column_stack([np.ones(len(y)), design])
    prior = np.diag(1.0 / np.array([INTERCEPT_SPREAD, *np.asarray(spread, float)]) ** 2)

    apart = (TAU[:, None] * np.asarray(scale, float)) ** 2
    precision = 1.0 / (apart + v)  # (taus, cells)
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
    own = apart * precision  # how far a cell trusts its own mean
    common = np.matmul(X, b.T).T
    doubt = np.einsum("ji,tik,jk->tj", X, covariance, X)
    return Posterior(
        weight=np.exp(log_weight - logsumexp(log_weight)),
        centre=own * y + (1 - own) * common,
        spread=np.sqrt(own * v + (1 - own) ** 2 * doubt),
    )
