"""Shots by club and swing, from the course or from test blocks: never the two together."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.errors import CallError, did_you_mean
from sgzone.resources import sql
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import CLUB_LIES, FAIRWAY, SWING_LIE, TURF_LIES
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

COURSE, TEST, RANGE_BALLS = "course", "test", "range balls"
SOURCES = (COURSE, TEST, RANGE_BALLS)
"""Where shots come from; range balls carry another way than the player's own."""

FROM_YD, TO_YD = 30.0, 200.0
"""A stock swing is meant between these; nearer shots are chips, farther ones long clubs."""

SWUNG_LIES = tuple(lie for lie in CLUB_LIES if lie in TURF_LIES)
GOOD_LIES = tuple(lie for lie in SWUNG_LIES if SWING_LIE[lie] == FAIRWAY)
SAME_NUMBER = 3
"""Balls of one block at one number with one swing, from which they are a test of that swing."""


def club_shots(
    store: Store, selection: Selection = EVERYTHING, source: str = COURSE
) -> pd.DataFrame:
    """Return one row per shot with a club.

    Columns: source, club, swing ('' where none was written down), date, round_key, block, lie,
    target_yd (to the hole or target), number_yd (effective), meant_yd (carry meant), carry_yd,
    depth_ft, side_ft, launch_deg, spin_rpm, face, turf, firmness. ``source``: one of ``SOURCES``.
    Test blocks know no event: that part of the selection leaves them alone. Raises ``CallError``
    for another source.
    """
    if source not in SOURCES:
        hint = did_you_mean(source, SOURCES)
        raise CallError(f'no source "{source}".{hint} Choose from: {", ".join(SOURCES)}.')
    bound: dict[str, object] = selection.parameters()
    name = "course_shots" if source == COURSE else "test_shots"
    text = sql("clubs", name)
    if source == COURSE:
        reach = {"from_ft": FROM_YD * FT_PER_YD, "to_ft": TO_YD * FT_PER_YD, "lies": CLUB_LIES}
        return store.frame(text, bound | reach)
    del bound["event"]
    balls = store.frame(text, bound)
    return balls[balls["source"] == source].reset_index(drop=True)


def stock_balls(shots: pd.DataFrame) -> pd.DataFrame:
    """Return the rows a swing's stock carry rests on: from good lies.

    Where blocks hold the same swing at one number again and again those balls alone count: at
    changing numbers a swing is changed to fit.
    """
    good = shots[shots["lie"].isin(GOOD_LIES)]
    block = good.groupby(["block", "club", "swing"], dropna=False)["target_yd"]
    alike = good["block"].notna() & (block.transform("size") >= SAME_NUMBER)
    alike &= block.transform("nunique") == 1
    tested = alike.groupby([good["club"], good["swing"]]).transform("any")
    return good[alike | ~tested]


def stock_swings(shots: pd.DataFrame) -> pd.DataFrame:
    """Return the rows that are a stock swing: a club's shots without a swing written down are one
    only where the player never writes it down for that club.
    """
    written = (shots["swing"] != "").groupby(shots["club"]).transform("any")
    return shots[(shots["swing"] != "") | ~written]


def with_carry(shots: pd.DataFrame) -> pd.DataFrame:
    """Return the rows with ``carry`` and ``meant`` in calm air on the level, and ``inferred``.

    What wind and slope did is the effective number less the distance; a ball that flew 138 yd when
    138 played 154 carries 154. ``inferred``: no carry was written down and the finish stands for
    it; a swing with any carry of its own is not mixed with inferred ones.
    """
    finish = shots["target_yd"] + shots["depth_ft"] / FT_PER_YD
    known = shots["carry_yd"].notna().groupby([shots["club"], shots["swing"]]).transform("any")
    plays = shots["number_yd"] - shots["target_yd"]
    carry = np.where(known, shots["carry_yd"], finish)
    return shots.assign(carry=carry + plays, meant=shots["meant_yd"] + plays, inferred=~known)
