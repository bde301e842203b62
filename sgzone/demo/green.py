"""The green and what lies around it: an ellipse, a random pin, a ring of fringe, bunkers by chance.

The hole is the origin; y points along the hole from the tee, x to the right; all lengths in feet.
Bunkers and rough are a chance by side of the green, not a map. The chances are made to give about
the usual mix of misses; they are no published figure.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.terms import LIE_CODE

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

WIDE_FT = 72.0
DEEP_FT = 92.0
SIZE_SD = 0.10
PIN_MARGIN_FT = 12.0  # common practice, no source: a pin stands four paces from the edge or more
FRINGE_FT = 3.0
NEAR_FT = 45.0  # bunkers stand within this of the edge

SHORT, LONG, LEFT, RIGHT = range(4)
SIDES = ("short", "long", "left", "right")
NO_HAZARD, WATER, OUT_OF_BOUNDS = range(3)
HAZARD_FROM_FT = (np.inf, 14.0, 45.0)  # from the edge of the green, by kind
WIDE_MISS_FT = 40.0

# chance of sand and of fairway by side, near the green and farther off; the rest is rough
_SAND = np.array([[0.14, 0.10, 0.22, 0.22], [0.03, 0.02, 0.02, 0.02]])
_FAIRWAY = np.array([[0.42, 0.20, 0.18, 0.18], [0.70, 0.05, 0.08, 0.08]])


@dataclass(frozen=True, slots=True)
class Greens:
    """Arrays over holes: half axes and centre relative to the hole (ft), hazard and its side."""

    half_wide: Floats
    half_deep: Floats
    centre_x: Floats
    centre_y: Floats
    hazard: Ints
    hazard_side: Ints

    def take(self, at: Ints) -> Greens:
        """Return the greens of some holes."""
        return Greens(*(getattr(self, name)[at] for name in self.__slots__))


def draw_sizes(rng: Generator, n: int) -> tuple[Floats, Floats]:
    """Draw widths and depths (ft) of n greens."""
    wide = WIDE_FT * np.exp(rng.normal(0, SIZE_SD, n))
    deep = DEEP_FT * np.exp(rng.normal(0, SIZE_SD, n))
    return wide, deep


def draw_pins(
    rng: Generator, wide: Floats, deep: Floats, hazard: Ints | None = None, side: Ints | None = None
) -> Greens:
    """Put a pin on each green, evenly over the ellipse less a margin at its edge."""
    n = len(wide)
    half_wide, half_deep = wide / 2, deep / 2
    radius = np.sqrt(rng.random(n))
    turn = rng.uniform(0, 2 * np.pi, n)
    pin_x = radius * np.cos(turn) * (half_wide - PIN_MARGIN_FT)
    pin_y = radius * np.sin(turn) * (half_deep - PIN_MARGIN_FT)
    none = np.zeros(n, dtype=np.int64)
    return Greens(
        half_wide,
        half_deep,
        -pin_x,
        -pin_y,
        none if hazard is None else hazard,
        none if side is None else side,
    )


def edge_and_side(greens: Greens, x: Floats, y: Floats) -> tuple[Floats, Ints]:
    """Return how far (ft) a point is outside the green's edge (negative: on it) and on which side.

    The distance is taken along the ray from the green's centre.
    """
    dx, dy = x - greens.centre_x, y - greens.centre_y
    u, v = dx / greens.half_wide, dy / greens.half_deep
    radius = np.maximum(np.hypot(u, v), 1e-9)
    edge = np.hypot(dx, dy) * (1 - 1 / radius)
    across = np.abs(u) > np.abs(v)
    side = np.where(across, np.where(u < 0, LEFT, RIGHT), np.where(v < 0, SHORT, LONG))
    return edge, side.astype(np.int64)


def lie_at(edge: Floats, side: Ints, rng: Generator) -> Ints:
    """Draw the lie (code of ``terms.LIES``) at points ``edge`` ft off the green on a side."""
    far = (edge > NEAR_FT).astype(np.int64)
    draw = rng.random(len(edge))
    sand, fairway = _SAND[far, side], _FAIRWAY[far, side]
    lie = np.full(len(edge), LIE_CODE["rough"], dtype=np.int64)
    lie[draw < sand + fairway] = LIE_CODE["fairway"]
    lie[draw < sand] = LIE_CODE["sand"]
    lie[edge <= FRINGE_FT] = LIE_CODE["fringe"]
    lie[edge <= 0] = LIE_CODE["green"]
    return lie
