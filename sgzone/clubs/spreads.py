"""How a player's swings scatter: each one's own spread, pulled towards the smooth curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.review.why.reference import reference_model
from sgzone.stats import robust
from sgzone.stats.cluster import sums
from sgzone.terms import SWING_LIE
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]

REFERENCE_DF = 10.0
"""Shots that the benchmark's own scatter counts for in the player's smooth curve."""
BIAS_SHARE = 0.01
"""A swing's lean is pulled towards none as if leans had this sd, share of the distance, or the one
the player's swings show together if that is larger: who is 5% short with every part swing is not
told that each of them is a matter of luck."""

BIAS_SHARES = np.geomspace(0.005, 0.05, 10)
"""Sds that leans may have, all as likely, where it is asked how well one is known: few shots do not
show that a player leans, so the pull takes him for one who does not, and may be wrong."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Per swing, arrays of shape (swings,); lengths as shares of the distance.

    ``n``: shots with depth and side; ``mishits``: share of them set aside. ``depth_sd``,
    ``side_sd``: adjusted; ``df``: their degrees of freedom, the smooth curve taken as known, and
    ``curve_sd``: how far that one may be off, in the logarithm. ``depth_lean``, ``side_lean``: mean
    of depth and side, pulled towards 0, with their sds.
    """

    n: Floats
    mishits: Floats
    depth_sd: Floats
    side_sd: Floats
    df: Floats
    curve_sd: Floats
    depth_lean: Floats
    side_lean: Floats
    depth_lean_sd: Floats
    side_lean_sd: Floats


def swing_spreads(
    shots: pd.DataFrame, swings: pd.MultiIndex, at_yd: Floats, lie: str, benchmark: Benchmark
) -> Spread:
    """Return the spreads of ``swings`` (club, swing) from shots of one class of lie.

    ``shots``: as ``club_shots`` returns them; ``at_yd``: each swing's stock number, where its
    place on the smooth curve is. ``lie``: fairway (tee and fringe with it), rough or sand.
    """
    rows = shots[shots["lie"].replace(SWING_LIE) == lie]
    rows = rows[rows["depth_ft"].notna() & rows["side_ft"].notna()]
    cell = swings.get_indexer(pd.MultiIndex.from_frame(rows[["club", "swing"]]))
    rows, cell = rows[cell >= 0], cell[cell >= 0]
    feet = rows["target_yd"].to_numpy(float) * FT_PER_YD
    depth, side = rows["depth_ft"].to_numpy(float) / feet, rows["side_ft"].to_numpy(float) / feet
    count = len(swings)
    out = robust.stray(cell, depth, count)
    n = np.bincount(cell, minlength=count).astype(float)
    kept = cell[~out]
    scatter = reference_model(benchmark).scatter(lie, at_yd * FT_PER_YD)
    shares = [np.asarray(sd) / (at_yd * FT_PER_YD) for sd in (scatter.sd_depth, scatter.sd_side)]
    found = [
        _axis(kept, values[~out], count, at_yd, share)
        for values, share in zip((depth, side), shares, strict=True)
    ]
    (depth_sd, depth_lean, depth_doubt, size), (side_sd, side_lean, side_doubt, _) = found
    return Spread(
        n=n,
        mishits=sums(cell, out, count) / np.where(n > 0, n, np.nan),
        depth_sd=depth_sd,
        side_sd=side_sd,
        df=robust.pulled_df(size),
        curve_sd=_curve_doubt(size, at_yd),
        depth_lean=depth_lean,
        side_lean=side_lean,
        depth_lean_sd=depth_doubt,
        side_lean_sd=side_doubt,
    )


def _axis(
    cell: NDArray[np.intp], values: Floats, count: int, at_yd: Floats, reference: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Return adjusted sd, adjusted lean, the lean's sd, and the number of values per swing."""
    n, own = robust.variances(cell, values, count)
    df = np.maximum(n - 1, 0)
    pool = robust.smooth_variance(at_yd, np.nan_to_num(own), df, at_yd, reference**2, REFERENCE_DF)
    sd = np.sqrt(robust.pulled_variance(n, own, pool))
    mean = sums(cell, values, count) / np.where(n > 0, n, np.nan)
    lean, doubt = pulled_lean(mean, n, sd)
    return sd, lean, doubt, n


def _curve_doubt(n: Floats, at_yd: Floats) -> Floats:
    """Return how far the smooth curve may put each swing's adjusted sd off, in the logarithm."""
    df = np.maximum(n - 1, 0)
    doubt: Floats = robust.smooth_doubt(at_yd, df, at_yd, REFERENCE_DF)
    return robust.POOL_DF / robust.pulled_df(n) * doubt


def pulled_lean(mean: Floats, n: Floats, sd: Floats, each: float = 1.0) -> tuple[Floats, Floats]:
    """Return each swing's mean miss pulled towards none, and its sd; shares of the distance.

    ``each``: shots that tell as much as one of a mean would, more than 1 for a median.
    """
    usual = robust.lean_spread(mean, n, sd, BIAS_SHARE)
    lean, _ = robust.pulled_mean(mean, n, sd, np.full(len(n), usual))
    return lean, robust.mean_doubt(mean, n / each, sd, lean, BIAS_SHARES)
