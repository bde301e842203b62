"""From probabilities to words: what may be said of a cell, and what may not."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sgzone.stats.shrink import Posterior
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH

Words = NDArray[np.object_]

MARGIN = 0.03
"""Strokes per shot off the green that are too few to matter."""
PUTT_MARGIN = 0.01
"""The same for a putt."""
CLEAR = 0.95
PROBABLE = 0.80
THIN_SHOTS = 30
THIN = "mostly the average of your game"

CLEAR_LOSS, PROBABLE_LOSS = "clear loss", "probable loss"
CLEAR_GAIN, PROBABLE_GAIN = "clear gain", "probable gain"
LEVEL, NOT_SETTLED = "level", "not settled"


def margin(putt_share: ArrayLike) -> NDArray[np.float64]:
    """Return the margin of a cell in strokes per shot, by the share of its strokes that are putts.

    A cell that mixes the two (a total, a club used for both) has the mean margin of its strokes.
    """
    share = np.asarray(putt_share, float)
    return PUTT_MARGIN * share + MARGIN * (1 - share)


def verdicts(posterior: Posterior, margin: ArrayLike) -> Words:
    """Return the words of each cell by the posterior of its gained per shot.

    ``margin``: strokes per shot, one number or one per cell.
    """
    margin = np.asarray(margin, float)
    loss = posterior.below(-margin)
    gain = 1 - posterior.below(margin)
    conditions = [
        loss >= CLEAR,
        gain >= CLEAR,
        loss >= PROBABLE,
        gain >= PROBABLE,
        1 - loss - gain >= PROBABLE,
    ]
    words = [CLEAR_LOSS, CLEAR_GAIN, PROBABLE_LOSS, PROBABLE_GAIN, LEVEL]
    return np.select(conditions, words, NOT_SETTLED).astype(object)


def enough(shots: ArrayLike, rounds: ArrayLike) -> NDArray[np.bool_]:
    """Return which cells have the shots and rounds that any verdict needs."""
    return (np.asarray(shots) >= MIN_SHOTS) & (np.asarray(rounds) >= MIN_ROUNDS)


def with_counts(words: Words, shots: ArrayLike, rounds: ArrayLike) -> tuple[Words, Words]:
    """Return the words and a note per cell once the number of shots has had its say."""
    ready = enough(shots, rounds)
    thin = ready & (np.asarray(shots) < THIN_SHOTS)
    return (
        np.where(ready, words, NOT_ENOUGH).astype(object),
        np.where(thin, THIN, "").astype(object),
    )
