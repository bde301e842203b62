"""Which round is looked back on, and which of the player's others it may be set beside."""

from __future__ import annotations

from datetime import date
from typing import Any, NamedTuple

import pandas as pd

from sgzone.errors import CallError
from sgzone.harmless import named

_NEAREST = 3  # days that a message names


class Chosen(NamedTuple):
    """A round and those beside it.

    ``row``: of ``scoring.gained.round_sizes``. ``keys``: of the others with as many holes.
    ``left_out``: how many others have more or fewer. ``same_day``: rounds of that day.
    """

    row: Any
    keys: frozenset[int]
    left_out: int
    same_day: int

    @property
    def key(self) -> int:
        """The key of the round itself."""
        return int(self.row.round_key)

    @property
    def day(self) -> date:
        """The day of the round."""
        return pd.Timestamp(self.row.date).date()


def choose(sizes: pd.DataFrame, day: date | None, number: int | None) -> Chosen:
    """Return the round of this day and number; without them the last, of the day or of all.

    ``sizes``: one player's rounds, as ``scoring.gained.round_sizes``. Rounds of another number of
    holes are left out of the comparison: nine holes say little beside eighteen. Raises
    ``CallError`` where there is no such round, or no round at all.
    """
    if sizes.empty:
        raise CallError("There is no round to look back on. sgzone rounds lists what is there.")
    days = sizes["date"].dt.date
    at = days.max() if day is None else day
    there = sizes[days == at]
    if there.empty:
        raise CallError(f"No round on {at} here. {_near(days, at)} sgzone rounds lists all.")
    own = there if number is None else there[there["round"] == number]
    if own.empty:
        numbers = ", ".join(str(n) for n in sorted(there["round"]))
        raise CallError(f"No round {number} on {at}; that day has round {numbers}.")
    row = own.sort_values("round").iloc[-1]
    others = sizes[sizes["round_key"] != row["round_key"]]
    alike = others["holes"] == row["holes"]
    return Chosen(
        row,
        frozenset(others.loc[alike, "round_key"].astype(int)),
        int((~alike).sum()),
        len(there),
    )


def one_player(sizes: pd.DataFrame) -> None:
    """Raise ``CallError`` where rounds of several players could be meant."""
    players = sorted(sizes["player"].unique())
    if len(players) > 1:
        them = ", ".join(named(player) for player in players)
        raise CallError(f"These are rounds of {len(players)} players ({them}); choose a player.")


def _near(days: pd.Series, at: date) -> str:
    """Return the days with a round that are nearest to one without, in order of time."""
    known = sorted(set(days), key=lambda day: (abs((day - at).days), day))[:_NEAREST]
    said = ", ".join(str(day) for day in sorted(known))
    return f"Nearest: {said}."
