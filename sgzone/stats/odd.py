"""One cell of a group may differ from what the cells have in common more than the others do.

Beside the usual model, in which every cell differs by about tau, stand as many as there are cells:
in each of them one cell, the odd one, differs by about ``TIMES`` tau. It is the usual model with
another weight for one cell, so it follows from that by a rank-one update, and the time grows with
the cells and not with their square.

For each tau a cell's mean is then a mixture: it is the odd one, or it is not. In the second case
another cell may be, or none, and these differ in the common part alone: their mixture, which would
have a normal for every other cell, is taken for one normal of its mean and variance.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from sgzone.stats.cluster import Ints

Floats = NDArray[np.float64]

TIMES = 4.0
LEAST_CELLS = 3
"""Of two cells that differ nothing says which of them is the odd one."""
_TINY = 1e-9  # of a weight as small as this a difference of sums says nothing, and nothing hangs


@dataclass(frozen=True, slots=True)
class Common:
    """What the cells of each group have in common: the columns of X, and their coefficients.

    ``beside``: (columns, cells). ``inverse``: of the coefficients' precision given tau, shape
    (columns, columns, groups, taus). ``of``: group of each cell; ``add``: adds up cells by group.
    """

    beside: Floats
    inverse: Floats
    of: Ints
    add: csr_array

    def along(self, coefficients: Floats) -> Floats:
        """Return x b of each cell; ``coefficients``: (columns, groups, taus)."""
        value = np.zeros((self.beside.shape[1], self.inverse.shape[-1]))
        for column, x in enumerate(self.beside):
            value += coefficients[column][self.of] * x[:, None]
        return value

    def across(self, matrices: Floats) -> Floats:
        """Return x M x' of each cell; ``matrices``: symmetric, shaped as ``inverse``."""
        value = np.zeros((self.beside.shape[1], self.inverse.shape[-1]))
        for column, x in enumerate(self.beside):
            for other in range(column + 1):
                times = (1.0 if other == column else 2.0) * x * self.beside[other]
                value += matrices[column, other][self.of] * times[:, None]
        return value

    def moved(self, values: Floats) -> Floats:
        """Return x V sum(x value) of each cell, the sum over its group; ``values``: (cells, taus)."""
        added = np.array([self.add @ (values * x[:, None]) for x in self.beside])
        return self.along(np.einsum("abgt,bgt->agt", self.inverse, added))

    def widened(self, values: Floats) -> Floats:
        """Return x V sum(x' value x) V x' of each cell."""
        added = np.empty_like(self.inverse)
        for i, j in zip(*np.tril_indices(len(self.beside)), strict=True):
            both = (self.beside[i] * self.beside[j])[:, None]
            added[i, j] = added[j, i] = self.add @ (values * both)
        half = np.einsum("abgt,bcgt->acgt", self.inverse, added)
        return self.across(np.einsum("abgt,bcgt->acgt", half, self.inverse))


@dataclass(frozen=True, slots=True)
class Plain:
    """The usual model given tau, all (cells, taus) but the first two, which are (cells, 1).

    ``apart``: variance of what a cell differs by. ``mean``, ``doubt``: of x b, and its variance.
    """

    estimate: Floats
    variance: Floats
    apart: Floats
    mean: Floats
    doubt: Floats

    def cells(self, mean: Floats, doubt: Floats, times: float = 1.0) -> tuple[Floats, Floats]:
        """Return centre and spread of cells that differ ``times`` as much, by their x b."""
        apart = times**2 * self.apart
        own = apart / (apart + self.variance)  # how far a cell trusts its own mean
        centre = own * self.estimate + (1 - own) * mean
        return centre, np.sqrt(own * self.variance + (1 - own) ** 2 * doubt)


def with_one_odd(
    plain: Plain, common: Common, log_weight: Floats, chance: float
) -> tuple[Floats, Floats, Floats]:
    """Return weight, centre and spread where with ``chance`` one cell of a group is the odd one.

    ``log_weight``: of each tau in the usual model, (groups, taus), with any constant. Shapes out
    (cells, 2 taus): for each tau the cell as one of the usual, then for each as the odd one.
    """
    precision = 1.0 / (plain.apart + plain.variance)
    less = 1.0 / (TIMES**2 * plain.apart + plain.variance) - precision
    remains = 1.0 + less * plain.doubt
    gain = less / remains
    off = plain.estimate - plain.mean
    log_ratio = 0.5 * (np.log1p(less / precision) - np.log(remains) - gain * off**2)
    odd, of_tau = _chances(log_ratio, common, chance)
    log_weight = log_weight + of_tau
    weight = np.exp(log_weight - log_weight.max(axis=1, keepdims=True))
    weight = (weight / weight.sum(axis=1, keepdims=True))[common.of]

    shift, bend = gain * off, gain * (gain * off**2 - 1.0)
    rest = 1.0 - odd
    some = rest > _TINY
    rest = np.where(some, rest, 1.0)
    others = np.where(some, common.moved(odd * shift) - odd * shift * plain.doubt, 0.0) / rest
    second = np.where(some, common.widened(odd * bend) - odd * bend * plain.doubt**2, 0.0) / rest
    doubt = np.maximum(plain.doubt + second - others**2, 0.0)
    usual = plain.cells(plain.mean + others, doubt)
    itself = plain.cells(
        plain.mean + shift * plain.doubt, plain.doubt - gain * plain.doubt**2, TIMES
    )
    weight = np.hstack([weight * (1.0 - odd), weight * odd])
    return weight, *(np.hstack(both) for both in zip(usual, itself, strict=True))


def _chances(log_ratio: Floats, common: Common, chance: float) -> tuple[Floats, Floats]:
    """Return how likely each cell is the odd one given tau, and the logarithm of what that adds.

    ``log_ratio``: likelihood with the cell odd over that with none. The second: (groups, taus).
    """
    count = np.bincount(common.of)
    several = count >= LEAST_CELLS
    with np.errstate(divide="ignore"):
        each = np.log(np.where(several, chance / count, 0.0))
        none = np.log(np.where(several, 1.0 - chance, 1.0))[:, None]
    log_ratio = log_ratio + each[common.of][:, None]
    order = np.argsort(common.of, kind="stable")
    first = np.cumsum(count) - count
    top = np.maximum(none, np.maximum.reduceat(log_ratio[order], first, axis=0))
    odd = np.exp(log_ratio - top[common.of])
    total = np.exp(none - top) + common.add @ odd
    return odd / total[common.of], top + np.log(total)
