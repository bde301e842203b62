"""One round's value beside the player's other rounds: the usual, and how many did better."""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.review.debrief.chosen import Chosen
from sgzone.review.where.plays_like import OFF_GREEN, PUTTING
from sgzone.review.where.summary import TOTAL
from sgzone.terms import PART_NAMES

Floats = NDArray[np.float64]

STANDING = ("usual", "compared", "better", "equal", "worse")
"""The mean of the other rounds, how many there are, and how many of them did better, the same and
worse."""
COLUMNS = ("part", "shots", "unscored", "gained", *STANDING)

_PUTTS = tuple(part for part in PART_NAMES if part.startswith("putt"))
WHOLES = {
    OFF_GREEN: tuple(part for part in PART_NAMES if part not in _PUTTS),
    PUTTING: _PUTTS,
    TOTAL: PART_NAMES,
}
"""What is added up of parts."""
_ALIKE = 1e-9  # strokes: what a different order of adding up may do


def standing(own: float, others: Floats, usual: float) -> dict[str, object]:
    """Return where a value is among the others; more is better.

    A value that is not known has no place: ``better``, ``equal`` and ``worse`` are then missing,
    as they are where there is nothing to compare with.
    """
    size, more = len(others), others - own
    known = size > 0 and own == own
    better, worse = int((more > _ALIKE).sum()), int((more < -_ALIKE).sum())
    counted = (better, size - better - worse, worse) if known else (None, None, None)
    return dict(zip(STANDING, (usual, size, *counted), strict=True))


def beside_others(sums: pd.DataFrame, chosen: Chosen) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return the round in all and by part: ``COLUMNS``, strokes gained, beside the other rounds.

    ``sums``: as ``scoring.gained.round_sums`` by part. In all: off the green, putting, total. A
    part is set beside the rounds that have a stroke of it; without one in this round it has no
    row. A round with a stroke of no value in the part is not compared: its sum is of fewer.
    """
    parts = [_row(part, (part,), sums, chosen) for part in PART_NAMES]
    wholes = [_row(name, of, sums, chosen) for name, of in WHOLES.items()]
    return _frame([row for row in parts if row["shots"] or row["unscored"]]), _frame(wholes)


def _row(
    name: str, parts: tuple[str, ...], sums: pd.DataFrame, chosen: Chosen
) -> dict[str, object]:
    rounds = sums[sums["part"].isin(parts)].groupby("round_key")[["n", "total", "unscored"]].sum()
    whole = rounds[(rounds["unscored"] == 0) & (rounds["n"] > 0)]
    others = whole.loc[whole.index.isin(chosen.keys), "total"].to_numpy(float)
    own = rounds.reindex([chosen.key], fill_value=0).iloc[0]
    gained, valued = float(own["total"]), chosen.key in whole.index
    usual = float(others.mean()) if len(others) else np.nan
    return {
        **{"part": name, "shots": int(own["n"]), "unscored": int(own["unscored"])},
        "gained": gained if own["n"] else np.nan,
        **standing(gained if valued else np.nan, others, usual),
    }


def _frame(rows: list[dict[str, object]]) -> pd.DataFrame:
    return whole_numbers(pd.DataFrame(rows, columns=list(COLUMNS)))


def whole_numbers(frame: pd.DataFrame) -> pd.DataFrame:
    """Return the frame with counts that may be missing as whole numbers."""
    return frame.astype(dict.fromkeys(STANDING[1:], "Int64")).astype({"usual": float})
