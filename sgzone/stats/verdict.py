"""From probabilities to words: what may be said of a mean, and what may not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

if TYPE_CHECKING:
    from sgzone.stats.shrink import Posterior

Words = NDArray[np.object_]

CLEAR = 0.95
PROBABLE = 0.80
LOSS, GAIN, OPEN = "loss", "gain", "open"
"""The side a verdict speaks for; open: for none."""
SURE, LIKELY, NONE = "clear", "probable", ""
"""How strongly it speaks."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What may be said of a mean: its code in data, the side it speaks for, and how strongly."""

    code: str
    side: str = OPEN
    strength: str = NONE


CLEAR_LOSS, PROBABLE_LOSS = "clear loss", "probable loss"
CLEAR_GAIN, PROBABLE_GAIN = "clear gain", "probable gain"
LEVEL, NOT_SETTLED = "level", "not settled"
VERDICTS = {
    verdict.code: verdict
    for verdict in (
        Verdict(CLEAR_LOSS, LOSS, SURE),
        Verdict(CLEAR_GAIN, GAIN, SURE),
        Verdict(PROBABLE_LOSS, LOSS, LIKELY),
        Verdict(PROBABLE_GAIN, GAIN, LIKELY),
        Verdict(LEVEL),
        Verdict(NOT_SETTLED),
    )
}
SIDES = {code: verdict.side for code, verdict in VERDICTS.items()}
STRENGTHS = {code: verdict.strength for code, verdict in VERDICTS.items()}

TOO_FEW, NO_DIFFERENCE = "too few", "no difference shown"
LEANING, BETTER_HERE = "leaning", "better here"
NOT_WRITTEN = "not written down"
"""What may be said of two groups; which of them is better stands beside it."""
MORE_THAN_NOISE, WITHIN_NOISE = "more than noise", "no more than noise"
NOT_ENOUGH_ROUNDS = "not enough rounds"
"""What may be said of a change over time."""
BEST, EQUAL = "best", "equal here"
TOO_CLOSE, COSTS = "too close to separate", "costs more"
"""What may be said of a way to play a number."""


def side_of(code: str) -> str:
    """Return the side of a verdict's code, open for any other word."""
    return SIDES.get(code, OPEN)


def verdicts(posterior: Posterior, margin: ArrayLike) -> Words:
    """Return the words of each cell by what is believed of its mean, above 0 being a gain.

    ``margin``: how much is too little to matter, one number or one per cell.
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


def held_back(words: Words, own: ArrayLike) -> NDArray[np.bool_]:
    """Return which cells' own mean lies on the other side of 0 than their word.

    Such a word rests on the other cells alone: what the cell's own strokes show speaks against it.
    ``own``: the mean of each cell's own strokes, above 0 being a gain; missing speaks for nothing.
    """
    own = np.asarray(own, float)
    losing = np.isin(words, [CLEAR_LOSS, PROBABLE_LOSS])
    gaining = np.isin(words, [CLEAR_GAIN, PROBABLE_GAIN])
    return np.asarray((losing & (own > 0)) | (gaining & (own < 0)))
