"""What is true of a simulated player: the parameters, and strokes gained by large simulation."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import benchmark as named_benchmark
from sgzone.benchmarks import placing
from sgzone.demo.courses import CHAMPIONSHIP, Course
from sgzone.demo.player import Player, total_pattern
from sgzone.demo.rounds import play_rounds
from sgzone.stats.resample import SEED
from sgzone.terms import OUTSIDE

TRUTH_ROUNDS = 4000

PATTERN_YD = (10.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0, 140.0)
SWING_LIES = ("fairway", "rough", "sand")


def parts_of(strokes: pd.DataFrame) -> NDArray[np.object_]:
    """Return the part (``terms.PARTS``) of each stroke by its lie and distance_ft, '' outside."""
    parts = placing.parts_of(strokes["lie"], strokes["distance_ft"])
    return np.where(parts == OUTSIDE, "", parts)


def gained(strokes: pd.DataFrame, benchmark: str = "tour") -> NDArray[np.float64]:
    """Return strokes gained of each simulated stroke against a benchmark's curve."""
    curve = named_benchmark(benchmark)
    before = curve.expected(strokes["lie"].to_numpy(), strokes["distance_ft"].to_numpy())
    after = curve.expected(strokes["end_lie"].to_numpy(), strokes["end_distance_ft"].to_numpy())
    penalty = strokes["penalty"].to_numpy(dtype=float)
    return np.asarray(before - after - 1 - penalty, dtype=float)


@lru_cache(maxsize=32)
def true_gained(
    player: Player,
    benchmark: str = "tour",
    *,
    by: tuple[str, ...] = ("part",),
    courses: tuple[Course, ...] = CHAMPIONSHIP,
    rounds: int = TRUTH_ROUNDS,
    seed: int = SEED + 1,
) -> pd.DataFrame:
    """Return the player's true mean strokes gained per cell, from a large simulation.

    ``by``: columns of the simulated strokes, or ``part``. Columns out: the by columns,
    shots_per_round, gained_per_shot, gained_per_round, sd (of one stroke), se (of gained_per_shot,
    clustered by round: what the simulation leaves uncertain). Strokes of the zone only. The same
    call is answered from memory: do not change the frame.
    """
    course_of = np.arange(rounds) % len(courses)
    strokes = play_rounds(np.random.default_rng(seed), player, courses, course_of)
    strokes["gained"] = gained(strokes, benchmark)
    strokes["part"] = parts_of(strokes)
    zone = strokes[(strokes["part"] != "") & strokes["gained"].notna()]
    cells = zone.groupby(list(by), sort=False, observed=True)["gained"]
    out = cells.agg(["size", "sum", "mean", "std"]).reset_index()
    centred = zone["gained"] - cells.transform("mean")
    keys = [*(zone[name] for name in by), zone["round_id"]]
    per_round = centred.groupby(keys, sort=False, observed=True).sum()
    squares = (per_round**2).groupby(level=list(range(len(by))), sort=False).sum()
    out["se"] = np.sqrt(squares.to_numpy()) / out["size"]
    out["shots_per_round"] = out["size"] / rounds
    out["gained_per_round"] = out["sum"] / rounds
    out = out.rename(columns={"mean": "gained_per_shot", "std": "sd"})
    return out[[*by, "shots_per_round", "gained_per_shot", "gained_per_round", "sd", "se"]]


def true_patterns(player: Player) -> pd.DataFrame:
    """Return the player's true bias and spread by lie, distance, club and swing.

    Strokes without a stock swing at ``PATTERN_YD``, stock swings at their own carry. Columns: lie,
    distance_yd, club, swing, then depth_bias, depth_sd, side_bias, side_sd: mean and total sd
    (mishits and rounds in it) as shares of the distance, in calm air.
    """
    rows = [(lie, yards, "", "") for lie in SWING_LIES for yards in PATTERN_YD]
    rows += [
        (lie, stock.carry_yd, stock.club, stock.swing) for lie in SWING_LIES for stock in player.bag
    ]
    out = pd.DataFrame(rows, columns=["lie", "distance_yd", "club", "swing"])
    seen = total_pattern(player, *(out[name].tolist() for name in out.columns))
    for name in ("depth_bias", "depth_sd", "side_bias", "side_sd"):
        out[name] = getattr(seen, name)
    return out
