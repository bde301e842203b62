"""What a simulated player is: spread and bias by lie, distance, club and swing, all known.

Spreads and biases are shares of the distance to the hole (0.05: 5%). Distances are in yards.
The numbers here are calibrated by simulation to the tour curve (docs/simulator.md says how well
they land); none is a published figure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Words = NDArray[np.object_]

NODES_YD = (
    *(5.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0),
    *(80.0, 100.0, 120.0, 140.0, 160.0, 180.0, 200.0, 240.0),
)
"""Where the depth spread is given; straight lines in ln(distance) between."""

Table = tuple[tuple[str, tuple[float, ...]], ...]

TOUR_TABLE: Table = (
    (
        "tee",
        (
            *(0.236, 0.2075, 0.1625, 0.1365, 0.12, 0.1075, 0.096),
            *(0.0795, 0.069, 0.066, 0.0535, 0.049, 0.049, 0.0505, 0.0535),
        ),
    ),
    (
        "fairway",
        (
            *(0.1415, 0.149, 0.1245, 0.104, 0.092, 0.083, 0.075),
            *(0.0605, 0.0535, 0.0495, 0.048, 0.0475, 0.0515, 0.058, 0.08),
        ),
    ),
    (
        "rough",
        (
            *(0.264, 0.2275, 0.189, 0.156, 0.137, 0.1295, 0.1155),
            *(0.094, 0.0835, 0.0785, 0.0755, 0.076, 0.0795, 0.09, 0.116),
        ),
    ),
    (
        "sand",
        (
            *(0.345, 0.277, 0.1645, 0.1395, 0.1465, 0.1425, 0.1855),
            *(0.161, 0.1245, 0.0995, 0.085, 0.0835, 0.095, 0.118, 0.2115),
        ),
    ),
)
"""Depth sd of a tour-level player by lie, at ``NODES_YD``."""

LATERAL_NODES_YD = (10.0, 75.0, 160.0)
LATERAL_RATIO = (0.55, 0.80, 0.85)
"""Side spread as a share of depth spread."""

MISHIT_RATE = {"tee": 0.025, "fairway": 0.025, "rough": 0.045, "sand": 0.07}
MISHIT_DEPTH = -0.12
MISHIT_DEPTH_SD = 0.12
MISHIT_SIDE = 2.0  # side spread of a mishit, times the usual

ROUND_SD = 0.08
"""A round's common factor on all spreads: exp(N(-s^2/2, s)), mean 1."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One stock swing and the carry (yd) the player believes it has."""

    club: str
    swing: str
    carry_yd: float


@dataclass(frozen=True, slots=True)
class Effect:
    """A difference from the base player wherever all its conditions hold.

    ``None`` holds everywhere; distances are yards, ``low_yd <= d < high_yd``. Spreads multiply,
    biases (shares of the distance; short and left are negative) add up.
    """

    lie: str | None = None
    low_yd: float = 0.0
    high_yd: float = 1000.0  # longer than any hole
    club: str | None = None
    swing: str | None = None
    depth_spread: float = 1.0
    side_spread: float = 1.0
    depth_bias: float = 0.0
    side_bias: float = 0.0

    def holds(self, lie: Words, yards: Floats, club: Words, swing: Words) -> NDArray[np.bool_]:
        """Return which strokes it applies to."""
        at = (yards >= self.low_yd) & (yards < self.high_yd)
        for wanted, column in ((self.lie, lie), (self.club, club), (self.swing, swing)):
            if wanted is not None:
                at &= column == wanted
        return at


@dataclass(frozen=True, slots=True)
class Putting:
    """Direction sd (deg), distance sd (share of the roll), how far past it is aimed (ft)."""

    direction_deg: float = 1.03
    distance_share: float = 0.088
    past_ft: float = 1.0
    fringe_spread: float = 1.4  # both sds from the fringe, times the usual


@dataclass(frozen=True, slots=True)
class LongGame:
    """Strokes that start too far from the green to play at it, in yards and degrees.

    The drive is calibrated by simulation to the tour's tee curve.
    """

    drive_yd: float = 280.0
    drive_sd_yd: float = 14.0
    drive_angle_deg: float = 3.2
    reach_yd: float = 285.0  # the longest shot at the green, fairway or tee
    reach_rough_yd: float = 240.0
    advance_yd: float = 250.0  # a stroke played for length only
    advance_rough_yd: float = 190.0
    layup_yd: float = 95.0  # what a lay-up is meant to leave


@dataclass(frozen=True, slots=True)
class Player:
    """All parameters of one player; hashable, so that truths can be cached."""

    name: str = "tour-level"
    depth_sd: Table = TOUR_TABLE
    effects: tuple[Effect, ...] = ()
    putting: Putting = Putting()
    long_game: LongGame = LongGame()
    bag: tuple[Stock, ...] = ()
    round_sd: float = ROUND_SD
    mishits: float = 1.0  # times the usual rates
    trees: float = 0.05  # chance that a wide miss is blocked (lie: recovery)
    unplayable: float = 0.0  # chance that a wide miss must be dropped
    wind_spread: float = 0.0  # spread grows by this share per mph of head or cross wind

    def with_effects(self, *effects: Effect, name: str | None = None) -> Player:
        """Return the player with further effects planted."""
        return replace(self, effects=(*self.effects, *effects), name=name or self.name)


def base_depth_sd(player: Player, lie: Words, yards: Floats) -> Floats:
    """Depth sd (share of distance) of strokes off the green, before any effect."""
    out = np.full(len(yards), np.nan)
    x = np.log(np.maximum(yards, NODES_YD[0]))
    for name, values in player.depth_sd:
        at = lie == name
        out[at] = np.interp(x[at], np.log(NODES_YD), values)
    return out


def lateral_ratio(yards: Floats) -> Floats:
    """Side sd as a share of the depth sd at a distance."""
    x = np.log(np.maximum(yards, 1.0))
    return np.interp(x, np.log(LATERAL_NODES_YD), LATERAL_RATIO)


def mishit_rate(player: Player, lie: Words) -> Floats:
    """Chance of a mishit by lie."""
    out = np.zeros(len(lie))
    for name, rate in MISHIT_RATE.items():
        out[lie == name] = rate * player.mishits
    return out


@dataclass(frozen=True, slots=True)
class Pattern:
    """Bias and sd of the usual (not mishit) stroke, shares of the distance; arrays over strokes."""

    depth_bias: Floats
    depth_sd: Floats
    side_bias: Floats
    side_sd: Floats


def pattern(player: Player, lie: Words, yards: Floats, club: Words, swing: Words) -> Pattern:
    """Return the player's pattern for strokes of these lies, distances (yd), clubs and swings."""
    depth_sd = base_depth_sd(player, lie, yards)
    side_sd = depth_sd * lateral_ratio(yards)
    depth_bias = np.zeros(len(yards))
    side_bias = np.zeros(len(yards))
    for effect in player.effects:
        at = effect.holds(lie, yards, club, swing)
        depth_sd[at] *= effect.depth_spread
        side_sd[at] *= effect.side_spread
        depth_bias[at] += effect.depth_bias
        side_bias[at] += effect.side_bias
    return Pattern(depth_bias, depth_sd, side_bias, side_sd)


def total_pattern(
    player: Player,
    lie: Sequence[str],
    yards: Sequence[float],
    club: Sequence[str],
    swing: Sequence[str],
) -> Pattern:
    """Return the mean and the total sd a long record of such strokes has: mishits, rounds and all.

    Shares of the distance, one value per (lie, distance in yd, club, swing).
    """
    lies, clubs, swings = (np.array(list(c), dtype=object) for c in (lie, club, swing))
    base = pattern(player, lies, np.asarray(yards, dtype=float), clubs, swings)
    p = mishit_rate(player, lies)
    rounds = np.exp(player.round_sd**2)  # mean square of the round's factor
    depth = (1 - p) * base.depth_sd**2 * rounds + p * MISHIT_DEPTH_SD**2 * rounds
    depth += p * (1 - p) * MISHIT_DEPTH**2
    side = base.side_sd**2 * rounds * (1 + p * (MISHIT_SIDE**2 - 1))
    mean = base.depth_bias + p * MISHIT_DEPTH
    return Pattern(mean, np.sqrt(depth), base.side_bias, np.sqrt(side))
