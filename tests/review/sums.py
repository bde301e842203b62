"""Per-round sums made by hand or drawn, in the shape scoring hands them out."""

from __future__ import annotations

import numpy as np
import pandas as pd


def round_sums_of(strokes: pd.DataFrame, by: list[str]) -> pd.DataFrame:
    """Return n, total, squares, unscored, unvalued and three lies' n per group.

    ``gained`` missing is unscored; ``status``, where the strokes have it, tells which of these the
    benchmark has no value for.
    """
    keys = list(dict.fromkeys([*by, "player", "round_key"]))
    squared = strokes.assign(squares=strokes["gained"] ** 2, unscored=strokes["gained"].isna())
    squared["unvalued"] = strokes["status"] == "no_benchmark" if "status" in strokes else 0
    for lie in ("green", "rough", "sand"):
        squared[lie] = (strokes["lie"] == lie) & strokes["gained"].notna()
    grouped = squared.groupby(keys, dropna=False, sort=False)
    return grouped.agg(
        n=("gained", "count"),
        total=("gained", "sum"),
        squares=("squares", "sum"),
        unscored=("unscored", "sum"),
        unvalued=("unvalued", "sum"),
        green=("green", "sum"),
        rough=("rough", "sum"),
        sand=("sand", "sum"),
    ).reset_index()


def sizes_of(rounds: int, holes: int = 18, player: str = "Ada") -> pd.DataFrame:
    """Return the rounds of one player."""
    return pd.DataFrame({"player": player, "round_key": np.arange(rounds), "holes": holes})


PLAN = {  # part: lie, strokes per round, sd of one
    "approach_100_150": ("fairway", 6, 0.32),
    "wedge_50_100": ("fairway", 4, 0.30),
    "chip_0_30": ("rough", 5, 0.33),
    "sand_0_50": ("sand", 2, 0.36),
    "putt_0_10": ("green", 18, 0.29),
    "putt_10_30": ("green", 9, 0.38),
}


def drawn_season(rng, rounds=40, truth=0.0, shared_sd=0.03, player="Ada"):
    """Return strokes of a season with known mean gained per part (a number or a dict)."""
    frames = []
    for part, (lie, mean_shots, sd) in PLAN.items():
        counts = rng.poisson(mean_shots, rounds)
        round_ = np.repeat(np.arange(rounds), counts)
        mean = truth[part] if isinstance(truth, dict) else truth
        shared = rng.normal(0, shared_sd, rounds)[round_]
        gained = mean + shared + rng.normal(0, sd, len(round_))
        frames.append(
            pd.DataFrame(
                {"player": player, "round_key": round_, "part": part, "lie": lie, "gained": gained}
            )
        )
    return pd.concat(frames, ignore_index=True)
