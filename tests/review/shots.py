"""Scored strokes of an invented player whose every bias and spread is known.

The numbers a stroke is made with are the simulator's own: what it proves assumes some like them,
and a proof with the same numbers would hold for no others.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import expit
from scipy.stats import chi2, gamma, norm, qmc

from sgzone.benchmarks import Benchmark
from sgzone.terms import PARTS

Floats = NDArray[np.float64]

GRID_FT = np.arange(30.0, 481.0, 15.0)
REACH_FT = np.arange(0.0, 1500.0, 0.1)
SHARES = np.geomspace(0.005, 1.2, 48)
RATIO_AT_FT = (30.0, 225.0, 480.0)
FACTORS = ("long_short_bias", "long_short_spread", "left_right_bias", "left_right_spread")
FIELDS = (
    *(("depth_bias", 0.0, -1), ("depth_spread", 1.0, 1)),
    *(("side_bias", 0.0, 1), ("side_spread", 1.0, 1)),
)
"""What a fault of each factor changes, from what, and which way."""


@dataclass(frozen=True)
class Shape:
    """How strokes scatter: shares of the distance, feet. As it stands, what ``why`` assumes too."""

    ratio: tuple[float, float, float] = (0.55, 0.80, 0.85)  # side sd : depth sd at RATIO_AT_FT
    mishits: float = 0.03
    mishit_depth: float = -0.12
    mishit_depth_sd: float = 0.12
    mishit_side: float = 2.0  # times the usual
    df: float = np.inf  # of Student's t, which usual strokes follow
    skew: float = 0.0  # how far the depth of usual strokes leans to short ones, skewness
    off_ft: float = 36.0  # half of the finishes this far away have missed the green
    off_width: float = 0.277
    off_lies: tuple[tuple[str, float], ...] = (("fairway", 0.32), ("rough", 0.53), ("sand", 0.15))

    def ratio_at(self, distance_ft: Floats | float) -> Floats:
        """Return side sd : depth sd, straight lines in ln(distance) between the places given."""
        return np.interp(np.log(distance_ft), np.log(RATIO_AT_FT), self.ratio)


HOLE_FT = 2.125 / 12
PAST_FT = 3.0

SAME = Shape()
FAT = {"mishits": 0.06, "mishit_depth": -0.25, "mishit_depth_sd": 0.20, "mishit_side": 3.0}
OTHER_GREENS = {
    **{"off_ft": 28.0, "off_width": 0.40},
    "off_lies": (("fairway", 0.15), ("rough", 0.55), ("sand", 0.30)),
}
SHAPES = {
    "same": SAME,
    "ratio .6": Shape(ratio=(0.6, 0.6, 0.6)),
    "ratio 1": Shape(ratio=(1.0, 1.0, 1.0)),
    "no mishits": Shape(mishits=0.0),
    "6% mishits": Shape(mishits=0.06),
    "fat mishits": Shape(**FAT),
    "heavy tails": Shape(df=5.0),
    "other greens": Shape(**OTHER_GREENS),
    "all of them": Shape(ratio=(1.0, 1.0, 1.0), df=5.0, **FAT, **OTHER_GREENS),
}


@dataclass(frozen=True)
class Truth:
    """Spreads in units of the benchmark's own, biases in its sds; shots of one lie and range."""

    depth_bias: float = 0.0
    depth_spread: float = 1.0
    side_bias: float = 0.0
    side_spread: float = 1.0
    lies: tuple[str, ...] = ("fairway",)
    low_ft: float = 300.0
    high_ft: float = 450.0
    penalty: float = 0.0
    unseen: float = 0.0  # share without direction
    round_sd: float = 0.08
    shape: Shape = SAME


def worth(shape: Shape, benchmark: Benchmark, end_ft: Floats) -> Floats:
    """Return the strokes to come from finishes: putts, or where the green was missed the lies."""
    return np.interp(end_ft, REACH_FT, _worth(shape, benchmark))


@lru_cache
def _worth(shape: Shape, benchmark: Benchmark) -> Floats:
    feet = np.maximum(REACH_FT, 0.01)
    lies = [(lie, share) for lie, share in shape.off_lies if lie in benchmark.lies]
    curves = {lie: benchmark.expected(lie, feet) for lie, _ in lies}
    # far beyond the putting tables their last line crosses the other curves
    putts = np.minimum.reduce([benchmark.expected("green", feet), *curves.values()])
    lost = sum(share * curves[lie] for lie, share in lies) / sum(share for _, share in lies)
    off = expit(np.log(feet / shape.off_ft) / shape.off_width)
    return np.asarray(putts + off * (lost - putts))


@dataclass(frozen=True)
class Drawn:
    """What a number of strokes are made from: unit variance on both axes, whatever the tails."""

    mishit: NDArray[np.bool_]
    depth: Floats
    side: Floats

    def strokes(self, shape: Shape, share: Floats, distance_ft: Floats) -> tuple[Floats, Floats]:
        """Return depth and side as shares of the distance, of a usual depth sd of ``share``."""
        bad = shape.mishit_depth + shape.mishit_depth_sd * self.depth
        wide = share * shape.ratio_at(distance_ft)
        depth = np.where(self.mishit, bad, share * self.depth)
        return depth, np.where(self.mishit, shape.mishit_side, 1.0) * wide * self.side


def drawn(shape: Shape, n: int, rng: np.random.Generator) -> Drawn:
    """Return what n strokes are made from."""
    mishit = rng.random(n) < shape.mishits
    bad, depth, side = rng.standard_normal((3, n))
    tails = _tails(shape.df, rng.random(n)) if np.isfinite(shape.df) else 1.0
    usual = _leaning(shape.skew, depth) * tails
    return Drawn(mishit, np.where(mishit, bad, usual), np.where(mishit, 1.0, tails) * side)


def _leaning(skew: float, z: Floats) -> Floats:
    """Return what makes of normal values ones with more far short: a gamma's, mean 0 and sd 1."""
    if not skew:
        return z
    shape = 4 / skew**2
    return np.asarray((shape - gamma.ppf(norm.cdf(-z), shape)) / np.sqrt(shape))


def _tails(df: float, u: Floats) -> Floats:
    """Return what makes of normal axes a Student's t of two, at its usual variance of 1."""
    return np.sqrt((df - 2) / chi2.ppf(u, df))


@lru_cache
def usual_share(shape: Shape, benchmark: Benchmark, lie: str) -> Floats:
    """Return the depth sd of a usual stroke, a share of the distance, at ``GRID_FT``.

    The one whose strokes, mishits, holed balls and all, take what the benchmark expects after it.
    """
    wanted = benchmark.expected(lie, GRID_FT) - 1
    rows = zip(wanted, _mean_worth(shape, benchmark), strict=True)
    return np.array([np.interp(one, means, SHARES) for one, means in rows])


@lru_cache
def _mean_worth(shape: Shape, benchmark: Benchmark) -> Floats:
    """Return what strokes leave on average, by ``GRID_FT`` and ``SHARES``."""
    u = qmc.Sobol(3, rng=4).random(4096)
    depth, side = norm.ppf(u[:, :2]).T
    tails = _tails(shape.df, u[:, 2]) if np.isfinite(shape.df) else np.ones(len(u))
    usual = Drawn(np.zeros(len(u), bool), _leaning(shape.skew, depth) * tails, side * tails)
    mishit = Drawn(np.ones(len(u), bool), depth, side)
    found = np.zeros((len(GRID_FT), len(SHARES)))
    for kind, wide, weight in (
        (usual, tails, 1 - shape.mishits),
        (mishit, shape.mishit_side, shape.mishits),
    ):
        for row, feet in enumerate(GRID_FT):
            along, across = kind.strokes(shape, SHARES[:, None], feet)
            left = worth(shape, benchmark, feet * np.hypot(along, across))
            # of the balls that reach the hole and would not pass it, those on line drop
            sd = feet * SHARES[:, None] * shape.ratio_at(feet) * wide
            drop = (along >= 0) & (along * feet <= PAST_FT)
            found[row] += weight * (left - drop * (2 * norm.cdf(HOLE_FT / sd) - 1)).mean(axis=1)
    return np.maximum.accumulate(found, axis=1)


def in_the_hole(depth: Floats, side: Floats) -> NDArray[np.bool_]:
    """Return which balls drop: on line with the hole, there and not running too far past it."""
    return (np.abs(side) < HOLE_FT) & (depth >= 0) & (depth <= PAST_FT)


@dataclass(frozen=True)
class Level:
    """The benchmark's own strokes: the usual share, then mean depth and total sds, feet."""

    share: Floats
    mean_depth: Floats
    sd_depth: Floats
    sd_side: Floats


def level_of(
    shape: Shape, benchmark: Benchmark, lie: NDArray[np.object_], distance: Floats
) -> Level:
    """Return how the benchmark's own strokes of a shape scatter from lies and distances (feet)."""
    share = np.full(len(distance), np.nan)
    for word in np.unique(lie.astype(str)):
        at = lie == word
        share[at] = np.interp(distance[at], GRID_FT, usual_share(shape, benchmark, word))
    q = shape.mishits
    depth = (1 - q) * share**2 + q * (shape.mishit_depth_sd**2 + (1 - q) * shape.mishit_depth**2)
    side = share * shape.ratio_at(distance)
    return Level(
        share,
        q * shape.mishit_depth * distance,
        np.sqrt(depth) * distance,
        side * np.sqrt(1 + q * (shape.mishit_side**2 - 1)) * distance,
    )


def _standard(
    shape: Shape, level: Level, distance: Floats, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """Return misses of the benchmark's own strokes in its sds, mean 0."""
    depth, side = drawn(shape, len(distance), rng).strokes(shape, level.share, distance)
    return (
        (depth * distance - level.mean_depth) / level.sd_depth,
        side * distance / level.sd_side,
    )


def play(
    truth: Truth, benchmark: Benchmark, n: int, rounds: int, rng: np.random.Generator
) -> pd.DataFrame:
    """Return n scored strokes in rounds, with the columns of ``scoring.gained.scored``."""
    lie, distance = _places(truth, n, rng)
    round_key = np.sort(np.concatenate([np.arange(rounds), rng.integers(rounds, size=n)])[:n])
    day = _days(truth, rounds, rng)[round_key]
    seen = rng.random(n) >= truth.unseen
    start = pd.DataFrame({"round_key": round_key, "lie": lie, "distance_ft": distance})
    rows = struck(truth, benchmark, start, day, rng)
    rows["penalty"] = (rng.random(n) < truth.penalty).astype(int)
    directions = {axis: rows[axis].where(seen) for axis in ("depth_ft", "side_ft")}
    return finished(benchmark, rows.assign(player="Ann Example", **directions))


def struck(
    truth: Truth, benchmark: Benchmark, start: pd.DataFrame, day: Floats, rng: np.random.Generator
) -> pd.DataFrame:
    """Return where balls of the player end that start at ``lie`` and ``distance_ft``.

    ``day``: times the spreads, of each stroke's round.
    """
    shape, n = truth.shape, len(start)
    lie, distance = start["lie"].to_numpy(object), start["distance_ft"].to_numpy(float)
    level = level_of(shape, benchmark, lie, distance)
    u, v = _standard(shape, level, distance, rng)
    depth = truth.depth_bias + truth.depth_spread * day * u
    depth = level.mean_depth + level.sd_depth * depth
    side = level.sd_side * (truth.side_bias + truth.side_spread * day * v)
    end = np.hypot(depth, side)
    off = rng.random(n) < expit(np.log(end / shape.off_ft) / shape.off_width)
    names, shares = zip(*shape.off_lies, strict=True)
    end_lie = np.where(off, rng.choice(np.array(names, object), n, p=shares), "green")
    holed = in_the_hole(depth, side)
    return start.assign(
        end_lie=np.where(holed, "holed", end_lie),
        end_distance_ft=np.where(holed, 0.0, end),
        penalty=0,
        depth_ft=depth,
        side_ft=side,
    )


def _places(truth: Truth, n: int, rng: np.random.Generator) -> tuple[NDArray[np.object_], Floats]:
    lie = rng.choice(np.array(truth.lies, object), n)
    return lie, rng.uniform(truth.low_ft, truth.high_ft, n)


def _days(truth: Truth, n: int, rng: np.random.Generator) -> Floats:
    """Return factors on a round's spreads, mean 1."""
    return np.exp(truth.round_sd * rng.standard_normal(n) - truth.round_sd**2 / 2)


def true_causes(truth: Truth, benchmark: Benchmark, n: int = 200_000) -> dict[str, float]:
    """Return what each cause truly costs a shot, from large simulation; strokes.

    The mean, over the 24 orders, of what switching a cause on adds: strokes are played with the
    causes switched on so far, the others as the benchmark's own.
    """
    rng, shape = np.random.default_rng(77), truth.shape
    lie, distance = _places(truth, n, rng)
    level = level_of(shape, benchmark, lie, distance)
    u, v = _standard(shape, level, distance, rng)
    days = _days(truth, n, rng)
    wider = np.exp(truth.round_sd**2 / 2)  # root mean square of a day's factor
    u, v = u * days / wider, v * days / wider

    @lru_cache
    def cost(on: frozenset[str]) -> float:
        bias = [truth.depth_bias * (FACTORS[0] in on), truth.side_bias * (FACTORS[2] in on)]
        spread = [
            truth.depth_spread * wider if FACTORS[1] in on else 1.0,
            truth.side_spread * wider if FACTORS[3] in on else 1.0,
        ]
        depth = level.mean_depth + level.sd_depth * (bias[0] + spread[0] * u)
        side = level.sd_side * (bias[1] + spread[1] * v)
        return float(worth(shape, benchmark, np.hypot(depth, side)).mean())

    found = dict.fromkeys(FACTORS, 0.0)
    orders = list(permutations(FACTORS))
    for order in orders:
        for k, factor in enumerate(order):
            added = cost(frozenset(order[: k + 1])) - cost(frozenset(order[:k]))
            found[factor] += added / len(orders)
    return found | {"penalty": truth.penalty}


def costing(factor: str, strokes: float, shape: Shape, benchmark: Benchmark) -> Truth:
    """Return a player whose one fault, a cause of ``why``, costs so many strokes a shot."""
    if factor == "penalty":
        return Truth(penalty=strokes, shape=shape)
    field, usual, way = dict(zip(FACTORS, FIELDS, strict=True))[factor]

    def player(amount: float) -> Truth:
        return Truth(shape=shape, **{field: usual + way * amount})

    def over(amount: float) -> float:
        return true_causes(player(amount), benchmark, 20_000)[factor] - strokes

    return player(brentq(over, 0.0, 3.0, xtol=0.005))


def finished(benchmark: Benchmark, rows: pd.DataFrame) -> pd.DataFrame:
    """Return the rows with expected strokes, gained, part and status as scoring gives them."""
    out = rows.copy()
    out["expected_before"] = benchmark.expected(out["lie"].to_numpy(object), out["distance_ft"])
    out["expected_after"] = benchmark.expected(
        out["end_lie"].to_numpy(object), out["end_distance_ft"]
    )
    out["gained"] = out["expected_before"] - out["expected_after"] - 1 - out["penalty"]
    out["status"] = np.where(out["gained"].isna(), "no_benchmark", "scored")
    out["part"] = None
    for part in PARTS:
        inside = (out["distance_ft"] >= part.low_ft) & (out["distance_ft"] <= part.high_ft)
        out.loc[inside & out["lie"].isin(part.lies) & out["part"].isna(), "part"] = part.name
    return out
