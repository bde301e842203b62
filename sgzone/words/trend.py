"""Sentences about the season over time."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.review.trend import CHANCE, LEAST_ROUNDS
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE
from sgzone.words.digits import count, listed, number, rows
from sgzone.words.say import Say, Words

TREND_TITLE = "Strokes gained per round over the season, all strokes"


TOO_SHORT = (
    f"Fewer than {LEAST_ROUNDS} rounds: a curve through them would be mostly their own luck."
)

_BY_LUCK = "Luck alone: in this share of cases (parts: corrected for looking at several at once)."
READ_CHANGE = {
    "trend": (_BY_LUCK,),
    "season": (_BY_LUCK, "One row per part and round: --format csv."),
    "before_after": (
        _BY_LUCK,
        "Season, course and weather change at the same time: a date is not a cause.",
    ),
}
"""Answer -> how to read its table."""


def trend_title(against: str, split: date | None, say: Say) -> str:
    """Return what the table is; ``split``: the first day after, where before and after is asked."""
    if split is None:
        return f"The season over time against {against}, intervals {say.sure}"
    return (
        f"Before and from {split:%Y-%m-%d}: The season over time against {against}, intervals "
        f"{say.sure}"
    )


READ_TREND = ("Points: rounds. Line: smoothed, with its interval in grey. Above 0 gains strokes.",)


def trend_lead(trend: pd.DataFrame, say: Say) -> Words:
    """Return whether the season shows more than noise."""
    if trend.empty:
        return ("There are no rounds to follow.",)
    last = trend.drop_duplicates("part", keep="last")
    moved = last[last["verdict"] == MORE_THAN_NOISE]
    if moved.empty:
        words = NOT_ENOUGH_ROUNDS if last["change"].isna().all() else WITHIN_NOISE
        return (f"From first round to last: {words}.",)
    said = [
        f"{say.part(row.part)} {number(row.change, 2, signed=True)} "
        f"({number(row.change_low, 2, signed=True)} to "
        f"{number(row.change_high, 2, signed=True)}) strokes a round"
        for row in rows(moved)
    ]
    return (f"More than noise from first round to last: {listed(said)}.",)


def trend_notes(trend: pd.DataFrame, say: Say) -> Words:
    """Return why an interval can leave out 0 and yet be no more than noise, where one does."""
    last = trend.drop_duplicates("part", keep="last")
    beyond = (last["change_low"] > 0) | (last["change_high"] < 0)
    names = last.loc[beyond & (last["verdict"] == WITHIN_NOISE), "part"]
    if names.empty:
        return ()
    said = listed([say.part(part) for part in names])
    return (
        f"The interval of {said} leaves out 0, and it is still no more than noise: "
        f"{1 - say.level:.0%} of such intervals leave it out by luck alone, and {WITHIN_NOISE} "
        f"means that luck goes so far in more than {CHANCE:.0%} of seasons once every part has "
        "been looked at.",
    )


def trend_alt(rows: pd.DataFrame) -> str:
    """Return the season's curve in words."""
    known = rows["smoothed"].dropna()
    if known.empty:
        return f"{count(len(rows), 'round')}, too few to smooth."
    return (
        f"Strokes gained per round over {count(len(rows), 'round')}, smoothed from "
        f"{number(known.iloc[0], 1, signed=True)} to {number(known.iloc[-1], 1, signed=True)}."
    )
