"""What to know about the numbers of a part, in plain words."""

from __future__ import annotations

import numpy as np
from statsmodels.stats.proportion import proportions_ztest

from sgzone.review.why.reference import Scatter
from sgzone.review.why.shots import Floats, Shots
from sgzone.stats.cluster import per_unit, sums
from sgzone.units import length_words

MIN_SPLIT = 30
MIN_RANK = 80
MIXED = 0.05
"""P below which the shots with and without direction miss the green at different rates."""


def part_note(shots: Shots) -> str:
    """Return what to know about the part's numbers, in plain words; empty where nothing."""
    n, known = len(shots.lie), int(shots.known.sum())
    said = [] if shots.rounds > 1 else ["one round: no interval"]
    if not shots.has_columns:
        return "; ".join(said)
    if known < n:
        said.append(f"direction known for {known} of {n} shots")
    if known < MIN_SPLIT:
        said.append(f"{MIN_SPLIT} with direction needed for a split")
    else:
        if known < MIN_RANK:
            said.append(f"{MIN_RANK} with direction needed to rank the causes")
        if known < n / 2:
            said.append("careful: direction missing for more than half")
        with_it, without = _off_shares(shots)
        if _differ(shots):
            said.append(
                f"careful: shots with direction missed the green {with_it:.0%} of the time, those "
                f"without {without:.0%}"
            )
    return "; ".join(said)


def _off_shares(shots: Shots) -> tuple[float, float]:
    shares = [shots.off[at].mean() if at.any() else np.nan for at in (shots.known, ~shots.known)]
    return float(shares[0]), float(shares[1])


def _differ(shots: Shots) -> bool:
    """Two-proportion test: do shots with and without direction miss the green at one rate?"""
    if shots.known.all() or not shots.known.any() or shots.off.all() or not shots.off.any():
        return False
    counts = [int(shots.off[at].sum()) for at in (shots.known, ~shots.known)]
    sizes = [int(at.sum()) for at in (shots.known, ~shots.known)]
    return bool(proportions_ztest(counts, sizes)[1] < MIXED)


def miss_notes(
    shots: Shots, scatter: Scatter, level: float, units: str = "yards"
) -> tuple[str, str, str, str]:
    """Return in words where shots tend and how they spread, in depth and to the sides.

    ``scatter``: the benchmark's, of the same strokes. ``units``: yards (feet here) or metric.
    """
    at = shots.known
    depth_sd, side_sd = scatter.sd_depth[at], scatter.sd_side[at]
    return (
        _tends(shots, shots.depth, ("short", "long"), level, units),
        _spreads(shots.depth[at], depth_sd, units),
        _tends(shots, shots.side, ("left", "right"), level, units),
        _spreads(shots.side[at], side_sd, units),
    )


def _tends(shots: Shots, axis: Floats, ways: tuple[str, str], level: float, units: str) -> str:
    rounds = np.unique(shots.round[shots.known], return_inverse=True)[1]
    n = int(rounds.max()) + 1
    total = sums(rounds, axis[shots.known], n)
    found = per_unit(np.zeros(n, np.intp), np.bincount(rounds), total, 1, level)
    said = [_way(float(v[0]), ways, units) for v in (found.estimate, found.low, found.high)]
    if np.isnan(found.low[0]):
        return f"on average {said[0]}"
    return f"on average {said[0]} ({level:.0%}: {said[1]} to {said[2]})"


def _way(feet: float, ways: tuple[str, str], units: str) -> str:
    return f"{length_words(abs(feet), units)} {ways[feet >= 0]}"


def _spreads(axis: Floats, reference: Floats, units: str) -> str:
    own, other = float(axis.std(ddof=1)), float(np.sqrt(np.mean(reference**2)))
    return f"sd {length_words(own, units)}, the benchmark's {length_words(other, units)}"
