"""The one distance of each part where the putts holed tell most, beside a standard's."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pandas as pd

from sgzone.bounds import bounded
from sgzone.review.why.putting import holed_share
from sgzone.stats.rates import wilson
from sgzone.terms import DEFAULT_LEVEL, GREEN, HOLED, MIN_ROUNDS, MIN_SHOTS

EDGES_FT = {
    "putt_0_10": (2.0, 4.0, 6.0, 8.0, 10.0),
    "putt_10_30": (10.0, 15.0, 20.0, 30.0),
}
"""Part -> where its steps begin and end. A tap-in tells nothing, and of putts from 30 ft and more
too few are holed."""
HOLED_COLUMNS = [
    *("part", "near_ft", "far_ft", "putts", "rounds", "holed_share", "low", "high"),
    *("benchmark_share", "status", "putts_lost"),
]


@bounded
def telling_putts(strokes: pd.DataFrame, name: str, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return per part the step of distances where the standard holes most more than the player.

    ``strokes``: columns of ``scoring.gained.scored``. ``name``: the standard's. Columns
    ``HOLED_COLUMNS``: the step from ``near_ft`` to under ``far_ft``; shares are 0 to 1, with the
    Wilson interval; the standard's is the mean over the player's own distances, ``status`` its
    weakest footing; ``putts_lost`` of ``putts``. Only steps of ``MIN_SHOTS`` putts in
    ``MIN_ROUNDS`` rounds whose interval leaves the standard's share above it, at a level that
    allows for the choice among a part's steps. What costs most comes first.
    """
    putts = strokes[(strokes["lie"] == GREEN) & strokes["end_lie"].notna()]
    found = []
    for part, edges in EDGES_FT.items():
        # one of several was picked, so each has to show more
        sure = 1 - (1 - level) / (len(edges) - 1)
        shown = [
            row
            for near, far in pairwise(edges)
            if (row := _step(putts, name, near, far, sure)) is not None
        ]
        if shown:
            found.append({"part": part, **max(shown, key=lambda row: row["putts_lost"])})
    table = pd.DataFrame(found, columns=HOLED_COLUMNS)
    return table.sort_values("putts_lost", ascending=False, ignore_index=True)


def _step(
    putts: pd.DataFrame, name: str, near: float, far: float, level: float
) -> dict[str, float | str] | None:
    """Return the putts of one step; None where they are too few or show no loss."""
    of = putts[(putts["distance_ft"] >= near) & (putts["distance_ft"] < far)]
    n, rounds = len(of), of["round_key"].nunique()
    if n < MIN_SHOTS or rounds < MIN_ROUNDS:
        return None
    made = int((of["end_lie"] == HOLED).sum())
    low, high = map(float, wilson(made, n, level))
    shares, status = holed_share(name, of["distance_ft"])
    share = float(np.mean(shares))
    if not high < share:  # NaN where the standard has no table
        return None
    return {
        **{"near_ft": near, "far_ft": far, "putts": n, "rounds": rounds},
        **{"holed_share": made / n, "low": low, "high": high, "benchmark_share": share},
        "status": "memory" if "memory" in set(status) else "reproduced",
        "putts_lost": n * share - made,
    }
