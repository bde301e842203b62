"""The player's own numbers against the ladder: which have no stock swing, and how often."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.clubs.shots import FROM_YD, SWUNG_LIES, club_shots
from sgzone.clubs.stock import COVER_YD
from sgzone.season.selection import EVERYTHING, Selection

if TYPE_CHECKING:
    from sgzone.season.store import Store

STEP_YD = 5.0
COVER_COLUMNS = (
    *("from_yd", "to_yd", "strokes", "uncovered", "rounds"),
    *("nearest_club", "nearest_swing", "nearest_yd"),
)


def cover(
    store: Store,
    ladder: pd.DataFrame,
    selection: Selection = EVERYTHING,
    within_yd: float = COVER_YD,
) -> pd.DataFrame:
    """Return the player's numbers in steps of 5 yd, 30 to 150, and how many no stock swing fits.

    ``ladder``: as ``clubs.stock.clubs`` returns it; a swing's number is its carry and release.
    ``strokes`` of the selection from fairway, tee and rough start there; ``uncovered`` of them have
    no swing within ``within_yd``. ``nearest_*``: the swing nearest to the step's middle and its
    number. Columns: ``COVER_COLUMNS``.
    """
    shots = club_shots(store, selection)
    shots = shots[shots["lie"].isin(SWUNG_LIES) & shots["number_yd"].between(FROM_YD, 150)]
    if not len(shots) or not len(ladder):
        return pd.DataFrame(columns=list(COVER_COLUMNS))
    reach = (ladder["carry_yd"] + ladder["release_yd"].fillna(0.0)).to_numpy(float)
    number = shots["number_yd"].to_numpy(float)
    alone = np.abs(number[:, None] - reach).min(axis=1) > within_yd
    step = np.minimum(np.floor(number / STEP_YD) * STEP_YD, 150 - STEP_YD)
    table = (
        pd.DataFrame({"from_yd": step, "alone": alone})
        .groupby("from_yd")["alone"]
        .agg(strokes="size", uncovered="sum")
        .reset_index()
    )
    near = np.abs(table["from_yd"].to_numpy()[:, None] + STEP_YD / 2 - reach).argmin(axis=1)
    return table.assign(
        to_yd=table["from_yd"] + STEP_YD,
        rounds=shots["round_key"].nunique(),
        nearest_club=ladder["club"].to_numpy()[near],
        nearest_swing=ladder["swing"].to_numpy()[near],
        nearest_yd=reach[near],
    )[list(COVER_COLUMNS)]
