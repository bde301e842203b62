"""Putting by geometry: a direction, a roll, and a hole of known size.

A putt is holed if its direction is inside the angle the hole leaves for the ball's centre and its
roll would end between the hole and a few feet past it. Ball and hole are
of the published size (``benchmarks.hole``).
"""

from __future__ import annotations

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.benchmarks.hole import hole_and_ball_ft
from sgzone.demo.player import Putting

Floats = NDArray[np.float64]

MAX_PAST_FT = 3.0  # calibrated by simulation to the tour curve


def putt(
    rng: Generator, skill: Putting, distance_ft: Floats, spread: Floats
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Roll putts from ``distance_ft``; ``spread`` multiplies both sds.

    Returns the finish past the hole and to the right of it (ft, along and across the line), and
    whether it was holed.
    """
    n = len(distance_ft)
    hole, ball = hole_and_ball_ft()
    angle = np.deg2rad(skill.direction_deg) * spread * rng.standard_normal(n)
    aimed = distance_ft + skill.past_ft
    roll = np.maximum(aimed * (1 + skill.distance_share * spread * rng.standard_normal(n)), 0.0)
    window = np.arcsin(np.minimum((hole - ball) / distance_ft, 1.0))
    past = roll - distance_ft
    holed = (np.abs(angle) < window) & (past >= 0) & (past <= MAX_PAST_FT)
    depth = roll * np.cos(angle) - distance_ft
    side = roll * np.sin(angle)
    holed |= np.hypot(depth, side) < hole
    return depth, side, holed
