"""How many strokes a verdict needs, and how small a difference is too small to matter."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sgzone.stats.shrink import Words
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH

MARGIN = 0.03
"""Strokes per shot off the green that are too few to matter."""
PUTT_MARGIN = 0.01
"""The same for a putt."""
THIN_SHOTS = 30


def margin(putt_share: ArrayLike) -> NDArray[np.float64]:
    """Return the margin of a cell in strokes per shot, by the share of its strokes that are putts.

    A cell that mixes the two (a total, a club used for both) has the mean margin of its strokes.
    """
    share = np.asarray(putt_share, float)
    return PUTT_MARGIN * share + MARGIN * (1 - share)


def enough(shots: ArrayLike, rounds: ArrayLike) -> NDArray[np.bool_]:
    """Return which cells have the shots and rounds that any verdict needs."""
    return (np.asarray(shots) >= MIN_SHOTS) & (np.asarray(rounds) >= MIN_ROUNDS)


def judged(
    words: Words, shots: ArrayLike, rounds: ArrayLike, held_back: ArrayLike
) -> tuple[Words, NDArray[np.bool_], NDArray[np.bool_]]:
    """Return the words once the number of shots has had its say, and which cells need a note.

    ``held_back``: which cells have no word because of what their own strokes show; of these those
    with shots enough come back, then those whose shots are so few that they lean on the rest.
    """
    ready = enough(shots, rounds)
    held = ready & np.asarray(held_back, bool)
    thin = ready & ~held & (np.asarray(shots) < THIN_SHOTS)
    return np.where(ready, words, NOT_ENOUGH).astype(object), held, thin
