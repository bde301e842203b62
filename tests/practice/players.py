"""Losses and plans for the tests of practice: known players, seen through a few rounds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sgzone.practice.losses import Losses
from sgzone.practice.settings import Settings
from sgzone.review.where.cells import ODD_CELL
from sgzone.stats.shrink import shrink

PARTS = Settings().parts
SHOTS_PER_ROUND = np.array([6.5, 3.5, 1.6, 7.0, 1.6, 14.0, 8.0, 4.0])
SHOT_SD = np.array([0.32, 0.32, 0.32, 0.33, 0.34, 0.29, 0.38, 0.34])


def losses(mean, sd=0.0, draws=500, shots_per_round=None) -> Losses:
    """Losses per round with normal draws; strokes."""
    mean = np.asarray(mean, float)
    sd = np.broadcast_to(np.asarray(sd, float), mean.shape)
    count = len(mean)
    drawn = mean + sd * np.random.default_rng(5).normal(size=(draws, count))
    rate = SHOTS_PER_ROUND[:count] if shots_per_round is None else np.asarray(shots_per_round)
    ends = 1.2816 * sd
    return Losses(
        parts=PARTS[:count],
        shots=np.full(count, 60),
        rounds=np.full(count, 20),
        shots_per_round=rate,
        mean=mean,
        low=mean - ends,
        high=mean + ends,
        draws=drawn,
    )


def certain(parts: int = len(PARTS), **more) -> Settings:
    """Settings without doubt: every draw is the same."""
    return Settings(parts=PARTS[:parts], recoverable_spread=0.0, rate_spread=0.0, **more)


@dataclass(frozen=True)
class Known:
    """A player whose truth is known, and what some rounds show of it."""

    loss: np.ndarray  # strokes per round, true
    recoverable: np.ndarray
    rate_hours: float
    seen: Losses


def known_player(rng: np.random.Generator, rounds: int = 20, draws: int = 4000) -> Known:
    """Draw a player: loss per shot about .05 with sd .06, what practice can do, and the rounds."""
    per_shot = 0.05 + 0.06 * rng.normal(size=len(PARTS))
    shots = np.maximum(rng.poisson(SHOTS_PER_ROUND * rounds), 2)
    mean = per_shot + SHOT_SD / np.sqrt(shots) * rng.normal(size=len(PARTS))
    belief = shrink(-mean, 0.33**2 / shots, odd=ODD_CELL)
    rate = SHOTS_PER_ROUND
    seen = Losses(
        parts=PARTS,
        shots=shots,
        rounds=np.full(len(PARTS), rounds),
        shots_per_round=rate,
        mean=-belief.mean * rate,
        low=-belief.quantile(0.9) * rate,
        high=-belief.quantile(0.1) * rate,
        draws=-belief.draw(draws, rng) * rate,
    )
    return Known(
        loss=np.maximum(per_shot, 0.0) * rate,
        recoverable=np.minimum(0.4 * np.exp(0.35 * rng.normal(size=len(PARTS))), 1.0),
        rate_hours=float(20 * np.exp(0.5 * rng.normal())),
        seen=seen,
    )
