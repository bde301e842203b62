"""The practice log: hours really spent, and whether a plan jumps over them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.resources import sql
from sgzone.season.selection import Selection

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

BASELINE_WEEKS = 4
JUMP = 1.25
"""A week this many times the mean of the last weeks is a jump: common practice, no source."""


def practice_log(store: Store, selection: Selection) -> pd.DataFrame:
    """Return the log of the chosen player and days: date, part, minutes, balls, player."""
    values = selection.parameters()
    del values["event"]
    return store.frame(sql("practice", "log"), values)


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


@dataclass(frozen=True, slots=True)
class Load:
    """A week as planned beside the mean of the log's last weeks, hours and balls.

    ``usual_hours`` and ``usual_balls``: None without a log. ``balls``: None where not planned.
    """

    hours: float
    balls: float | None
    usual_hours: float | None
    usual_balls: float | None

    @property
    def jumps_in_hours(self) -> bool:
        """Whether the hours are a jump."""
        return self.usual_hours is not None and self.hours > JUMP * self.usual_hours

    @property
    def jumps_in_balls(self) -> bool:
        """Whether the balls are a jump; where none were logged nothing is said of them."""
        if self.balls is None or not self.usual_balls:
            return False
        return self.balls > JUMP * self.usual_balls


def planned_load(log: pd.DataFrame, hours: float, balls: float | None = None) -> Load:
    """Return the load of a plan, ``hours`` and ``balls`` a week, beside what the log knows."""
    usual_hours, usual_balls = weekly_baseline(log) or (None, None)
    return Load(hours, balls, usual_hours, usual_balls)
