"""The chance that at least so many of some tries succeed, each with a chance of its own."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_BLOCK = 4096  # tries up to which every count is added up one by one, to the last digit


def at_least(chances: Floats, successes: int) -> float:
    """Return the chance of ``successes`` or more; ``chances``: of each try, 0 to 1.

    The exact tail of the Poisson-binomial distribution. Up to 4096 tries its relative error is
    that of so many sums of positive numbers; beyond it the absolute error is about 1e-14.
    """
    if successes <= 0:
        return 1.0
    return float(min(_counts(np.asarray(chances, float))[successes:].sum(), 1.0))


def _counts(chances: Floats) -> Floats:
    """Return the chance of each number of successes, from none to all."""
    if len(chances) > _BLOCK:
        middle = len(chances) // 2
        return _folded(_counts(chances[:middle]), _counts(chances[middle:]))
    counts = np.zeros(len(chances) + 1)
    counts[0] = 1.0
    for tried, chance in enumerate(chances, 1):
        counts[1 : tried + 1] = counts[1 : tried + 1] * (1 - chance) + counts[:tried] * chance
        counts[0] *= 1 - chance
    return counts


def _folded(one: Floats, other: Floats) -> Floats:
    size = len(one) + len(other) - 1
    room = 1 << (size - 1).bit_length()
    folded = np.fft.irfft(np.fft.rfft(one, room) * np.fft.rfft(other, room), room)[:size]
    return np.clip(folded, 0.0, None)
