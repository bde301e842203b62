"""Points that stand for the misses of a swing: two normal axes, now and then a mishit.

Scrambled Sobol points through the normal quantile; usual strokes and mishits have points of their
own and weights for their shares, so that a rare kind is not left to chance. Every point has its
mirror image in side: what is symmetric stays so exactly.

scipy draws the Sobol points. Those of the usual seed are kept in ``data/sobol.csv``: scipy.stats
takes longer to load than most answers take. ``make docs`` writes the file anew; its test holds each
number to scipy to the bit.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from sgzone.resources import data_path
from sgzone.stats.resample import SEED

Floats = NDArray[np.float64]

POINTS = 1024
FILE = "sobol.csv"
COLUMNS = ("sizes", "x", "y")
KEPT = ((512,), (128,), (1024, 128), (128, 16))
"""Sizes of the sets that are kept, each drawn with ``SEED``."""
STEP = 2.0**-30
"""Coordinates are whole multiples of it; the file holds how many."""
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
    usual, mishit = normal_points((n, n // _MISHIT_PART), seed)
    one = points_of(kind, usual, mishit)
    return Points(
        fixed=np.tile(one.fixed, 2),
        usual=np.tile(one.usual, 2),
        side=np.append(one.side, -one.side),
        weight=np.tile(one.weight / 2, 2),
    )


def normal_points(sizes: tuple[int, ...], seed: int) -> list[Floats]:
    """Return, per size, scrambled Sobol points of two independent standard normals, (size, 2)."""
    return [np.asarray(ndtri(points), np.float64) for points in sobol_points(sizes, seed)]


def points_of(kind: Kind, usual: Floats, mishit: Floats) -> Points:
    """Return the points of usual strokes, then of mishits; both (n, 2), standard normal."""
    n, few = len(usual), len(mishit)
    return Points(
        fixed=np.append(np.zeros(n), kind.depth + kind.depth_sd * mishit[:, 0]),
        usual=np.append(usual[:, 0], np.zeros(few)),
        side=np.append(usual[:, 1], kind.side * mishit[:, 1]),
        weight=np.repeat([(1 - kind.share) / n, kind.share / few], [n, few]),
    )


def sobol_points(sizes: tuple[int, ...], seed: int) -> list[Floats]:
    """Return a set of points of each size, (size, 2), drawn one after another with one seed.

    ``sizes``: powers of two.
    """
    if seed == SEED and sizes in KEPT:
        return np.split(_kept()[sizes], np.cumsum(sizes)[:-1])
    return drawn(sizes, seed)


def drawn(sizes: tuple[int, ...], seed: int) -> list[Floats]:
    """Return what ``sobol_points`` does, drawn by scipy whatever is kept."""
    from scipy.stats import qmc

    rng = np.random.default_rng(seed)
    return [np.asarray(qmc.Sobol(2, scramble=True, rng=rng).random(n)) for n in sizes]


@cache
def _kept() -> dict[tuple[int, ...], Floats]:
    found: dict[str, list[tuple[int, int]]] = {}
    with data_path(FILE).open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            found.setdefault(row["sizes"], []).append((int(row["x"]), int(row["y"])))
    return {tuple(map(int, name.split())): np.array(at) * STEP for name, at in found.items()}
