"""Whole seasons of strokes for the study of ``why``: of a golfer of the benchmark's own level.

Starts come from the season simulator, so lies, distances and counts are a season's; where the balls
end is the season simulator's too, or that of ``tests.review.shots`` in any shape of misses.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from sgzone.benchmarks import benchmark
from sgzone.demo.courses import CHAMPIONSHIP
from sgzone.demo.player import Effect, Player
from sgzone.demo.presets import tour_level
from sgzone.demo.rounds import play_rounds
from sgzone.demo.truth import parts_of
from sgzone.review.where.cells import OF_LIES
from sgzone.review.where.summary import summary_table
from sgzone.review.why.split import losing_parts
from tests.review.shots import SAME, Shape, Truth, finished, struck

TOUR = benchmark("tour")
ROUNDS = 40
HOLES = 18.0 * ROUNDS
SECOND_PUTT_FT = 2.0
OWN = None
"""The season simulator's own strokes, rough and sand and greens and all."""

AMONG_OTHERS = (("fairway", 0.27), ("rough", 0.45), ("sand", 0.13), ("fringe", 0.15))
IND = replace(SAME, off_lies=AMONG_OTHERS)
LEVEL_SHAPES: dict[str, Shape | None] = {
    "own": OWN,
    "independent": IND,
    "t4 tails": replace(IND, df=4.0),
    "mishits x2.5": replace(IND, mishits=0.075),
    "skewed short": replace(IND, skew=1.0),
    "ratio x.75": replace(IND, ratio=tuple(0.75 * r for r in SAME.ratio)),
    "ratio x1.3": replace(IND, ratio=tuple(1.3 * r for r in SAME.ratio)),
}


@dataclass(frozen=True)
class Fault:
    """A fault of one part's strokes, on top of the benchmark's level.

    ``effect``: as the season simulator plants it; ``truth``: the same for strokes of any shape,
    of the lies and distances (feet) that the effect holds for.
    """

    part: str
    cause: str
    effect: Effect
    truth: Truth


FAULTS = {
    "wedge x1.6": Fault(
        "wedge_50_100",
        "long_short_spread",
        Effect(low_yd=50, high_yd=100, depth_spread=1.6),
        Truth(depth_spread=1.6),
    ),
    "wedge left 4%": Fault(
        "wedge_50_100",
        "left_right_bias",
        Effect(low_yd=50, high_yd=100, side_bias=-0.04),
        Truth(side_bias=-0.75),
    ),
    "chip x1.5": Fault(
        "chip_0_30",
        "long_short_spread",
        Effect(high_yd=30, depth_spread=1.5),
        Truth(depth_spread=1.5),
    ),
    "sand 15% short": Fault(
        "sand_0_50",
        "long_short_bias",
        Effect(lie="sand", high_yd=50, depth_bias=-0.15),
        Truth(depth_bias=-0.75),
    ),
}


def seasons(
    shape: Shape | None, n: int, seed: int, fault: Fault | None = None
) -> list[pd.DataFrame]:
    """Return n seasons of scored strokes of 40 rounds; ``shape`` None: the simulator's own."""
    who: Player = tour_level()
    if fault is not None and shape is None:
        who = who.with_effects(fault.effect)
    rng, rounds = np.random.default_rng(seed), n * ROUNDS
    course = np.arange(rounds) % len(CHAMPIONSHIP)
    strokes = play_rounds(rng, who, CHAMPIONSHIP, course)
    strokes = strokes[parts_of(strokes) != ""].rename(columns={"round_id": "round_key"})
    strokes = strokes.assign(player="Ann Example").reset_index(drop=True)
    if shape is not None:
        strokes = _struck_again(strokes, shape, fault, rng)
    scored = finished(TOUR, strokes)
    scored = scored[scored["status"] == "scored"]
    return [one for _, one in scored.groupby(scored["round_key"] // ROUNDS)]


def _struck_again(
    strokes: pd.DataFrame, shape: Shape, fault: Fault | None, rng: np.random.Generator
) -> pd.DataFrame:
    """Return the same starts with other ends."""
    days = np.exp(rng.normal(-0.0032, 0.08, strokes["round_key"].max() + 1))
    parts = parts_of(strokes)
    level = Truth(shape=shape)
    kinds = dict.fromkeys(np.unique(parts), level)
    if fault is not None:
        kinds[fault.part] = replace(fault.truth, shape=shape)
    putted = strokes["lie"].isin(["green", "fringe"]).to_numpy()
    ends = [_putted(strokes[putted], rng)]
    for part, truth in kinds.items():
        rows = strokes[(parts == part) & ~putted & (strokes["lie"] != "recovery")]
        if len(rows):
            ends.append(struck(truth, TOUR, rows, days[rows["round_key"]], rng))
    ends.append(strokes[strokes["lie"] == "recovery"])
    return pd.concat(ends).sort_index()


def _putted(rows: pd.DataFrame, rng: np.random.Generator) -> pd.DataFrame:
    """Return putts of just what the benchmark expects: holed, or a short one left."""
    after = TOUR.expected(rows["lie"].to_numpy(object), rows["distance_ft"]) - 1
    left = np.where(after < 1, SECOND_PUTT_FT, 3 * SECOND_PUTT_FT)
    missed = rng.random(len(rows)) < after / TOUR.expected("green", left)
    return rows.assign(
        end_lie=np.where(missed, "green", "holed"),
        end_distance_ft=np.where(missed, left, 0.0),
        penalty=0,
        depth_ft=np.nan,
        side_ft=np.nan,
    )


def losing(seasons: list[pd.DataFrame]) -> list[frozenset[str]]:
    """Return the parts that the summary of each season calls a loss."""
    whole = pd.concat([one.assign(player=str(k)) for k, one in enumerate(seasons)])
    whole["round_key"] += ROUNDS * (whole["player"].astype(int) - whole["round_key"] // ROUNDS)
    whole = whole.assign(squares=whole["gained"] ** 2, unscored=0, unvalued=0)
    whole = whole.assign(**{lie: whole["lie"] == lie for lie in OF_LIES})
    sums = whole.groupby(["part", "player", "round_key"], sort=False).agg(
        n=("gained", "count"), total=("gained", "sum"), squares=("squares", "sum"),
        unscored=("unscored", "sum"), unvalued=("unvalued", "sum"),
        **{lie: (lie, "sum") for lie in OF_LIES},
    )  # fmt: skip
    sizes = pd.DataFrame({"round_key": np.arange(ROUNDS * len(seasons)), "holes": 18})
    sizes["player"] = (sizes["round_key"] // ROUNDS).astype(str)
    table = summary_table(sums.reset_index(), sizes, ["player", "part"], 0.8)
    lost = {name: losing_parts(rows) for name, rows in table.groupby("player")}
    return [lost[str(k)] for k in range(len(seasons))]
