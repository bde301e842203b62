"""One stroke off the green: where it finishes, along and across the line from ball to hole."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.benchmarks.hole import hole_and_ball_ft
from sgzone.demo.player import (
    MISHIT_DEPTH,
    MISHIT_DEPTH_SD,
    MISHIT_SIDE,
    LongGame,
    Player,
    Words,
    mishit_rate,
    pattern,
)
from sgzone.demo.putting import MAX_PAST_FT
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

LONG_SD = 0.04  # spread of a stroke played for length, share of it
PUNCH_FROM_YD = (10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 100.0, 150.0, 200.0, 240.0)
PUNCH_LEAVE_YD = (18.0, 22.0, 27.0, 44.0, 58.0, 68.0, 63.0, 63.0, 85.0, 110.0)
"""What a blocked ball's escape leaves on average; calibrated by simulation to the tour curve."""
PUNCH_SPREAD = 0.4
PUNCH_SD_YD = 12.0


@dataclass(frozen=True, slots=True)
class Finish:
    """Finish relative to the hole (ft): past +, short -; right +, left -; and what went in."""

    depth: Floats
    side: Floats
    holed: Bools


def swing_at_green(
    rng: Generator,
    player: Player,
    lie: Words,
    distance_ft: Floats,
    club: Words,
    swing: Words,
    spread: Floats,
) -> Finish:
    """Play at the hole from ``distance_ft``; ``spread`` multiplies both sds (round, wind)."""
    n = len(distance_ft)
    usual = pattern(player, lie, distance_ft / FT_PER_YD, club, swing)
    mishit = rng.random(n) < mishit_rate(player, lie)
    depth_sd = np.where(mishit, MISHIT_DEPTH_SD, usual.depth_sd) * spread
    side_sd = np.where(mishit, MISHIT_SIDE, 1.0) * usual.side_sd * spread
    depth = usual.depth_bias + np.where(mishit, MISHIT_DEPTH, 0.0)
    depth += depth_sd * rng.standard_normal(n)
    side = usual.side_bias + side_sd * rng.standard_normal(n)
    depth, side = np.maximum(depth, -1.0) * distance_ft, side * distance_ft
    hole, _ = hole_and_ball_ft()
    holed = (np.abs(side) < hole) & (depth >= -hole) & (depth <= MAX_PAST_FT)
    return Finish(depth, side, holed)


def drive(rng: Generator, game: LongGame, distance_ft: Floats, spread: Floats) -> Finish:
    """Drive from the tee of a hole too long to reach; short holes are laid up to a wedge."""
    n = len(distance_ft)
    yards = np.minimum(game.drive_yd, distance_ft / FT_PER_YD - game.layup_yd)
    length = (yards + game.drive_sd_yd * spread * rng.standard_normal(n)) * FT_PER_YD
    angle = np.deg2rad(game.drive_angle_deg) * spread * rng.standard_normal(n)
    depth = length * np.cos(angle) - distance_ft
    return Finish(depth, length * np.sin(angle), np.zeros(n, dtype=bool))


def advance(
    rng: Generator, game: LongGame, in_rough: Bools, distance_ft: Floats, spread: Floats
) -> Finish:
    """Play for length: to the lay-up number, or as far as the player can."""
    n = len(distance_ft)
    most = np.where(in_rough, game.advance_rough_yd, game.advance_yd)
    yards = np.minimum(most, distance_ft / FT_PER_YD - game.layup_yd)
    length = yards * FT_PER_YD * (1 + LONG_SD * spread * rng.standard_normal(n))
    angle = np.deg2rad(game.drive_angle_deg) * spread * rng.standard_normal(n)
    depth = length * np.cos(angle) - distance_ft
    return Finish(depth, length * np.sin(angle), np.zeros(n, dtype=bool))


def punch(rng: Generator, distance_ft: Floats) -> Finish:
    """Get a blocked ball back into play, somewhere between here and the green."""
    n = len(distance_ft)
    usual = np.interp(distance_ft / FT_PER_YD, PUNCH_FROM_YD, PUNCH_LEAVE_YD) * FT_PER_YD
    leave = usual * rng.uniform(1 - PUNCH_SPREAD, 1 + PUNCH_SPREAD, n)
    side = rng.normal(0, PUNCH_SD_YD * FT_PER_YD, n)
    return Finish(-leave, side, np.zeros(n, dtype=bool))
