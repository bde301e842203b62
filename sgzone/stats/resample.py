"""Draws of whole rounds, and the interval they give. Rounds are resampled, never shots."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import stdtrit

Floats = NDArray[np.float64]

SEED = 20260101
DRAWS = 2000
"""Enough that two seeds move no interval end by more than 10% of its width."""


def round_weights(n_rounds: int, draws: int = DRAWS, seed: int = SEED) -> Floats:
    """Return how often each round was drawn, shape (draws, n_rounds); every row sums to n_rounds.

    Counting random integers is the multinomial draw of a bootstrap.
    """
    drawn = np.random.default_rng(seed).integers(n_rounds, size=(draws, n_rounds))
    flat = drawn + n_rounds * np.arange(draws)[:, None]
    counts = np.bincount(flat.ravel(), minlength=draws * n_rounds)
    return counts.reshape(draws, n_rounds).astype(float)


def draw_interval(
    value: ArrayLike, drawn: Floats, n_rounds: int, level: float, besides: ArrayLike = 0.0
) -> tuple[Floats, Floats]:
    """Return low and high: value +- t(G - 1) sqrt(G / (G - 1) variance of the draws + besides^2).

    ``value``: (...,); ``drawn``: (draws, ...), NaN draws are left out; ``n_rounds`` G;
    ``besides``: the sd of an error that the draws do not hold, as ``value``. The sd of
    the draws needs fewer of them than their outer percentiles, and t keeps the coverage when
    there are few rounds. NaN under two rounds.
    """
    value = np.asarray(value, float)
    if n_rounds < 2:
        return np.full_like(value, np.nan), np.full_like(value, np.nan)
    variance = n_rounds / (n_rounds - 1) * np.nanvar(drawn, axis=0)
    half = stdtrit(n_rounds - 1, 0.5 + level / 2) * np.hypot(np.sqrt(variance), besides)
    return value - half, value + half
