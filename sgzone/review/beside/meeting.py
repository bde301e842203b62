"""A squad since its last meeting: who played and practised, and what changed from that day on."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd

from sgzone.bounds import bounded
from sgzone.review.beside.grouping import from_day
from sgzone.review.trend import BEFORE_AFTER_COLUMNS, before_after_table
from sgzone.review.where.summary import TOTAL
from sgzone.stats.resample import SEED
from sgzone.stats.verdict import NOT_ENOUGH_ROUNDS
from sgzone.terms import DEFAULT_LEVEL, MIN_ROUNDS, OUTSIDE

PLAYED_COLUMNS = ("player", "rounds", "shots", "hours")
_RANGES = ["low", "high", "joint_low", "joint_high", "p"]


def played(
    sizes: pd.DataFrame, strokes: pd.DataFrame, log: pd.DataFrame, first: date | None
) -> pd.DataFrame:
    """Return what each player has done from ``first`` on: ``PLAYED_COLUMNS``, by name.

    None: over all rounds. ``sizes``, ``strokes``, ``log``: as ``scoring.gained.round_sizes`` and
    ``scored`` and ``practice.log.practice_log`` of all players. ``shots``: strokes of the zone with
    a value. ``hours``: of practice, missing for a player without any log. Everybody has a row who
    has a round or a log.
    """
    counted = strokes[strokes["gained"].notna() & (strokes["part"] != OUTSIDE)]
    rounds, shots, logged = (
        frame if first is None else frame[from_day(pd.to_datetime(frame["date"]), first)]
        for frame in (sizes, counted, log)
    )
    names = sorted({*sizes["player"], *log["player"]})
    minutes = logged.groupby("player")["minutes"].sum().reindex(names, fill_value=0)
    hours = minutes.to_numpy(float) / 60
    hours[~np.isin(names, log["player"].unique())] = np.nan
    table = pd.DataFrame(
        {
            "player": names,
            "rounds": rounds["player"].value_counts().reindex(names, fill_value=0).to_numpy(),
            "shots": shots["player"].value_counts().reindex(names, fill_value=0).to_numpy(),
            "hours": hours,
        }
    )
    return table[list(PLAYED_COLUMNS)]


@bounded
def changed(
    sums: pd.DataFrame,
    sizes: pd.DataFrame,
    first: date,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return each player's season before ``first`` and from it on, by part and in total.

    Columns: player, then those of ``trend.before_after``, whose statistics these are, player by
    player. ``sums``, ``sizes``: as ``scoring.gained.round_sums`` by part and ``round_sizes``, of
    all players. Nothing is judged of a player with fewer than ``MIN_ROUNDS`` rounds since.
    """
    tables = [
        _of_player(sums[sums["player"] == player], own, first, level, seed).assign(player=player)
        for player, own in sizes.groupby("player", sort=True, observed=True)
    ]
    found = [table for table in tables if len(table)]
    columns = ["player", *BEFORE_AFTER_COLUMNS]
    return pd.concat(found, ignore_index=True)[columns] if found else pd.DataFrame(columns=columns)


def _of_player(
    sums: pd.DataFrame, sizes: pd.DataFrame, first: date, level: float, seed: int
) -> pd.DataFrame:
    table = before_after_table(sums, sizes, first, level, seed)
    few = table["rounds_after"] < MIN_ROUNDS
    table[_RANGES] = table[_RANGES].mask(few)
    return table.assign(verdict=table["verdict"].mask(few, NOT_ENOUGH_ROUNDS))


def in_all(changes: pd.DataFrame) -> pd.DataFrame:
    """Return the rows of ``changed`` about the whole game, one a player."""
    return changes[changes["part"] == TOTAL].reset_index(drop=True)
