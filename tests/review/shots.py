"""Scored strokes of an invented player whose every bias and spread is known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy.special import expit

from sgzone.benchmarks import Benchmark
from sgzone.review.why.reference import ASSUMPTIONS, reference_model
from sgzone.terms import PARTS


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


def play(
    truth: Truth, benchmark: Benchmark, n: int, rounds: int, rng: np.random.Generator
) -> pd.DataFrame:
    """Return n scored strokes in rounds, with the columns of ``scoring.gained.scored``."""
    lie = rng.choice(np.array(truth.lies, object), n)
    distance = rng.uniform(truth.low_ft, truth.high_ft, n)
    model = reference_model(benchmark)
    scatter = model.scatter(lie, distance)
    round_key = np.sort(np.concatenate([np.arange(rounds), rng.integers(rounds, size=n)])[:n])
    day = np.exp(truth.round_sd * rng.standard_normal(rounds) - truth.round_sd**2 / 2)[round_key]
    # the benchmark's own kind of stroke: now and then a mishit, the same mean and total sd
    a = ASSUMPTIONS
    mishit = rng.random(n) < a.mishit_share
    usual = model._share(lie, distance)[0]
    u = np.where(
        mishit,
        a.mishit_depth + a.mishit_depth_sd * rng.standard_normal(n),
        usual * rng.standard_normal(n),
    )
    u = (u * distance - scatter.mean_depth) / scatter.sd_depth
    v = np.where(mishit, a.mishit_side, 1.0) * rng.standard_normal(n)
    v /= np.sqrt(1 + a.mishit_share * (a.mishit_side**2 - 1))
    depth = truth.depth_bias + truth.depth_spread * day * u
    depth = scatter.mean_depth + scatter.sd_depth * depth
    side = scatter.sd_side * (truth.side_bias + truth.side_spread * day * v)
    end = np.hypot(depth, side)
    off = rng.random(n) < expit(np.log(end / a.off_ft) / a.off_width)
    names, shares = zip(*a.off_lies, strict=True)
    end_lie = np.where(off, rng.choice(np.array(names, object), n, p=shares), "green")
    seen = rng.random(n) >= truth.unseen
    return finished(
        benchmark,
        pd.DataFrame(
            {
                "player": "Ann Example",
                "round_key": round_key,
                "lie": lie,
                "distance_ft": distance,
                "end_lie": end_lie,
                "end_distance_ft": end,
                "penalty": (rng.random(n) < truth.penalty).astype(int),
                "depth_ft": np.where(seen, depth, np.nan),
                "side_ft": np.where(seen, side, np.nan),
            }
        ),
    )


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
