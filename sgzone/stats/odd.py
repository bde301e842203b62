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
from scipy.special import logsumexp

from sgzone.stats.columns import Columns

Floats = NDArray[np.float64]

TIMES = 4.0
LEAST_CELLS = 3
"""Of two cells that differ nothing says which of them is the odd one."""
_TINY = 1e-9  # of a weight as small as this a difference of sums says nothing, and nothing hangs


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

    def believed(self, mean: Floats, doubt: Floats, times: float = 1.0) -> tuple[Floats, Floats]:
        """Return centre and spread of cells that differ ``times`` as much, by their x b."""
        apart = times**2 * self.apart
        own = apart / (apart + self.variance)  # how far a cell trusts its own mean
        centre = own * self.estimate + (1 - own) * mean
        return centre, np.sqrt(own * self.variance + (1 - own) ** 2 * doubt)


def with_one_odd(
    plain: Plain, columns: Columns, inverse: Floats, log_weight: Floats, chance: float
) -> tuple[Floats, Floats, Floats]:
    """Return weight, centre and spread where with ``chance`` one cell of a group is the odd one.

    ``columns``: X. ``inverse``: of the precision of its coefficients given tau, (columns, columns,
    groups, taus). ``log_weight``: of each tau in the usual model, (groups, taus), up to a constant
    of the group. Shapes out: (cells, 2 taus), for each tau the cell as one of the usual, then for
    each as the odd one.
    """
    precision = 1.0 / (plain.apart + plain.variance)
    less = 1.0 / (TIMES**2 * plain.apart + plain.variance) - precision
    remains = 1.0 + less * plain.doubt
    gain = less / remains
    off = plain.estimate - plain.mean
    log_ratio = 0.5 * (np.log1p(less / precision) - np.log(remains) - gain * off**2)
    odd, of_tau = _chances(log_ratio, columns, chance)
    log_weight = log_weight + of_tau
    weight = np.exp(log_weight - logsumexp(log_weight, axis=1, keepdims=True))[columns.of]

    # with cell k odd, b moves by V x_k shift_k, and V by V x_k x_k' V times -gain_k
    shift = gain * off
    bend = shift**2 - gain
    moved = np.einsum("abgt,bgt->agt", inverse, columns.sums(odd * shift))
    half = np.einsum("abgt,bcgt->acgt", inverse, columns.products(odd * bend))
    widened = np.einsum("abgt,bcgt->acgt", half, inverse)
    others = _among_others(columns.along(moved), odd, shift * plain.doubt)
    second = _among_others(columns.across(widened), odd, bend * plain.doubt**2)
    usual = plain.believed(plain.mean + others, np.maximum(plain.doubt + second - others**2, 0.0))
    itself = plain.believed(
        plain.mean + shift * plain.doubt, plain.doubt - gain * plain.doubt**2, TIMES
    )
    centre, spread = (np.hstack(both) for both in zip(usual, itself, strict=True))
    return np.hstack([weight * (1.0 - odd), weight * odd]), centre, spread


def _among_others(total: Floats, odd: Floats, own: Floats) -> Floats:
    """Return the mean over what else may be than this cell the odd one; ``total`` is of all."""
    rest = 1.0 - odd
    some = rest > _TINY
    return np.where(some, total - odd * own, 0.0) / np.where(some, rest, 1.0)


def _chances(log_ratio: Floats, columns: Columns, chance: float) -> tuple[Floats, Floats]:
    """Return how likely each cell is the odd one given tau, and the logarithm of what that adds.

    ``log_ratio``: likelihood with the cell odd over that with none. The second: (groups, taus).
    """
    count = np.bincount(columns.of)
    several = count >= LEAST_CELLS
    with np.errstate(divide="ignore"):
        each = np.log(np.where(several, chance / count, 0.0))
        none = np.log(np.where(several, 1.0 - chance, 1.0))[:, None]
    log_ratio = log_ratio + each[columns.of][:, None]
    order = np.argsort(columns.of, kind="stable")
    first = np.cumsum(count) - count
    top = np.maximum(none, np.maximum.reduceat(log_ratio[order], first, axis=0))
    odd = np.exp(log_ratio - top[columns.of])
    total = np.exp(none - top) + columns.total(odd)
    return odd / total[columns.of], top + np.log(total)
