"""How alike the observations of one round are, within a group and from one group to another.

A day that is good for every club adds the same to both groups of a comparison and drops out of
their difference; a day that is good for one club does not. So two shares of an observation's
variance are told apart: ``own``, what two observations of one group and round have in common, and
``across``, what two of different groups and one round have.

Each is the mean product of two residuals over all such couples of observations. k couples tell a
share to about 1 / sqrt(k), which in a season is seldom better than the share itself is large. So
both are pulled towards ``USUAL``, by how well the couples tell them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sgzone.stats.cluster import Ints, sums

Floats = NDArray[np.float64]

USUAL = 0.012
"""The share that is expected before looking: that of simulated and of most real seasons."""
USUAL_SD = 0.05
"""How far a season's share may be from it; .03 pulls a share of .10 down so far that an interval
at 80% covers two points less, and nothing is gained where the share is small."""


@dataclass(frozen=True, slots=True)
class Alike:
    """Shares of an observation's variance: ``own`` and, no larger, ``across``."""

    own: float = 0.0
    across: float = 0.0


@dataclass(frozen=True, slots=True)
class Places:
    """Where each observation belongs, codes from 0 on, shape (n,).

    ``cell``: what its mean is taken over, inside a ``group``. ``cluster``: its round.
    """

    cell: Ints
    group: Ints
    cluster: Ints


def alike(y: Floats, at: Places, variance: float) -> Alike:
    """Return the shares found in ``y``; ``variance``: of one observation."""
    cells, clusters = int(at.cell.max(initial=-1)) + 1, int(at.cluster.max(initial=-1)) + 1
    size = np.bincount(at.cell, minlength=cells)
    error = y - (sums(at.cell, y, cells) / size)[at.cell]
    met, there = np.unique(at.cell.astype(np.int64) * clusters + at.cluster, return_counts=True)
    of_cell = met // clusters
    # a mean over few rounds takes much of what their days do to it out of its residuals
    spread = np.sqrt(1 - np.bincount(of_cell, there**2, cells) / size**2)[at.cell]
    # and residuals of one cell are unlike each other, by 1 / size, where nothing is alike
    unlike = float((there * (there - 1) / size[of_cell]).sum())
    turn = at.group.astype(np.int64) * clusters + at.cluster
    (own, own_n), (every, every_n) = (
        (_couples(error, where), _couples(spread, where)) for where in (turn, at.cluster)
    )
    share = _pulled(own / variance + unlike, own_n)
    return Alike(share, min(_pulled((every - own) / variance, every_n - own_n), share))


def _couples(values: Floats, where: Ints) -> float:
    """Return the sum of products over all couples of values that are in one place."""
    of = np.unique(where, return_inverse=True)[1]
    return float((np.bincount(of, values) ** 2).sum() - (values**2).sum())


def _pulled(total: float, couples: float) -> float:
    """Return total / couples pulled towards the usual share, at least 0.

    Each couple stands twice in the sums, so the mean has a variance of about 2 / couples.
    """
    found = USUAL_SD**2 * couples
    return max((2 * USUAL + USUAL_SD**2 * total) / (2 + found), 0.0)


def lift(alike: Alike, square: float, first: Floats, second: Floats) -> float:
    """Return by what the rounds raise the variance of a difference of two groups, or lower it.

    ``square``: sum of the squared weights of its observations. ``first``, ``second``: sum of the
    weights of each group's observations by round, shape (rounds,), those of the first below 0.
    """
    own = float(first @ first + second @ second)
    across = 2 * float(first @ second)
    return (1 - alike.own) + (alike.own * own + alike.across * across) / square
