"""What strokes are compared by: columns of the card, the bag's bounce, before and after a date."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.errors import CallError, did_you_mean
from sgzone.resources import sql
from sgzone.review.where.keys import columns_of
from sgzone.scoring import BY_COLUMNS

if TYPE_CHECKING:
    from sgzone.season.store import Store

DATE, BOUNCE = "date", "bounce"
_PLACES = ("part", "band", "lie", "hole", "par")
COMPARE_BY = (*(name for name in BY_COLUMNS if name not in _PLACES), BOUNCE, DATE)
"""Lie and distance are what is held equal, so nothing is compared by them."""
MOST_GROUPS = 42
"""Groups that are compared at once, 861 pairs: 14 clubs, the most that a bag holds, by 3 swings."""
_MOST_NAMED = 20


def compare_keys(by: str | Sequence[str], split_date: date | None) -> list[str]:
    """Return the columns to group by; several are crossed (``club,swing``).

    Raises ``CallError`` for an unknown column and where a date is missing or not asked for.
    """
    keys = columns_of(by)
    if not keys:
        raise CallError("nothing to compare by; name a column, such as club")
    for name in keys:
        if name not in COMPARE_BY:
            raise CallError(
                f'nothing to compare by "{name}".{did_you_mean(name, COMPARE_BY)} Choose from: '
                f"{', '.join(COMPARE_BY)} (several with a comma)."
            )
    if (DATE in keys) != (split_date is not None):
        raise CallError(
            "to compare before and after a day give both: by date and the day itself (--split-date "
            "2026-07-20)"
        )
    return keys


def labels(frame: pd.DataFrame, keys: Sequence[str], split_date: date | None) -> pd.Series[str]:
    """Return the name of each row's group, missing where any of its keys is.

    The names of crossed keys stand side by side: ``54 full``.
    """
    known = pd.Series(True, index=frame.index)
    joined = pd.Series("", index=frame.index, dtype=object)
    for name in keys:
        column = _before_after(frame, split_date) if name == DATE else frame[name]
        known &= column.notna()
        joined = joined + " " + column.map(_word).astype(object)
    return joined.str.strip().astype(object).where(known, None)


def in_order(names: pd.Series[str], chosen: Sequence[str] | None) -> list[str]:
    """Return the groups in the order they are compared in: as chosen, else by name.

    Before stands before after. Of more than ``MOST_GROUPS`` the most played are taken. Raises
    ``CallError`` for a chosen group that is not there, and where more are chosen.
    """
    shots = names.value_counts()
    there = sorted(shots.index, key=lambda name: (name.startswith("from "), name))
    for name in chosen or ():
        if name not in shots.index:
            hint = did_you_mean(name, there)
            raise CallError(f'no strokes of "{name}" here.{hint} There: {_named(there) or "none"}.')
    if chosen:
        wanted = list(dict.fromkeys(chosen))
        if len(wanted) > MOST_GROUPS:
            raise CallError(f"{len(wanted)} groups; compare at most {MOST_GROUPS} at a time")
        return wanted
    most = set(sorted(there, key=lambda name: -shots[name])[:MOST_GROUPS])
    return [name for name in there if name in most]


def left_out(names: pd.Series[str], chosen: Sequence[str] | None) -> int:
    """Return how many groups ``in_order`` leaves out."""
    return 0 if chosen else max(names.nunique() - MOST_GROUPS, 0)


def _named(names: Sequence[str]) -> str:
    more = len(names) - _MOST_NAMED
    return ", ".join(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def with_bounce(frame: pd.DataFrame, store: Store) -> pd.DataFrame:
    """Return the rows with ``bounce``: of the club in play that day, degrees, by the bag table."""
    bag = store.frame(sql("review", "bounces"))
    rows = frame[["player", "club", "date"]].assign(row=np.arange(len(frame)))
    met = rows.merge(bag, on=["player", "club"])
    inside = (met["date"] >= met["in_play_from"]) & ~(met["date"] > met["in_play_to"])
    bounce = met[inside].drop_duplicates("row", keep="last").set_index("row")["bounce"]
    return frame.assign(bounce=bounce.reindex(np.arange(len(frame))).to_numpy())


def from_day(dates: pd.Series[pd.Timestamp], day: date | None) -> NDArray[np.bool_]:
    """Return which of the dates are ``day`` or later; it may be of any year of the calendar."""
    later: NDArray[np.bool_] = dates.to_numpy("datetime64[s]") >= np.datetime64(str(day), "s")
    return later


def _before_after(frame: pd.DataFrame, split_date: date | None) -> pd.Series[str]:
    after = from_day(frame["date"], split_date)
    words = np.where(after, f"from {split_date}", f"before {split_date}")
    return pd.Series(words, index=frame.index, dtype=object)


def _word(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
