"""Players of a squad compared although they played different courses on different days.

A field is a course on a day. Gained per round is a player's part plus the field's part: how
hard the course and the day were for those who played it. The field's part is taken out.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.scoring import round_sizes, round_sums
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.twoway import two_way
from sgzone.terms import DEFAULT_LEVEL

if TYPE_CHECKING:
    from sgzone.season.store import Store

Ints = NDArray[np.integer[Any]]

HOLES_PER_ROUND = 18
FACTS = ("without_course",)
"""What a note is made of, beside the shared rounds: rounds without a course are not shared."""
FIELD_COLUMNS = [
    *("player", "pool", "rounds", "shared_rounds", "gained_per_round"),
    *("against_field", "low", "high", *FACTS),
]


@bounded
def field_strength(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return each player's gained per round against those on the same courses the same days.

    Columns ``FIELD_COLUMNS``: ``gained_per_round`` against the benchmark; ``against_field``
    strokes per 18 holes against the mean player of the ``pool``, course and day taken out, with
    its interval at ``level``. Players belong to one pool where shared rounds link them, also by
    way of others; players of different pools cannot be compared. A chosen player is compared with
    all others.
    """
    everybody = replace(selection, player=None)
    sums = round_sums(store, benchmark, everybody).groupby("round_key")["total"].sum()
    sizes = round_sizes(store, everybody)
    total = sizes["round_key"].map(sums).fillna(0.0)
    table = field_table(sizes.assign(total=total), level)
    if selection.player is not None:
        table = table[table["player"] == selection.player].reset_index(drop=True)
    return table


@bounded
def field_table(rounds: pd.DataFrame, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return ``field_strength`` of rounds: player, date, course, holes, round_key, total gained."""
    if rounds.empty:
        return pd.DataFrame(columns=FIELD_COLUMNS)
    weight = rounds["holes"].to_numpy(float) / HOLES_PER_ROUND
    total = rounds["total"].to_numpy(float)
    player, names = pd.factorize(rounds["player"], sort=True)
    field = _fields(rounds)
    found = two_way(player, field, total / weight, weight, level)
    count = len(names)
    shared = _shared(player, field)
    n, n_shared = np.bincount(player, minlength=count), np.bincount(player[shared], minlength=count)
    blank = np.bincount(player[rounds["course"].isna().to_numpy()], minlength=count)
    whole = np.bincount(player, total, count) / np.bincount(player, weight, count)
    table = pd.DataFrame(
        {
            "player": names,
            "pool": np.where(np.isfinite(found.effect), found.pool + 1, 0),
            "rounds": n,
            "shared_rounds": n_shared,
            "gained_per_round": whole,
            "against_field": found.effect,
            "low": found.low,
            "high": found.high,
            "without_course": blank,
        }
    )
    table["pool"] = pd.factorize(table["pool"].where(table["pool"] > 0))[0] + 1
    table["pool"] = table["pool"].astype("Int64").where(table["pool"] > 0)
    order = ["pool", "against_field", "player"]
    return table.sort_values(order, ascending=[True, False, True], ignore_index=True)[FIELD_COLUMNS]


def _fields(rounds: pd.DataFrame) -> Ints:
    """Return the number of each round's field; a round without a course has one of its own."""
    alone = rounds["course"].isna()
    course = rounds["course"].where(~alone, "round " + rounds["round_key"].astype(str))
    keys = pd.DataFrame({"date": rounds["date"], "course": course, "alone": alone})
    return keys.groupby(["date", "course", "alone"], sort=False).ngroup().to_numpy()


def _shared(player: Ints, field: Ints) -> NDArray[np.bool_]:
    """Return which rounds somebody else played too."""
    pairs = pd.DataFrame({"player": player, "field": field})
    return (pairs.groupby("field")["player"].transform("nunique") > 1).to_numpy(bool)
