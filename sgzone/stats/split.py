"""Split a mean value of two-dimensional misses over bias and spread of either axis, adding up.

A miss is (first, second); its worth depends on the radius only and comes in one or more columns.
Each of the four factors, bias and spread of either axis, is on (the sample's own) or off (the
reference's). The sample's standardised misses are moved to the mean and sd of each of the 16
on/off sets, the mean value of each set is taken, and a factor gets its Shapley value: the mean of
what switching it on adds, over all orders of switching. The four add up to (all on) - (all off).

What the reference's misses are worth is known better than their shape. So the reference may be
scaled, sample by sample, until the sample's own standardised misses on it are worth just that.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from math import factorial

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Value = Callable[[Floats], Floats]
"""Radii of any shape (...) to columns of value (k, ...)."""

FIRST_BIAS, FIRST_SPREAD, SECOND_BIAS, SECOND_SPREAD = range(4)
N_FACTORS = 4
_SETS = tuple(product((False, True), repeat=N_FACTORS))
_CELLS_AT_A_TIME = 100_000  # draws x 16 sets x misses at once: few enough for a processor's cache
_SCALES = (0.3, 2.6)  # where the reference's scale is searched
_STEPS = 4  # secant steps from the scale of all draws together; what is left is 1e-5 or less


@dataclass(frozen=True, slots=True)
class Reference:
    """Mean and sd of the reference on both axes, one per miss, shape (n,), the misses' unit."""

    first_mean: Floats
    first_sd: Floats
    second_mean: Floats
    second_sd: Floats


@dataclass(frozen=True, slots=True)
class RadialTable:
    """Columns of value on a grid of radii 0, step, 2 step, ...; straight lines between.

    ``columns``: (k, m). Radii beyond the grid take its last value. An evenly spaced grid needs no
    search, which is what makes some hundred draws affordable.
    """

    step: float
    columns: Floats

    def __call__(self, radius: Floats) -> Floats:
        """Return the columns at radii of any shape (...): (k, ...)."""
        last = self.columns.shape[1] - 1
        place = np.minimum(radius / self.step, last)
        left = np.minimum(place.astype(np.intp), last - 1)
        place -= left
        found = np.empty((len(self.columns), *radius.shape))
        for number, column in enumerate(self.columns):
            # column by column: one look-up in two dimensions takes several times as long
            out = found[number, ...]
            np.take(np.diff(column), left, out=out, mode="clip")
            out *= place
            out += np.take(column, left, mode="clip")
        return found


def debias(mean: Floats, variance: Floats, n: Floats) -> tuple[Floats, Floats]:
    """Return mean and sd after taking the mean's own sampling noise out of its square.

    ``variance`` is the mean square about the mean (divisor n). The mean square as a whole,
    mean^2 + variance, stays: what is taken from the bias goes to the spread.
    """
    noise = np.divide(variance, n - 1, out=np.full_like(variance, np.inf), where=n > 1)
    kept = np.sign(mean) * np.sqrt(np.maximum(mean**2 - noise, 0.0))
    return kept, np.sqrt(np.maximum(variance + mean**2 - kept**2, 0.0))


def shapley_matrix() -> Floats:
    """Return the (4, 16) matrix that turns the values of the sets into the four factors' shares.

    Sets are numbered as binary digits, the first factor highest.
    """
    matrix = np.zeros((N_FACTORS, len(_SETS)))
    for number, members in enumerate(_SETS):
        size = sum(members)
        for factor, inside in enumerate(members):
            others = size - inside
            weight = factorial(others) * factorial(N_FACTORS - 1 - others) / factorial(N_FACTORS)
            matrix[factor, number] = weight if inside else -weight
    return matrix


@dataclass(frozen=True, slots=True)
class Misses:
    """Misses on both axes, (n,), and the group (a round, 0 to G - 1) each belongs to, (n,)."""

    first: Floats
    second: Floats
    group: NDArray[np.intp]


def set_means(
    misses: Misses,
    reference: Reference,
    value: Value,
    weights: Floats,
    scale: Floats | None = None,
) -> Floats:
    """Return the mean value of each of the 16 sets, shape (draws, 16, k).

    Bias and spread are measured in units of the reference's sd of each miss, so misses of
    different scale may stand together. ``weights``: (draws, G), how often each group counts in
    each draw. ``scale``: (draws,), times the reference's mean and sd; without it 1. A draw with no
    weight on any miss is NaN.
    """
    scale = np.ones(len(weights)) if scale is None else scale
    axes = _axes(misses, reference)
    blocks = []
    for block, at in _blocks(weights, len(misses.group)):
        some = block[:, misses.group]
        a, b = (axis.sets(some, scale[at]) for axis in axes)
        radius = np.sqrt((a**2)[:, :, None] + (b**2)[:, None])
        worth = value(radius)
        total = np.einsum("kdabn,dn->dabk", worth, some)
        count = some.sum(axis=1)
        count = np.where(count > 0, count, np.nan)
        blocks.append(total.reshape(len(some), len(_SETS), -1) / count[:, None, None])
    return np.concatenate(blocks)


def reference_scale(
    misses: Misses, reference: Reference, value: Value, weights: Floats, wanted: Floats
) -> Floats:
    """Return by what the reference's mean and sd are multiplied to be worth ``wanted``, (draws,).

    The misses are the sample's own standardised ones, so tails and mishits are the sample's.
    ``wanted``: (draws,), the mean of the columns' sum. What is out of reach gets the nearer end of
    the search; a draw with no weight on any miss gets 1.
    """
    axes = _axes(misses, reference)

    def worth_of(rows: Floats) -> Callable[[Floats], Floats]:
        """Return what turns scales (rows,) into what the reference is then worth, (rows,)."""
        some = rows[:, misses.group]
        n, radius = some.sum(axis=1), np.hypot(*(axis.off(some) for axis in axes))
        n = np.where(n > 0, n, np.nan)
        return lambda c: (value(radius * c[:, None]).sum(axis=0) * some).sum(axis=1) / n

    count = weights @ np.bincount(misses.group, minlength=weights.shape[1])
    if not count.any():
        return np.ones(len(weights))
    pooled, level = worth_of(weights.sum(axis=0, keepdims=True)), np.nansum(wanted * count)
    start = _start(lambda c: float(pooled(np.array([c]))[0] - level / count.sum()))
    found = []
    for block, at in _blocks(weights, len(misses.group)):
        worth = worth_of(block)
        found.append(_secant(worth, wanted[at], start, len(block)))
    return np.concatenate(found)


def _start(apart: Callable[[float], float]) -> float:
    """Return about where a rising function of the scale is 0, or the nearer end of the search."""
    from scipy.optimize import brentq

    low, high = _SCALES
    if apart(low) >= 0:
        return low
    return high if apart(high) <= 0 else float(brentq(apart, low, high, xtol=0.01))


def _secant(worth: Callable[[Floats], Floats], wanted: Floats, start: float, n: int) -> Floats:
    """Return the n scales at which ``worth`` is what is wanted, from a start that is near all."""
    ends = np.log(_SCALES)
    old, new = (np.full(n, np.log(start) + off) for off in (-0.05, 0.05))
    old_apart, new_apart = worth(np.exp(old)) - wanted, worth(np.exp(new)) - wanted
    for _ in range(_STEPS):
        rise = new_apart - old_apart
        step = np.divide(new_apart * (new - old), rise, out=np.zeros(n), where=rise != 0)
        old, old_apart = new, new_apart
        new = np.clip(new - np.nan_to_num(step), *ends)
        new_apart = worth(np.exp(new)) - wanted
    return np.where(np.isfinite(new_apart), np.exp(new), 1.0)


def split(
    misses: Misses,
    reference: Reference,
    value: Value,
    weights: Floats,
    scale: Floats | None = None,
) -> Floats:
    """Return what each of the four factors costs, shape (draws, 4, k); arguments as ``set_means``.

    Factors in the order bias and spread of the first axis, bias and spread of the second.
    """
    means = set_means(misses, reference, value, weights, scale)
    shares: Floats = np.einsum("fs,dsk->dfk", shapley_matrix(), means)
    return shares


@dataclass(frozen=True, slots=True)
class _Axis:
    """One axis: the sample's misses from the reference's mean, that mean, both in its sds; the sd.

    All (n,).
    """

    apart: Floats
    mean: Floats
    sd: Floats

    def _own(self, weights: Floats) -> tuple[Floats, Floats, Floats]:
        """Return the draws' mean (draws,), sd (draws,) and standardised misses (draws, n)."""
        n = weights.sum(axis=1)
        some = np.where(n > 0, n, 1.0)  # an empty draw is set to NaN at the end
        mean = weights @ self.apart / some
        variance = np.maximum(weights @ self.apart**2 / some - mean**2, 0.0)
        sd = np.sqrt(variance)
        moved = self.apart - mean[:, None]
        z = np.divide(moved, sd[:, None], out=np.zeros_like(moved), where=sd[:, None] > 0)
        return (*debias(mean, variance, n), z)

    def sets(self, weights: Floats, scale: Floats) -> Floats:
        """Return the axis under bias off/on x spread off/on: (draws, 4, n), the misses' unit."""
        bias, spread, z = self._own(weights)
        off, on = scale[:, None] * self.mean, self.mean + bias[:, None]
        narrow, own = scale[:, None] * z, spread[:, None] * z
        found = np.stack([off + narrow, off + own, on + narrow, on + own], axis=1)
        return np.asarray(self.sd * found)

    def off(self, weights: Floats) -> Floats:
        """Return the axis with bias and spread off, at scale 1: (draws, n)."""
        return np.asarray(self.sd * (self.mean + self._own(weights)[2]))


def _axes(misses: Misses, reference: Reference) -> tuple[_Axis, _Axis]:
    r = reference
    return (
        _Axis((misses.first - r.first_mean) / r.first_sd, r.first_mean / r.first_sd, r.first_sd),
        _Axis(
            (misses.second - r.second_mean) / r.second_sd, r.second_mean / r.second_sd, r.second_sd
        ),
    )


def _blocks(weights: Floats, n: int) -> Iterator[tuple[Floats, slice]]:
    """Yield some rows of the weights after others, and which they are."""
    some = max(1, _CELLS_AT_A_TIME // (len(_SETS) * max(n, 1)))
    for start in range(0, len(weights), some):
        at = slice(start, start + some)
        yield weights[at], at
