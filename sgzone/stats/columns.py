"""The columns of X of cells in groups: sums over each group, and values of each cell.

Kept sparse, each cell's columns beside those of the other cells of its group: one product then
does for all columns and groups what a loop over columns takes several times as long for.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from sgzone.stats.cluster import Ints

Floats = NDArray[np.float64]


class Columns:
    """X of all cells. ``x``: (columns, cells); ``of``: group of each cell, from 0 on, all used.

    Values of cells have shape (cells, taus), those of groups (groups, taus) after the columns.
    """

    def __init__(self, x: Floats, of: Ints) -> None:
        self.of, self.groups = of, int(of.max(initial=-1)) + 1
        self._count, self._pair = len(x), np.tril_indices(len(x))
        self._twice = np.where(self._pair[0] == self._pair[1], 1.0, 2.0)[:, None, None]
        self._one = self._beside(np.ones((1, len(of))))
        self._x = self._beside(x)
        self._xx = self._beside(x[self._pair[0]] * x[self._pair[1]])

    def total(self, values: Floats) -> Floats:
        """Return the sum of values over each group."""
        total: Floats = self._summed(self._one, 1, values)[0]
        return total

    def sums(self, values: Floats) -> Floats:
        """Return the sums of x' value, (columns, groups, taus)."""
        return self._summed(self._x, self._count, values)

    def products(self, values: Floats) -> Floats:
        """Return the sums of x' value x, (columns, columns, groups, taus)."""
        summed = self._summed(self._xx, len(self._pair[0]), values)
        both = np.empty((self._count, self._count, *summed.shape[1:]))
        both[self._pair] = both[self._pair[::-1]] = summed
        return both

    def along(self, coefficients: Floats) -> Floats:
        """Return x b of each cell; ``coefficients``: (columns, groups, taus)."""
        along: Floats = self._x @ _stacked(coefficients)
        return along

    def across(self, matrices: Floats) -> Floats:
        """Return x M x' of each cell; ``matrices``: symmetric, (columns, columns, groups, taus)."""
        across: Floats = self._xx @ _stacked(self._twice * matrices[self._pair])
        return across

    def _beside(self, x: Floats) -> csr_array:
        columns, cells = x.shape
        place = self.of[:, None] * columns + np.arange(columns)
        first = np.arange(cells + 1) * columns
        shape = (cells, self.groups * columns)
        return csr_array((x.T.ravel(), place.ravel(), first), shape=shape)

    def _summed(self, x: csr_array, columns: int, values: Floats) -> Floats:
        summed: Floats = x.T @ values
        return summed.reshape(self.groups, columns, values.shape[1]).swapaxes(0, 1)


def _stacked(values: Floats) -> Floats:
    """Return values (columns, groups, taus) in the order of the sparse columns."""
    stacked: Floats = values.swapaxes(0, 1).reshape(-1, values.shape[-1])
    return stacked
