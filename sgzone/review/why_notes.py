"""What to know about the numbers of a part, in plain words."""

from __future__ import annotations

import numpy as np
from statsmodels.stats.proportion import proportions_ztest

from sgzone.review.part_shots import Floats, Shots
from sgzone.review.reference import Scatter
from sgzone.stats.cluster import per_unit, sums

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


def miss_notes(shots: Shots, scatter: Scatter, level: float) -> tuple[str, str, str, str]:
    """Return in words, feet: where shots tend and how they spread, in depth and to the sides.

    ``scatter``: the benchmark's, of the same strokes.
    """
    at = shots.known
    depth_sd, side_sd = scatter.sd_depth[at], scatter.sd_side[at]
    return (
        _tends(shots, shots.depth, ("short", "long"), level),
        _spreads(shots.depth[at], depth_sd),
        _tends(shots, shots.side, ("left", "right"), level),
        _spreads(shots.side[at], side_sd),
    )


def _tends(shots: Shots, axis: Floats, ways: tuple[str, str], level: float) -> str:
    rounds = np.unique(shots.round[shots.known], return_inverse=True)[1]
    n = int(rounds.max()) + 1
    total = sums(rounds, axis[shots.known], n)
    found = per_unit(np.zeros(n, np.intp), np.bincount(rounds), total, 1, level)
    mean, low, high = (float(v[0]) for v in (found.estimate, found.low, found.high))
    said = f"on average {_way(mean, ways)}"
    return (
        said if np.isnan(low) else f"{said} ({level:.0%}: {_way(low, ways)} to {_way(high, ways)})"
    )


def _way(feet: float, ways: tuple[str, str]) -> str:
    return f"{abs(feet):.1f} ft {ways[feet >= 0]}"


def _spreads(axis: Floats, reference: Floats) -> str:
    own, other = axis.std(ddof=1), np.sqrt(np.mean(reference**2))
    return f"sd {own:.1f} ft, the benchmark's {other:.1f} ft"
