"""How a level's expected putts fall apart: putts missed, and what comes after a miss.

expected = 1 + missed x after, where ``after`` is the putts still needed after a miss, 1 or more.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sgzone.benchmarks.sources import read_published

Floats = NDArray[np.float64]

LEAST_MISSED = 1e-3
"""Nobody holes or misses everything: shares stay this far from 0 and 1."""


def split(expected: ArrayLike) -> tuple[Floats, Floats]:
    """Return the share missed and the putts after a miss that make up expected putts.

    Expected putts alone tell the share missed nearly the same way at every level: see
    ``_missed_by_extra``.
    """
    extra = np.maximum(np.asarray(expected, float) - 1, 0.0)
    points, shares = _missed_by_extra()
    missed = np.clip(
        np.minimum(np.interp(extra, points, shares), extra), LEAST_MISSED, 1 - LEAST_MISSED
    )
    return missed, np.maximum(extra / missed, 1.0)


@cache
def _missed_by_extra() -> tuple[Floats, Floats]:
    """Return the share missed by expected putts less one, from the levels with both tables.

    Source key broadie2014; one-putt percentages quoted from memory are left out.
    """
    from scipy.optimize import isotonic_regression

    keys = ["population", "distance_ft"]
    outcomes = read_published("putt_outcomes.csv")
    outcomes = outcomes[(outcomes["outcome"] == "one-putt") & (outcomes["status"] != "memory")]
    putts = read_published("expected_putts.csv")
    putts = putts[(putts["table"] == "B") & (putts["status"] != "memory")]
    both = outcomes.merge(putts, on=keys)
    extra = both["putts"].astype(float) - 1
    missed = (1 - both["percent"].astype(float) / 100).groupby(extra).mean()
    points = missed.index.to_numpy(dtype=float)
    shares = isotonic_regression(missed.to_numpy(dtype=float)).x
    return np.concatenate([[0.0], points]), np.concatenate([[0.0], shares])
