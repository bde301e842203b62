"""Points that stand for the misses of a swing: two normal axes, now and then a mishit.

Scrambled Sobol points through the normal quantile; usual strokes and mishits have points of their
own and weights for their shares, so that a rare kind is not left to chance. Every point has its
mirror image in side: what is symmetric stays so exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from sgzone.stats.resample import SEED

Floats = NDArray[np.float64]

POINTS = 1024
_MISHIT_PART = 8  # usual points for one of a mishit


@dataclass(frozen=True, slots=True)
class Kind:
    """A mishit: its share, mean and sd of depth as shares of distance, side sd times the usual."""

    share: float
    depth: float
    depth_sd: float
    side: float


@dataclass(frozen=True, slots=True)
class Points:
    """Arrays of shape (n,). depth = fixed x distance + usual x sd; side = side x sd.

    ``weight`` sums to 1.
    """

    fixed: Floats
    usual: Floats
    side: Floats
    weight: Floats


@lru_cache(maxsize=32)
def miss_points(kind: Kind, n: int = POINTS, seed: int = SEED) -> Points:
    """Return the points: n of usual strokes, n / 8 of mishits, each with its mirror image.

    ``n``: a power of two, 16 or more. The same call returns the same points: every option is
    weighed against the same misses.
    """
    rng = np.random.default_rng(seed)
    usual, mishit = (normal_points(k, rng) for k in (n, n // _MISHIT_PART))
    one = points_of(kind, usual, mishit)
    return Points(
        fixed=np.tile(one.fixed, 2),
        usual=np.tile(one.usual, 2),
        side=np.append(one.side, -one.side),
        weight=np.tile(one.weight / 2, 2),
    )


def normal_points(n: int, rng: np.random.Generator | int) -> Floats:
    """Return n scrambled Sobol points of two independent standard normals, (n, 2)."""
    from scipy.stats import qmc

    return np.asarray(ndtri(qmc.Sobol(2, scramble=True, rng=rng).random(n)), np.float64)


def points_of(kind: Kind, usual: Floats, mishit: Floats) -> Points:
    """Return the points of usual strokes, then of mishits; both (n, 2), standard normal."""
    n, few = len(usual), len(mishit)
    return Points(
        fixed=np.append(np.zeros(n), kind.depth + kind.depth_sd * mishit[:, 0]),
        usual=np.append(usual[:, 0], np.zeros(few)),
        side=np.append(usual[:, 1], kind.side * mishit[:, 1]),
        weight=np.repeat([(1 - kind.share) / n, kind.share / few], [n, few]),
    )
