"""Invented strokes whose expected number to hole out is known exactly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark, benchmark

TOUR = benchmark("tour")
WEAKER = benchmark("amateur-90")
REACH_FT = {"green": (2.0, 60.0), "tee": (300.0, 450.0)}
OFF_GREEN_FT = (30.0, 450.0)
NO_STROKES = pd.DataFrame(
    {
        "round_key": np.array([], int),
        "player": np.array([], object),
        "lie": np.array([], object),
        "distance_ft": np.array([], float),
        "strokes": np.array([], float),
        "holed": np.array([], float),
    }
)


@dataclass(frozen=True)
class Level:
    """A level between tour (share 0) and amateur-90 (1), with a wave of its own off the green."""

    share: float
    wave: float = 0.0
    phase: float = 0.0

    def expected(self, lie: str, feet: np.ndarray) -> np.ndarray:
        near, far = TOUR.expected(lie, feet), WEAKER.expected(lie, feet)
        wave = 0.0 if lie == "green" else self.wave * np.sin(2 * np.log(feet) + self.phase)
        return near + self.share * (far - near) + wave


def any_level(rng: np.random.Generator) -> Level:
    return Level(rng.uniform(0.0, 0.7), 0.05, rng.uniform(0, 2 * np.pi))


def play(
    level: Level, lie: str, n: int, rng: np.random.Generator, player: str = "Ada"
) -> pd.DataFrame:
    """Return n strokes from one lie with the columns of ``outcomes``, in rounds of ten."""
    low, high = REACH_FT.get(lie, OFF_GREEN_FT)
    feet = rng.uniform(low, high, n)
    mean = level.expected(lie, feet)
    strokes = _putts(feet, mean, rng) if lie == "green" else _others(mean, rng)
    return pd.DataFrame(
        {
            "round_key": np.arange(n) // 10,
            "player": player,
            "lie": lie,
            "distance_ft": feet,
            "strokes": strokes,
            "holed": (strokes == 1).astype(float),
        }
    )


def _others(mean: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Return whole numbers with the given means and a scatter of about 0.6."""
    return np.maximum(np.floor(mean + rng.normal(0, 0.45, len(mean)) + rng.random(len(mean))), 1)


def _putts(feet: np.ndarray, mean: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Return 1, 2 or 3 putts with the given means; nobody misses more than 99% of first putts."""
    extra = mean - 1
    far = 0.8 + 0.19 * (1 - np.exp(-(extra - 0.8) / 0.25))
    missed = np.where(extra < 0.8, extra, far)
    drawn = rng.random(len(feet))
    return 1.0 + (drawn < missed) + (drawn < extra - missed)


def sample(level: Level, n: int, rng: np.random.Generator) -> pd.DataFrame:
    """Return n strokes from each of the lies that the study looks at."""
    lies = ("fairway", "rough", "sand", "green")
    return pd.concat([play(level, lie, n, rng) for lie in lies], ignore_index=True)


def known(fitted: Benchmark) -> pd.DataFrame:
    """Return the knots inside the reach of ``play``, with feet beside."""
    knots = fitted.knots.assign(
        feet=fitted.knots["distance"] * np.where(fitted.knots["unit"] == "yd", 3.0, 1.0)
    )
    low = knots["lie"].map(lambda lie: REACH_FT.get(lie, OFF_GREEN_FT)[0])
    high = knots["lie"].map(lambda lie: REACH_FT.get(lie, OFF_GREEN_FT)[1])
    return knots[(knots["feet"] >= low) & (knots["feet"] <= high) & knots["low"].notna()]
