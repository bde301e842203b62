"""A curve as a base plus a smooth shift: hat functions in ln x, shrunk towards no shift at all.

shift(x) = H(x) delta, delta ~ N(0, C). Hat function j is 1 at node j, 0 at its neighbours and
straight in ln x between; before the first and after the last node the end value holds. Without
data delta is 0 exactly, so the curve is the base.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import expit

Floats = NDArray[np.float64]

MAX_STEPS = 100
STEP_DONE = 1e-10


@dataclass(frozen=True, slots=True)
class Prior:
    """How nodes are believed to shift: together, and each on its own with its neighbours.

    ``common``: sd of a shift of the whole curve; ``tilt``: sd of a straight line in ln x about the
    nodes' middle, per unit of ln x; ``local``: sd of the rest; ``reach``: distance in ln x over
    which the rest stays alike (its correlation is exp(-gap^2 / (2 reach^2))). ``shape``: at given
    nodes one sd of a shift along a known direction, where there is one.
    """

    common: float
    tilt: float
    local: float
    reach: float
    shape: Callable[[Floats], Floats] | None = None

    def covariance(self, nodes: ArrayLike) -> Floats:
        """Return the (k, k) covariance of the shifts at k nodes above 0."""
        at = np.log(np.asarray(nodes, float))
        gap = at[:, None] - at[None, :]
        alike: Floats = np.exp(-(gap**2) / (2 * self.reach**2))
        line = at - at.mean()
        whole = self.common**2 + self.tilt**2 * np.outer(line, line) + self.local**2 * alike
        if self.shape is None:
            return whole
        known = self.shape(np.asarray(nodes, float))
        return whole + np.outer(known, known)


@dataclass(frozen=True, slots=True)
class Shift:
    """What is believed of the nodes' shifts: normal, mean (k,) and covariance (k, k)."""

    nodes: Floats
    mean: Floats
    covariance: Floats

    def at(self, x: ArrayLike) -> Floats:
        """Return the mean shift at each x, shape (n,)."""
        shift: Floats = hats(x, self.nodes) @ self.mean
        return shift

    def sd(self, x: ArrayLike) -> Floats:
        """Return the sd of the shift at each x, shape (n,)."""
        basis = hats(x, self.nodes)
        sd: Floats = np.sqrt(np.einsum("ij,jk,ik->i", basis, self.covariance, basis))
        return sd

    def draws(self, x: ArrayLike, n: int, rng: np.random.Generator) -> Floats:
        """Return n drawn curves of shifts at each x, shape (n, len(x))."""
        drawn = rng.multivariate_normal(self.mean, self.covariance, size=n, method="cholesky")
        curves: Floats = drawn @ hats(x, self.nodes).T
        return curves


def hats(x: ArrayLike, nodes: ArrayLike) -> Floats:
    """Return the (n, k) hat functions of ``nodes`` (k,), rising, at ``x`` (n,), all above 0."""
    at, places = np.log(np.asarray(x, float)), np.log(np.asarray(nodes, float))
    return np.stack([np.interp(at, places, unit) for unit in np.eye(len(places))], axis=-1)


def no_shift(nodes: ArrayLike, prior: Prior) -> Shift:
    """Return what is believed without data: no shift, with the prior's covariance."""
    at = np.asarray(nodes, float)
    return Shift(at, np.zeros(len(at)), prior.covariance(at))


def normal_shift(
    x: ArrayLike, residual: ArrayLike, nodes: ArrayLike, prior: Prior, sd: float
) -> Shift:
    """Return the shift of normal observations with a known sd: conjugate, in closed form.

    ``x``, ``residual``: (n,), the observation less the base there.
    """
    start = no_shift(nodes, prior)
    basis = hats(x, start.nodes)
    information = basis.T @ basis / sd**2
    weighted = basis.T @ np.asarray(residual, float) / sd**2
    covariance = _posterior(start.covariance, information)
    return Shift(start.nodes, covariance @ weighted, covariance)


def logit_shift(
    x: ArrayLike,
    outcome: ArrayLike,
    base_logit: ArrayLike,
    nodes: ArrayLike,
    prior: Prior,
    tries: ArrayLike | None = None,
) -> Shift:
    """Return the shift on the logit scale of outcomes 0 and 1: Newton's steps to the mode.

    ``x``, ``outcome``, ``base_logit``: (n,). With ``tries`` (n,) each row stands for that many
    tries and ``outcome`` counts the ones. The covariance is the normal approximation at the mode.
    """
    start = no_shift(nodes, prior)
    basis = hats(x, start.nodes)
    seen, base = np.asarray(outcome, float), np.asarray(base_logit, float)
    many = np.ones(len(seen)) if tries is None else np.asarray(tries, float)
    mode, covariance = start.mean, start.covariance
    for _ in range(MAX_STEPS):
        chance = expit(base + basis @ mode)
        information = (basis.T * (many * chance * (1 - chance))) @ basis
        covariance = _posterior(start.covariance, information)
        # the gradient's prior part, C^-1 mode, is folded in: new = S (information mode + score)
        new = covariance @ (information @ mode + basis.T @ (seen - many * chance))
        step, mode = np.abs(new - mode).max(), new
        if step < STEP_DONE:
            return Shift(start.nodes, mode, covariance)
    raise ArithmeticError(f"Newton's steps have not arrived after {MAX_STEPS}: last {step:g}")


def _posterior(prior: Floats, information: Floats) -> Floats:
    """Return (prior^-1 + information)^-1 without inverting the prior, which may be near-singular.

    With prior = L L': (prior^-1 + I)^-1 = L (1 + L' I L)^-1 L'.
    """
    from scipy.linalg import cho_factor, cho_solve

    root = np.linalg.cholesky(prior)
    inner = np.eye(len(prior)) + root.T @ information @ root
    covariance: Floats = np.asarray(root @ cho_solve(cho_factor(inner), root.T), np.float64)
    whole: Floats = (covariance + covariance.T) / 2
    return whole
