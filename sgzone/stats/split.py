"""Split a mean value of two-dimensional misses over bias and spread of either axis, adding up.

A miss is (first, second); its worth depends on the radius only and comes in one or more columns.
Each of the four factors, bias and spread of either axis, is on (the sample's own) or off (the
reference's). The sample's standardised misses are moved to the mean and sd of each of the 16
on/off sets, the mean value of each set is taken, and a factor gets its Shapley value: the mean of
what switching it on adds, over all orders of switching. The four add up to (all on) - (all off).
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


def set_means(misses: Misses, reference: Reference, value: Value, weights: Floats) -> Floats:
    """Return the mean value of each of the 16 sets, shape (draws, 16, k).

    Bias and spread are measured in units of the reference's sd of each miss, so misses of
    different scale may stand together. ``weights``: (draws, G), how often each group counts in
    each draw. A draw with no weight on any miss is NaN.
    """
    u = (misses.first - reference.first_mean) / reference.first_sd
    v = (misses.second - reference.second_mean) / reference.second_sd
    blocks = []
    for block in _blocks(weights, len(u)):
        some = block[:, misses.group]
        a = reference.first_mean + reference.first_sd * _switched(u, some)
        b = reference.second_mean + reference.second_sd * _switched(v, some)
        radius = np.sqrt((a**2)[:, :, None] + (b**2)[:, None])
        worth = value(radius)
        total = np.einsum("kdabn,dn->dabk", worth, some)
        count = some.sum(axis=1)
        count = np.where(count > 0, count, np.nan)
        blocks.append(total.reshape(len(some), len(_SETS), -1) / count[:, None, None])
    return np.concatenate(blocks)


def split(misses: Misses, reference: Reference, value: Value, weights: Floats) -> Floats:
    """Return what each of the four factors costs, shape (draws, 4, k); arguments as ``set_means``.

    Factors in the order bias and spread of the first axis, bias and spread of the second.
    """
    means = set_means(misses, reference, value, weights)
    shares: Floats = np.einsum("fs,dsk->dfk", shapley_matrix(), means)
    return shares


def _switched(u: Floats, weights: Floats) -> Floats:
    """Return one axis under bias off/on x spread off/on: (draws, 4, n), reference units."""
    n = weights.sum(axis=1)
    some = np.where(n > 0, n, 1.0)  # an empty draw is set to NaN at the end
    mean = weights @ u / some
    variance = np.maximum(weights @ u**2 / some - mean**2, 0.0)
    sd = np.sqrt(variance)
    bias, spread = debias(mean, variance, n)
    apart = u - mean[:, None]
    z = np.divide(apart, sd[:, None], out=np.zeros_like(apart), where=sd[:, None] > 0)
    return np.stack(
        [z, spread[:, None] * z, bias[:, None] + z, (bias[:, None] + spread[:, None] * z)], axis=1
    )


def _blocks(weights: Floats, n: int) -> Iterator[Floats]:
    some = max(1, _CELLS_AT_A_TIME // (len(_SETS) * max(n, 1)))
    for start in range(0, len(weights), some):
        yield weights[start : start + some]
