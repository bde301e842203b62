"""How well a simulated player lands on a benchmark, and the spreads that make it land.

``landing`` plays strokes out from given lies and distances. ``calibrate`` finds the depth spreads
of ``player.TOUR_TABLE``: at each node the spread whose mean finish is worth the benchmark's value
less one, then corrected by what the played-out strokes show.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pandas as pd
from numpy.random import Generator
from numpy.typing import NDArray
from scipy.optimize import brentq

from sgzone.benchmarks import Benchmark
from sgzone.demo import green
from sgzone.demo.play import LIE_NAMES, Holes, play
from sgzone.demo.player import NODES_YD, Player, Table
from sgzone.demo.shots import swing_at_green
from sgzone.stats.resample import SEED
from sgzone.terms import LIE_CODE
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]

_TURN_YD = 15.0  # balls nearer than this lie on any side of the green, far ones in front
_LEAST_TURN = 0.2  # radians
_SPARE = 4  # places drawn for each one wanted: those on the wrong side of the edge are dropped
_LOW, _HIGH = 0.005, 0.6


def places(rng: Generator, lie: str, distance_ft: float, n: int) -> Holes:
    """Draw n greens with the ball on one lie, ``distance_ft`` from the hole, in calm air.

    A ball on the green lies inside it, any other outside its fringe. Raises ValueError if no such
    place exists at that distance.
    """
    draws = n * _SPARE
    greens = green.draw_pins(rng, *green.draw_sizes(rng, draws))
    turn = np.pi * min(1.0, (_TURN_YD * FT_PER_YD / distance_ft) ** 2)
    least = 0.0 if lie == "tee" else _LEAST_TURN  # a tee looks straight down its hole
    angle = rng.normal(0, max(turn, least), draws)
    if lie == "green":
        angle = rng.uniform(0, 2 * np.pi, draws)
    x, y = -distance_ft * np.sin(angle), -distance_ft * np.cos(angle)
    edge, _ = green.edge_and_side(greens, x, y)
    inside = {"green": edge <= 0, "fringe": (edge > 0) & (edge <= green.FRINGE_FT)}
    good = np.flatnonzero(inside.get(lie, edge > green.FRINGE_FT))
    if not len(good):
        raise ValueError(f"no place on {lie} lies {distance_ft:g} ft from a hole")
    at = np.resize(good, n)
    code = np.full(n, LIE_CODE[lie], dtype=np.int64)
    flat = np.zeros(n)
    return Holes(x[at], y[at], code, greens.take(at), np.ones(n), np.zeros(n, int), flat, flat)


def _with_rounds(rng: Generator, player: Player, holes: Holes) -> Holes:
    s = player.round_sd
    return replace(holes, spread=np.exp(rng.normal(-(s**2) / 2, s, holes.n)))


def landing(
    player: Player,
    benchmark: Benchmark,
    lie: str,
    distances_ft: Sequence[float],
    n: int = 20_000,
    seed: int = SEED,
) -> pd.DataFrame:
    """Play n balls from each distance of one lie and set the mean strokes beside the benchmark's.

    Columns: lie, distance_ft, expected, simulated, difference, se (all in strokes).
    """
    rows = []
    for distance in distances_ft:
        rng = np.random.default_rng(seed)
        holes = _with_rounds(rng, player, places(rng, lie, distance, n))
        strokes = play(rng, player, holes).groupby("hole_id")["shot"].max().to_numpy()
        rows.append((lie, distance, strokes.mean(), strokes.std(ddof=1) / np.sqrt(n)))
    out = pd.DataFrame(rows, columns=["lie", "distance_ft", "simulated", "se"])
    out["expected"] = benchmark.expected(lie, out["distance_ft"].to_numpy())
    out["difference"] = out["simulated"] - out["expected"]
    return out[["lie", "distance_ft", "expected", "simulated", "difference", "se"]]


def _after(
    player: Player, benchmark: Benchmark, holes: Holes, lie: str, depth_sd: float, seed: int
) -> float:
    """Return the mean benchmark value of the finishes of one stroke with this depth spread."""
    rng = np.random.default_rng(seed)
    flat = tuple((name, (depth_sd,) * len(NODES_YD)) for name, _ in player.depth_sd)
    n = holes.n
    distance = np.hypot(holes.x, holes.y)
    none = np.full(n, "", dtype=object)
    trial = replace(player, depth_sd=flat)
    lies = LIE_NAMES[holes.lie]
    finish = swing_at_green(rng, trial, lies, distance, none, none, holes.spread)
    ux, uy = -holes.x / distance, -holes.y / distance
    x = finish.depth * ux + finish.side * uy
    y = finish.depth * uy - finish.side * ux
    edge, side = green.edge_and_side(holes.greens, x, y)
    end = LIE_NAMES[green.lie_at(edge, side, rng)]
    value = benchmark.expected(end, np.hypot(x, y))
    return float(np.where(finish.holed, 0.0, value).mean())


def solve(
    player: Player, benchmark: Benchmark, lie: str, yards: float, target: float, n: int, seed: int
) -> float:
    """Return the depth spread (share of distance) that makes a stroke worth ``target`` strokes."""
    rng = np.random.default_rng(seed)
    holes = _with_rounds(rng, player, places(rng, lie, yards * FT_PER_YD, n))

    def short_of(depth_sd: float) -> float:
        return 1 + _after(player, benchmark, holes, lie, depth_sd, seed) - target

    if short_of(_LOW) > 0:
        return _LOW
    return float(brentq(short_of, _LOW, _HIGH, xtol=1e-4))


def calibrate(
    player: Player, benchmark: Benchmark, n: int = 20_000, sweeps: int = 3, seed: int = SEED
) -> Table:
    """Return the depth spreads that land the player on the benchmark, rounded to 0.0005."""
    lies = [name for name, _ in player.depth_sd]
    feet = np.array(NODES_YD) * FT_PER_YD
    wanted = {lie: benchmark.expected(lie, feet) for lie in lies}
    target = {lie: wanted[lie].copy() for lie in lies}
    game = player.long_game
    reach = {
        lie: game.reach_yd if lie in ("tee", "fairway") else game.reach_rough_yd for lie in lies
    }
    for sweep in range(sweeps):
        table = []
        for lie in lies:
            sds: list[float] = []
            for yards, value in zip(NODES_YD, target[lie], strict=True):
                if yards > reach[lie]:  # no stroke at the green from there: the last spread holds
                    sds.append(sds[-1])
                    continue
                sd = solve(player, benchmark, lie, yards, float(value), n, seed)
                sds.append(round(sd * 2000) / 2000)
            table.append((lie, tuple(sds)))
        player = replace(player, depth_sd=tuple(table))
        if sweep < sweeps - 1:
            for lie in lies:
                seen = landing(player, benchmark, lie, feet.tolist(), n, seed)
                target[lie] -= seen["difference"].to_numpy()
    return player.depth_sd
