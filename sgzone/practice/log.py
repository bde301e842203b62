"""The practice log: hours really spent, and whether a plan jumps over them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.season.selection import Selection

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

BASELINE_WEEKS = 4
JUMP = 1.25
"""A week this many times the mean of the last weeks is a jump: common practice, no source."""

_LOG = """
SELECT date, part, minutes, balls, player
FROM practice_log
WHERE ($player IS NULL OR player = $player)
  AND ($since IS NULL OR date >= $since)
  AND ($until IS NULL OR date <= $until)
ORDER BY date, part, source_row
"""


def practice_log(store: Store, selection: Selection) -> pd.DataFrame:
    """Return the log of the chosen player and days: date, part, minutes, balls, player."""
    values = selection.parameters()
    del values["event"]
    return store.frame(_LOG, values)


def hours_by_part(
    store: Store, selection: Selection, parts: Sequence[str], weeks: float
) -> Floats | None:
    """Return the hours of each part in the last ``weeks`` weeks of the log; None without a log."""
    log = practice_log(store, selection)
    if not len(log):
        return None
    dates = pd.to_datetime(log["date"])
    recent = log[dates > dates.max() - pd.Timedelta(weeks=weeks)]
    minutes = recent.groupby("part")["minutes"].sum()
    return minutes.reindex(list(parts)).fillna(0.0).to_numpy(float) / 60


def weekly_baseline(log: pd.DataFrame) -> tuple[float, float] | None:
    """Return hours and balls a week over the log's last four weeks; None without a log."""
    if not len(log):
        return None
    dates = pd.to_datetime(log["date"])
    recent = log[dates > dates.max() - pd.Timedelta(weeks=BASELINE_WEEKS)]
    hours = float(recent["minutes"].sum()) / 60 / BASELINE_WEEKS
    return hours, float(recent["balls"].fillna(0).sum()) / BASELINE_WEEKS


def load_warning(log: pd.DataFrame, hours: float, balls: float | None = None) -> str:
    """Return the sentence about a jump in load, empty where there is none.

    ``hours`` and ``balls`` a week as planned. Without a log there is no baseline, said so.
    """
    base = weekly_baseline(log)
    if base is None:
        return (
            "No practice log, so no baseline: start low, well under these hours, and build up over "
            "weeks."
        )
    usual_hours, usual_balls = base
    jumps = []
    if hours > JUMP * usual_hours:
        jumps.append(f"{hours:.1f} hours a week after {usual_hours:.1f}")
    if balls is not None and usual_balls > 0 and balls > JUMP * usual_balls:
        jumps.append(f"{balls:.0f} balls a week after {usual_balls:.0f}")
    if not jumps:
        return ""
    return (
        f"A jump in load: {' and '.join(jumps)} (mean of the log's last {BASELINE_WEEKS} weeks). "
        "Build up over several weeks."
    )
