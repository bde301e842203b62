"""What an agreement counts: one value per stroke, try or hole, each with its round and day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.review.where.counts import (
    SAND_SAVES,
    UP_AND_DOWNS,
    putts_from,
    results,
    shots_at_green,
    tries_of,
)
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import MEASURE

if TYPE_CHECKING:
    from sgzone.season.store import Store

THREE_PUTTS = 3
GAINED = "per round"
"""Unit of a part: strokes gained per 18 holes."""


@dataclass(frozen=True)
class Observed:
    """The strokes of one player's rounds, as each measure counts them; asked for when wanted."""

    store: Store
    benchmark: str | Benchmark = "tour"
    selection: Selection = EVERYTHING

    @cached_property
    def rounds(self) -> pd.DataFrame:
        """The rounds in order of play: ``scoring.gained.round_sizes``."""
        return round_sizes(self.store, self.selection)

    @cached_property
    def tries(self) -> pd.DataFrame:
        """Tries to get up and down, with what came of them."""
        return results(tries_of(self.store, self.selection))

    @cached_property
    def shots(self) -> pd.DataFrame:
        """Strokes from off the green whose end is known."""
        return shots_at_green(self.store, self.selection)

    @cached_property
    def putts(self) -> pd.DataFrame:
        """Every putt."""
        return putts_from(self.store, self.selection)

    @cached_property
    def strokes(self) -> pd.DataFrame:
        """Every stroke with its value."""
        return scored(self.store, self.benchmark, self.selection)

    def of_part(self, part: str) -> pd.DataFrame:
        """Return what each stroke of a part gained: round_key, date, value."""
        of = self.strokes[(self.strokes["part"] == part) & self.strokes["gained"].notna()]
        return self._dated(of, of["gained"])

    def of_measure(
        self, measure: str, from_ft: float | None = None, to_ft: float | None = None
    ) -> pd.DataFrame:
        """Return what a measure counts from these distances: round_key, date, value.

        ``value``: 1 or 0 of a share, feet of the proximity. Both ends are in: who says from 4 to 5
        feet means the putts of 5 feet too.
        """
        about = MEASURE[measure]
        of = _COUNTED[measure](self)
        low = about.low_ft if from_ft is None else from_ft
        high = about.high_ft if to_ft is None else to_ft
        inside = of["distance_ft"].between(low, high)
        return self._dated(of[inside], of.loc[inside, "value"])

    def _dated(self, of: pd.DataFrame, value: pd.Series[Any]) -> pd.DataFrame:
        """Return round_key, date and value, in order of play."""
        days = self.rounds.set_index("round_key")["date"]
        key = of["round_key"].to_numpy()
        frame = pd.DataFrame({"round_key": key, "value": value.to_numpy(float)})
        frame.insert(1, "date", days.reindex(key).to_numpy())
        return frame.sort_values("round_key", kind="stable", ignore_index=True)


def _tries(measure: str) -> Callable[[Observed], pd.DataFrame]:
    def counted(of: Observed) -> pd.DataFrame:
        tries = of.tries[(of.tries["measure"] == measure) & ~of.tries["open"]]
        return tries.assign(value=tries["won"])

    return counted


def _holed(of: Observed) -> pd.DataFrame:
    putts = of.putts[of.putts["holed"].notna()]
    return putts.assign(value=putts["holed"].astype(float))


def _three_putts(of: Observed) -> pd.DataFrame:
    """Return the greens that were played out: whether from the first putt they took three."""
    greens = of.putts[of.putts["first"] & of.putts["putts"].notna()]
    return greens.assign(value=(greens["putts"] >= THREE_PUTTS).astype(float))


def _short(of: Observed) -> pd.DataFrame:
    """Return the strokes whose miss is written down: whether they finished short of the hole."""
    shots = of.shots[of.shots["depth_ft"].notna()]
    return shots.assign(value=(shots["depth_ft"] < 0).astype(float))


_COUNTED: dict[str, Callable[[Observed], pd.DataFrame]] = {
    "holed": _holed,
    "up_and_down": _tries(UP_AND_DOWNS),
    "sand_save": _tries(SAND_SAVES),
    "green_hit": lambda of: of.shots.assign(value=of.shots["hit"].astype(float)),
    "proximity": lambda of: of.shots.assign(value=of.shots["end_distance_ft"]),
    "three_putt": _three_putts,
    "short_miss": _short,
}
