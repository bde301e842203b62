"""Debriefs made up of numbers, for sentences about them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pandas as pd

from sgzone.review.debrief.beside import COLUMNS, whole_numbers
from sgzone.review.debrief.one_round import HOLES, TOLD, Debrief
from sgzone.review.debrief.tallies import COLUMNS as COUNTED

_PARTS = [
    ("approach_100_150", 9, 0, -1.31, -0.9, 37, 30, 0, 7),
    ("chip_0_30", 4, 0, 0.25, -0.4, 20, 2, 1, 17),
    ("putt_0_10", 20, 0, -0.62, -0.62, 37, 18, 1, 18),
]
_TOTAL = [
    ("off_green", 13, 0, -1.06, -1.3, 37, 15, 0, 22),
    ("putting", 20, 0, -0.62, -0.62, 37, 3, 0, 34),
    ("total", 33, 0, -1.68, -1.92, 37, 34, 0, 3),
]
_COUNTS = [
    ("penalties", 1, 18, 0.25, 37, 30, 7, 0),
    ("three-putts", 2, 18, 1.1, 37, 32, 2, 3),
    ("putts", 33, 18, 31.0, 37, 29, 5, 3),
    ("up-and-downs", 3, 7, 2.9, 37, 10, 5, 22),
    ("sand saves", 0, 0, None, 30, None, None, None),
]
STROKE = (7, 2, "sand_0_50", "sand", 12.0, "58", "full", "rough", 10.0, 1, -1.3, None)


def strokes(*rows: tuple[object, ...]) -> pd.DataFrame:
    """Return strokes as a debrief tells them."""
    return pd.DataFrame(rows, columns=list(TOLD))


def told(**more: Any) -> Debrief:
    """Return the debrief of a round of eighteen holes, the fourth worst of 38, or one changed."""
    good = (3, 4, "putt_10_30", "green", 25 / 3, "putter", None, "holed", 0.0, 0, 0.93, None)
    holes = [(3, 4, "holed", "putt_10_30", 1, 0, 0.93), (7, 4, "holed", "sand_0_50", 1, 0, -1.3)]
    made = Debrief(
        player="Ada Low",
        date=date(2026, 5, 14),
        round=1,
        course="Home",
        event="competition",
        benchmark="tour",
        holes_played=18,
        compared=37,
        left_out=0,
        same_day=1,
        picked_up=0,
        conceded=0,
        unended=0,
        unvalued=0,
        outside=0,
        total=whole_numbers(pd.DataFrame(_TOTAL, columns=list(COLUMNS))),
        parts=whole_numbers(pd.DataFrame(_PARTS, columns=list(COLUMNS))),
        best=strokes(good),
        worst=strokes(STROKE),
        counts=whole_numbers(pd.DataFrame(_COUNTS, columns=list(COUNTED))),
        holes=pd.DataFrame(holes, columns=list(HOLES)),
        strokes=pd.DataFrame(),
    )
    return replace(made, **more)


def alone() -> Debrief:
    """Return the same round as the player's first: nothing to set it beside."""
    whole = told()
    nothing = {"usual": float("nan"), "compared": 0, "better": None, "equal": None, "worse": None}
    frames = {
        name: whole_numbers(getattr(whole, name).assign(**nothing))
        for name in ("total", "parts", "counts")
    }
    return replace(whole, compared=0, **frames)
