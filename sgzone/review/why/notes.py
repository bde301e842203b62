"""What to know about the numbers of a part: what was seen, where shots tend, how they spread."""

from __future__ import annotations

import numpy as np

from sgzone.review.why.reference import Scatter
from sgzone.review.why.shots import Bools, Floats, Shots
from sgzone.stats.cluster import per_unit, sums
from sgzone.stats.rates import unlike

MIN_SPLIT = 30
MIN_RANK = 80
MIXED = 0.05
"""P below which the shots with and without direction miss the green at different rates."""

MISS_FACTS = ("mean_ft", "mean_low_ft", "mean_high_ft", "sd_ft", "reference_sd_ft")
PART_FACTS = ("rounds", "split", "known", "from_fringe", "missed_known", "missed_unknown")


def part_facts(shots: Shots) -> dict[str, float]:
    """Return ``PART_FACTS``: rounds, whether the part can be split, shots with direction, and from
    the fringe.

    ``missed_known`` and ``missed_unknown``: how often shots with and without direction missed the
    green, where the two differ by more than chance; else NaN.
    """
    shares = _off_shares(shots) if shots.has_columns and _differ(shots) else (np.nan, np.nan)
    counts = (int(shots.known.sum()), int(shots.fringe.sum()))
    facts = (shots.rounds, shots.has_columns, *counts, *shares)
    return dict(zip(PART_FACTS, facts, strict=True))


def miss_facts(shots: Shots, scatter: Scatter, level: float) -> tuple[dict[str, float], ...]:
    """Return ``MISS_FACTS`` in feet of the four factors of direction: depth and side, bias first.

    A bias has the mean miss (long +, right +) with its interval, a spread the sd beside the
    benchmark's. ``scatter``: the benchmark's, of the same strokes.
    """
    at = shots.known
    return (
        _mean(shots, shots.depth, level),
        _spread(shots.depth[at], scatter.sd_depth[at]),
        _mean(shots, shots.side, level),
        _spread(shots.side[at], scatter.sd_side[at]),
    )


def _apart(shots: Shots) -> tuple[Bools, Bools]:
    """Return which shots have a direction and which lack one; those from the fringe need none."""
    return shots.known, ~shots.known & ~shots.fringe


def _off_shares(shots: Shots) -> tuple[float, float]:
    shares = [shots.off[at].mean() if at.any() else np.nan for at in _apart(shots)]
    return float(shares[0]), float(shares[1])


def _differ(shots: Shots) -> bool:
    """Two-proportion test: do shots with and without direction miss the green at one rate?"""
    known, unknown = _apart(shots)
    off = shots.off[known | unknown]
    if not unknown.any() or not known.any() or off.all() or not off.any():
        return False
    counts = (int(shots.off[known].sum()), int(shots.off[unknown].sum()))
    sizes = (int(known.sum()), int(unknown.sum()))
    return unlike(counts, sizes) < MIXED


def _mean(shots: Shots, axis: Floats, level: float) -> dict[str, float]:
    rounds = np.unique(shots.round[shots.known], return_inverse=True)[1]
    n = int(rounds.max()) + 1
    total = sums(rounds, axis[shots.known], n)
    found = per_unit(np.zeros(n, np.intp), np.bincount(rounds), total, 1, level)
    ends = (found.estimate, found.low, found.high)
    return dict(zip(MISS_FACTS, (float(end[0]) for end in ends), strict=False))


def _spread(axis: Floats, reference: Floats) -> dict[str, float]:
    own, other = float(axis.std(ddof=1)), float(np.sqrt(np.mean(reference**2)))
    return {"sd_ft": own, "reference_sd_ft": other}
