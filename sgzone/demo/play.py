"""Play holes out, many at once: the only loop runs over the stroke number."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.demo import green, shots
from sgzone.demo.clubs import PUTTER, choose, release_yd
from sgzone.demo.player import Player
from sgzone.demo.putting import putt
from sgzone.terms import HOLED, LIE_CODE, LIES
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

MOST_STROKES = 30
FAIRWAY_HALF_FT = 48.0
WIDE_DRIVE_FT = 100.0
DRIVE_SAND = 0.05  # chance of sand for a drive that missed the fairway
CALM, INTO, DOWN, CROSS_LEFT, CROSS_RIGHT = range(5)
WINDS = ("none", "into", "down", "cross-left", "cross-right")
WIND_EFFECT = np.array([0.0, 0.010, -0.005, 0.0, 0.0])
"""Share of the distance a mph of wind adds; common practice, no source."""

LIE_NAMES = np.array([*LIES, HOLED], dtype=object)
HOLED_CODE = len(LIES)


@dataclass(frozen=True, slots=True)
class Holes:
    """Holes about to be played, arrays over holes. Balls lie at (x, y) ft from the hole."""

    x: Floats
    y: Floats
    lie: Ints
    greens: green.Greens
    spread: Floats  # the round's factor on all sds
    wind: Ints
    wind_mph: Floats
    slope: Floats  # share of the distance the slope adds

    @property
    def n(self) -> int:
        """Number of holes."""
        return len(self.x)


def from_tee(
    length_yd: Floats,
    greens: green.Greens,
    spread: Floats | None = None,
    wind: Ints | None = None,
    wind_mph: Floats | None = None,
    slope: Floats | None = None,
) -> Holes:
    """Return holes with the ball on the tee, ``length_yd`` from the hole, calm unless told."""
    n = len(length_yd)
    return Holes(
        np.zeros(n),
        -length_yd * FT_PER_YD,
        np.full(n, LIE_CODE["tee"], dtype=np.int64),
        greens,
        np.ones(n) if spread is None else spread,
        np.zeros(n, dtype=np.int64) if wind is None else wind,
        np.zeros(n) if wind_mph is None else wind_mph,
        np.zeros(n) if slope is None else slope,
    )


class _Step:
    """The strokes of one stroke number: where each ball is, what happens to it."""

    def __init__(self, holes: Holes, at: Ints, x: Floats, y: Floats, lie: Ints) -> None:
        self.hole, self.x, self.y, self.lie = at, x, y, lie
        self.distance = np.hypot(x, y)
        n = len(at)
        self.depth, self.side = np.zeros(n), np.zeros(n)
        self.holed = np.zeros(n, dtype=bool)
        self.penalty = np.zeros(n, dtype=np.int64)
        self.club = np.full(n, "", dtype=object)
        self.swing = np.full(n, "", dtype=object)
        effect = WIND_EFFECT[holes.wind[at]] * holes.wind_mph[at] + holes.slope[at]
        self.effective = self.distance / FT_PER_YD * (1 + effect)

    def put(self, mask: Bools, finish: shots.Finish) -> None:
        self.depth[mask], self.side[mask] = finish.depth, finish.side
        self.holed[mask] = finish.holed


def _wind_spread(holes: Holes, at: Ints, player: Player) -> Floats:
    felt = np.isin(holes.wind[at], (INTO, CROSS_LEFT, CROSS_RIGHT))
    return 1 + player.wind_spread * np.where(felt, holes.wind_mph[at], 0.0)


def _strike(rng: Generator, player: Player, holes: Holes, step: _Step) -> tuple[Bools, Bools]:
    """Play every ball once; return which strokes were putts and which played for length only."""
    game = player.long_game
    spread = holes.spread[step.hole]
    yards = step.distance / FT_PER_YD
    fringe = step.lie == LIE_CODE["fringe"]
    on_green = (step.lie == LIE_CODE["green"]) | fringe
    if on_green.any():
        factor = np.where(fringe, player.putting.fringe_spread, 1.0) * spread
        finish = shots.Finish(*putt(rng, player.putting, step.distance[on_green], factor[on_green]))
        step.put(on_green, finish)
        step.club[on_green] = PUTTER
    blocked = step.lie == LIE_CODE["recovery"]
    step.put(blocked, shots.punch(rng, step.distance[blocked]))
    tee = step.lie == LIE_CODE["tee"]
    rough = ~tee & (step.lie != LIE_CODE["fairway"])
    far = ~on_green & ~blocked & (yards > np.where(rough, game.reach_rough_yd, game.reach_yd))
    at = far & tee
    step.put(at, shots.drive(rng, game, step.distance[at], spread[at]))
    at = far & ~tee
    step.put(at, shots.advance(rng, game, rough[at], step.distance[at], spread[at]))
    at = ~on_green & ~blocked & ~far
    club, swing = choose(rng, player, step.lie[at], yards[at], step.effective[at])
    step.club[at], step.swing[at] = club, swing
    factor = spread[at] * _wind_spread(holes, step.hole[at], player)
    lies = LIE_NAMES[step.lie[at]]
    step.put(at, shots.swing_at_green(rng, player, lies, step.distance[at], club, swing, factor))
    return on_green, far | blocked


def _land(
    rng: Generator, player: Player, holes: Holes, step: _Step, on_green: Bools, long: Bools
) -> tuple[Floats, Floats, Ints]:
    """Return where the balls are next: x, y (ft) and lie code, after any drop."""
    ux, uy = -step.x / step.distance, -step.y / step.distance
    x = step.depth * ux + step.side * uy
    y = step.depth * uy - step.side * ux
    greens = holes.greens.take(step.hole)
    edge, where = green.edge_and_side(greens, x, y)
    lie = green.lie_at(edge, where, rng)
    away = long & (edge > green.FRINGE_FT)
    lie[away] = _fairway_lie(rng, player, x[away])
    wide = (edge > green.WIDE_MISS_FT) & (lie == LIE_CODE["rough"]) & ~long
    lie[wide & (rng.random(len(x)) < player.trees)] = LIE_CODE["recovery"]
    drop = wide & (lie == LIE_CODE["rough"]) & (rng.random(len(x)) < player.unplayable)
    in_hazard = (
        (greens.hazard_side == where)
        & (edge > np.array(green.HAZARD_FROM_FT)[greens.hazard])
        & ~on_green
        & ~long
    )
    out = in_hazard & (greens.hazard == green.OUT_OF_BOUNDS)
    lie[in_hazard] = LIE_CODE["rough"]
    step.penalty[drop | in_hazard] = 1
    lie[out] = step.lie[out]
    lie[step.holed] = HOLED_CODE
    return np.where(out, step.x, x), np.where(out, step.y, y), lie


def _fairway_lie(rng: Generator, player: Player, x: Floats) -> Ints:
    """Draw the lie of a ball away from the green by how far it is off the hole's middle line."""
    off = np.abs(x)
    draw = rng.random(len(x))
    lie = np.full(len(x), LIE_CODE["rough"], dtype=np.int64)
    lie[draw < DRIVE_SAND] = LIE_CODE["sand"]
    lie[off < FAIRWAY_HALF_FT] = LIE_CODE["fairway"]
    lie[(off > WIDE_DRIVE_FT) & (draw > 1 - player.trees)] = LIE_CODE["recovery"]
    return lie


def play(rng: Generator, player: Player, holes: Holes) -> pd.DataFrame:
    """Play the holes out and return every stroke in order.

    Columns: hole_id, shot, lie, distance_ft, end_lie ('holed' at the end), end_distance_ft,
    depth_ft, side_ft (finish of the stroke itself, before any drop), penalty, club, swing,
    effective_yd, release_yd. Raises RuntimeError if a hole takes more strokes than a card allows.
    """
    x, y, lie = holes.x.copy(), holes.y.copy(), holes.lie.copy()
    at = np.arange(holes.n)
    parts: list[pd.DataFrame] = []
    for number in range(1, MOST_STROKES + 1):
        step = _Step(holes, at, x[at], y[at], lie[at])
        on_green, long = _strike(rng, player, holes, step)
        x[at], y[at], lie[at] = _land(rng, player, holes, step, on_green, long)
        parts.append(_frame(step, number, np.hypot(x[at], y[at]), lie[at]))
        at = at[lie[at] != HOLED_CODE]
        if not len(at):
            return pd.concat(parts).sort_values(["hole_id", "shot"], ignore_index=True)
    raise RuntimeError(f"{len(at)} holes not finished in {MOST_STROKES} strokes")


def _frame(step: _Step, number: int, end: Floats, lie: Ints) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "hole_id": step.hole,
            "shot": number,
            "lie": LIE_NAMES[step.lie],
            "distance_ft": step.distance,
            "end_lie": LIE_NAMES[lie],
            "end_distance_ft": np.where(step.holed, 0.0, end),
            "depth_ft": step.depth,
            "side_ft": step.side,
            "penalty": step.penalty,
            "club": step.club,
            "swing": step.swing,
            "effective_yd": step.effective,
            "release_yd": release_yd(step.swing),
        }
    )
