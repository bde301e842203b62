"""A logistic curve in one variable, fitted by maximum likelihood (statsmodels)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import expit, ndtri

Floats = NDArray[np.float64]

_STEPS = 35
"""At most so many: as many as statsmodels' own fit of the curve takes."""
MIN_EACH = 5
"""Fewer of either outcome than this leave the slope to chance."""


@dataclass(frozen=True, slots=True)
class LogisticFit:
    """P(1 | x) = 1 / (1 + exp(-(intercept + slope x))), with the estimates' (2, 2) covariance."""

    intercept: float
    slope: float
    covariance: Floats
    n: int

    def curve(self, x: ArrayLike, level: float) -> tuple[Floats, Floats, Floats]:
        """Return chance, low and high at each x: the interval is formed on the logit scale."""
        at = np.asarray(x, float)
        design = np.column_stack([np.ones(at.size), at.ravel()])
        logit = design @ np.array([self.intercept, self.slope])
        se = np.sqrt(np.einsum("ij,jk,ik->i", design, self.covariance, design))
        half = ndtri(0.5 + level / 2) * se
        value, low, high = (expit(v).reshape(at.shape) for v in (logit, logit - half, logit + half))
        return value, low, high


def logistic_fit(
    x: ArrayLike, outcome: ArrayLike, groups: ArrayLike | None = None
) -> LogisticFit | None:
    """Fit the curve; None where one outcome hardly occurs or x separates the two.

    ``x``: (n,); ``outcome``: (n,) of 0 and 1; ``groups``: (n,), observations that share a group
    (a round) are not taken as independent in the covariance.
    """
    from statsmodels.discrete.discrete_model import Logit
    from statsmodels.tools.tools import add_constant

    at, seen = np.asarray(x, float), np.asarray(outcome, float)
    if not _can_be_fitted(at, seen):
        return None
    clusters = None if groups is None else np.unique(np.asarray(groups), return_inverse=True)[1]
    several = clusters is not None and clusters.max() > 0
    how = {"cov_type": "cluster", "cov_kwds": {"groups": clusters}} if several else {}
    fit = Logit(seen, add_constant(at)).fit(disp=0, warn_convergence=False, **how)
    if not fit.mle_retvals["converged"]:
        return None
    return LogisticFit(
        float(fit.params[0]), float(fit.params[1]), np.asarray(fit.cov_params()), len(seen)
    )


def logistic_line(x: ArrayLike, outcome: ArrayLike) -> tuple[float, float] | None:
    """Return the curve's intercept and slope alone; arguments and None as ``logistic_fit``.

    The same optimum: the same likelihood, climbed by the same Newton's method of statsmodels.
    Of statsmodels that method alone is loaded: the fit with its errors takes longer to import than
    the whole of an answer.
    """
    from statsmodels.base.optimizer import _fit_newton

    at, seen = np.asarray(x, float), np.asarray(outcome, float)
    if not _can_be_fitted(at, seen):
        return None
    design, n = np.column_stack([np.ones(len(at)), at]), len(at)

    def chance(params: Floats) -> Floats:
        return np.asarray(1 / (1 + np.exp(-np.dot(design, params))))

    def off(params: Floats) -> float:  # minus the log likelihood
        return -float(np.sum(np.log(np.where(seen == 1, chance(params), 1 - chance(params))))) / n

    def slope(params: Floats) -> Floats:
        return np.asarray(-np.dot(seen - chance(params), design) / n)

    def bend(params: Floats) -> Floats:
        p = chance(params)
        return np.asarray(np.dot(p * (1 - p) * design.T, design) / n)

    start = np.zeros(2)
    found, how = _fit_newton(off, slope, start, (), {}, disp=0, maxiter=_STEPS, hess=bend)
    return (float(found[0]), float(found[1])) if how["converged"] else None


def _can_be_fitted(at: Floats, seen: Floats) -> bool:
    """Return whether both outcomes occur often enough, and x does not part them."""
    ones, zeros = at[seen == 1], at[seen == 0]
    return min(len(ones), len(zeros)) >= MIN_EACH and not _separated(zeros, ones)


def _separated(zeros: Floats, ones: Floats) -> bool:
    """Say whether one value of x parts the outcomes: the steepest curve would fit best."""
    return bool(zeros.max() <= ones.min() or ones.max() <= zeros.min())
