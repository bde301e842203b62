"""A green by its pin sheet, and what a finish on or around it is worth."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.bounds import BOUNDS, bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.terms import AROUND, WATER
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]

DEEP_YD, WIDE_YD = 30.0, 24.0
"""The green where no pin sheet is given; common practice, no source."""
SIDES = ("short", "long", "left", "right")

_STEP_FT = 0.1
_REACH_FT = 900.0
_SHORT, _LONG, _LEFT, _RIGHT, _ON = range(5)


@dataclass(frozen=True, slots=True)
class Green:
    """A pin sheet in yards, and the lie on each side of the green.

    ``on``: from the front edge to the hole, of ``deep``; ``left``: from the left edge to the hole,
    of ``wide``; both counted through the hole. The edge is the ellipse through these four points.
    ``lies``: short of it, over it, left and right, each fairway, rough, sand or water.
    Raises ``CallError`` where the hole is not on the green or a lie is unknown.
    """

    on: float
    deep: float
    left: float
    wide: float
    lies: tuple[str, str, str, str]

    def __post_init__(self) -> None:
        for name in ("on", "deep", "left", "wide"):
            BOUNDS[name].check(getattr(self, name), name)
        for near, whole, names in (
            (self.on, self.deep, ("on", "deep")),
            (self.left, self.wide, ("left", "wide")),
        ):
            if not near <= whole - BOUNDS[names[0]].low:
                raise CallError(
                    f"the hole is {near:g} yd from an edge of a green {whole:g} yd {names[1]}: no "
                    f"such pin. --green-{names[0]} must be between 0 and --green-{names[1]}."
                )
        for lie in self.lies:
            if lie not in AROUND:
                hint = did_you_mean(lie, AROUND)
                raise CallError(
                    f'no "{lie}" around a green.{hint} Choose from: {", ".join(AROUND)}.'
                )

    def outline(self) -> tuple[float, float, float, float]:
        """Return centre (right of the hole, beyond it) and half axes (across, along), feet.

        With p, q the squared half chords along and across through the hole and c the centre:
        A = (p - c_y^2) / (p q - c_x^2 c_y^2) and B likewise are 1 over the squared axes.
        """
        centre_y = (self.deep / 2 - self.on) * FT_PER_YD
        centre_x = (self.wide / 2 - self.left) * FT_PER_YD
        along, across = (0.5 * length * FT_PER_YD for length in (self.deep, self.wide))
        p, q, x2, y2 = along**2, across**2, centre_x**2, centre_y**2
        whole = p * q - x2 * y2
        half_wide, half_deep = np.sqrt(whole / (p - y2)), np.sqrt(whole / (q - x2))
        return centre_x, centre_y, float(half_wide), float(half_deep)


@bounded
def green_of(
    on: float | None = None,
    deep: float | None = None,
    left: float | None = None,
    wide: float | None = None,
    lies: tuple[str, str, str, str] = ("rough",) * 4,
) -> Green:
    """Return the green of a pin sheet, yards; what is not given is the middle of a usual green."""
    deep, wide = DEEP_YD if deep is None else deep, WIDE_YD if wide is None else wide
    return Green(
        deep / 2 if on is None else on, deep, wide / 2 if left is None else left, wide, lies
    )


class GreenValue:
    """Strokes still to come from a finish around one green: call with depth and side in feet.

    On the green the benchmark's putts; off it the lie of that side at the finish distance; water
    costs a penalty stroke and a drop in the rough as far from the hole as the ball finished.
    """

    def __init__(self, green: Green, benchmark: Benchmark) -> None:
        self._centre_x, self._centre_y, self._wide, self._deep = green.outline()
        words = (*green.lies, "green")
        tables = [_values(benchmark, word) for word in words]
        self._table = np.concatenate(tables)
        self._width = len(tables[0])

    def __call__(self, depth_ft: Floats, side_ft: Floats) -> Floats:
        """Return expected strokes from finishes; arrays of one common shape (...)."""
        u = (side_ft - self._centre_x) / self._wide
        v = (depth_ft - self._centre_y) / self._deep
        across = np.abs(u) > np.abs(v)
        where = np.where(across, _LEFT + (u > 0), _SHORT + (v > 0))
        where = np.where(u * u + v * v <= 1, _ON, where)
        place = np.sqrt(depth_ft * depth_ft + side_ft * side_ft) / _STEP_FT
        place = np.minimum(place, self._width - 1.001)
        left = place.astype(np.int64)
        share = place - left
        left += where * self._width
        low = self._table[left]
        value: Floats = low + share * (self._table[left + 1] - low)
        return value


@lru_cache(maxsize=64)
def _values(benchmark: Benchmark, word: str) -> Floats:
    feet = np.maximum(np.arange(0.0, _REACH_FT + _STEP_FT, _STEP_FT), _STEP_FT)
    if word == WATER:
        return 1 + benchmark.expected("rough", feet)
    return benchmark.expected(word, feet)
