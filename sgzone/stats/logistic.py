"""A logistic curve in one variable, fitted by maximum likelihood (statsmodels)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import expit, ndtri

Floats = NDArray[np.float64]

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
    ones, zeros = at[seen == 1], at[seen == 0]
    if min(len(ones), len(zeros)) < MIN_EACH or _separated(zeros, ones):
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


def _separated(zeros: Floats, ones: Floats) -> bool:
    """Say whether one value of x parts the outcomes: the steepest curve would fit best."""
    return bool(zeros.max() <= ones.min() or ones.max() <= zeros.min())
