"""Carry against finish: is it the flight or the bounce that leaves the ball from the hole?

With d the distance to the hole and m the carry meant (d where it was not written down):

    depth = landing error + release error
    landing error = carry - m,   release = d + depth - carry,   release error = release - (d - m)

so a player who means to land short and let it run is not told that the carry was short.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.bounds import bounded
from sgzone.stats.cluster import means, sums
from sgzone.terms import DEFAULT_LEVEL, MIN_SHOTS, NOT_ENOUGH, PARTS
from sgzone.units import FT_PER_YD

Floats = NDArray[np.float64]

RELEASE_COLUMNS = [
    *("club", "swing", "shots", "rounds"),
    *("landing_error_yd", "landing_low_yd", "landing_high_yd", "landing_sd_yd"),
    *("release_yd", "release_low_yd", "release_high_yd", "release_sd_yd"),
    *("dominates", "note"),
]
FLIGHT, BOUNCE, BOTH = "flight", "bounce", "both alike"
CLEARLY = 2 / 3
"""One of the two dominates with this share of the mean square error or more: a convention."""

_OFF_GREEN_PARTS = [part.name for part in PARTS if "green" not in part.lies]


@bounded
def release(frame: pd.DataFrame, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return landing error and release by club and swing, yards, from strokes with a carry.

    ``frame``: columns of ``scoring.gained.scored``; strokes need carry_yd and depth_ft. Means
    carry ``low`` and ``high`` at ``level``; ``release_yd`` is positive where the ball runs on,
    negative where it spins back. ``dominates`` says which error has the larger mean square.
    The effective number is not used: a carry is measured over the ground.
    """
    rows = frame[frame["part"].isin(_OFF_GREEN_PARTS)]
    rows = rows[rows["carry_yd"].notna() & rows["depth_ft"].notna() & rows["club"].notna()]
    rows = rows.assign(swing=rows["swing"].astype(object).where(rows["swing"].notna(), ""))
    keys = pd.MultiIndex.from_frame(rows[["club", "swing"]].drop_duplicates()).sort_values()
    distance, carry = rows["distance_ft"].to_numpy(float) / FT_PER_YD, rows["carry_yd"]
    meant = rows["intended_yd"].to_numpy(float)
    meant = np.where(np.isnan(meant), distance, meant)
    landing = carry.to_numpy(float) - meant
    run = distance + rows["depth_ft"].to_numpy(float) / FT_PER_YD - carry.to_numpy(float)
    return _table(rows, keys, landing, run, run - (distance - meant), level)


def _table(
    rows: pd.DataFrame,
    keys: pd.MultiIndex,
    landing: Floats,
    run: Floats,
    run_error: Floats,
    level: float,
) -> pd.DataFrame:
    cell = keys.get_indexer(pd.MultiIndex.from_frame(rows[["club", "swing"]]))
    table = keys.to_frame(index=False)
    if not len(keys):
        return pd.DataFrame(columns=RELEASE_COLUMNS)
    shots = np.bincount(cell, minlength=len(keys))
    pieces = {"landing": (landing, "landing_error_yd"), "release": (run, "release_yd")}
    for name, (values, column) in pieces.items():
        found = means(cell, rows["round_key"], values, len(keys), level)
        table[column] = found.estimate
        table[f"{name}_low_yd"], table[f"{name}_high_yd"] = found.low, found.high
        table[f"{name}_sd_yd"] = _sd(cell, values, shots)
        table["rounds"] = found.rounds
    table["shots"] = shots
    table["dominates"] = _dominates(
        sums(cell, landing**2, len(keys)), sums(cell, run_error**2, len(keys))
    )
    thin = table["shots"] < MIN_SHOTS
    table.loc[thin, "dominates"] = ""
    table["note"] = np.where(thin, NOT_ENOUGH, "")
    return table[RELEASE_COLUMNS]


def _sd(cell: NDArray[np.intp], values: Floats, shots: NDArray[np.intp]) -> Floats:
    mean = sums(cell, values, len(shots)) / shots
    square = sums(cell, (values - mean[cell]) ** 2, len(shots))
    found: Floats = np.sqrt(square / np.where(shots > 1, shots - 1.0, np.nan))
    return found


def _dominates(landing: Floats, run: Floats) -> NDArray[np.object_]:
    whole = landing + run
    share = np.divide(landing, whole, out=np.full_like(whole, 0.5), where=whole > 0)
    words = np.where(share >= CLEARLY, FLIGHT, np.where(share <= 1 - CLEARLY, BOUNCE, BOTH))
    return words.astype(object)
