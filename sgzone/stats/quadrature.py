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
from scipy.stats import norm, qmc

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
    usual, mishit = (
        norm.ppf(qmc.Sobol(2, scramble=True, rng=rng).random(k)) for k in (n, n // _MISHIT_PART)
    )
    few = len(mishit)
    fixed = np.append(np.zeros(n), kind.depth + kind.depth_sd * mishit[:, 0])
    depth = np.append(usual[:, 0], np.zeros(few))
    side = np.append(usual[:, 1], kind.side * mishit[:, 1])
    weight = np.repeat([(1 - kind.share) / n, kind.share / few], [n, few]) / 2
    return Points(np.tile(fixed, 2), np.tile(depth, 2), np.append(side, -side), np.tile(weight, 2))
