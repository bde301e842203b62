"""Sentences about the season over time."""

from __future__ import annotations

from datetime import date
from typing import Any

import numpy as np
import pandas as pd

from sgzone.review.trend import BY_LINE, LEAST_ROUNDS, season_ends
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE
from sgzone.words.digits import count, interval_cells, number, rows
from sgzone.words.say import Say, Words

TREND_TITLE = "Strokes gained per round over the season, all strokes"


TOO_SHORT = (
    f"Fewer than {LEAST_ROUNDS} rounds: a curve through them would be mostly their own luck."
)

NO_CHANGE, CHANGED, DRIFTED = "no real change", "real change", "real drift"
_VERDICTS = {
    MORE_THAN_NOISE: CHANGED,
    WITHIN_NOISE: NO_CHANGE,
    NOT_ENOUGH_ROUNDS: "too few rounds",
}
_SURE = 0.95
"""From here on it is a whole one: a season of 100, of 10, nearly every season."""

_RANGE = "The ranges are right for all parts at once in 95 seasons of 100."
_NO_CAUSE = "Season, course and weather change too: a date is not a cause."
_BY_ROUND = "Next: every round by part, sgzone trend --format csv."


def trend_title(against: str, split: date | None) -> str:
    """Return what the table is; ``split``: the first day after, where before and after is asked."""
    if split is None:
        return f"Strokes a round against {against}: + gains, - loses."
    return f"Before and from {split:%Y-%m-%d}, strokes a round against {against}: + gains, - loses."


def read_change(table: pd.DataFrame, split: date | None) -> Words:
    """Return how to read the table of a change over the season, or from a day on."""
    if table.empty:
        return ()
    if split:
        return (_RANGE, _NO_CAUSE)
    return (*read_season(table), _BY_ROUND)


def read_season(trend: pd.DataFrame) -> Words:
    """Return how to read the table of a season; nothing where no change was judged."""
    judged = trend["p"].notna().any()
    return (_RANGE, *drift_note(trend)) if judged else ()


READ_TREND = (
    "Dots: rounds. Thick lines: the mean of each half of the rounds, its range in grey.",
    "Thin line: smoothed. Above 0 gains strokes.",
)
READ_SMOOTH = ("Dots: rounds. Line: smoothed, with its range in grey. Above 0 gains strokes.",)


def read_trend(halves: pd.DataFrame) -> Words:
    """Return how to read the season's chart; ``halves``: of its part, as ``season_halves``."""
    return READ_TREND if len(halves) and halves["low"].notna().all() else READ_SMOOTH


def half_label(half: str, mean: float, low: float, high: float, rounds: int) -> str:
    """Return the name of a half with its mean and range, in three lines with "|" between.

    >>> half_label("second", -3.362, -4.28, -2.45, 20)
    'last 20 rounds|−3.4|−4.3 to −2.5'
    """
    value, near, far = (number(end, 1, signed=True) for end in (mean, low, high))
    which = "first" if half == "first" else "last"
    return f"{which} {count(rounds, 'round')}|{value}|{near} to {far}"


def by_luck(p: float) -> str:
    """Return how often luck alone moves some part so far.

    >>> by_luck(0.31), by_luck(0.024), by_luck(0.0005), by_luck(1.0)
    ('3 seasons of 10', '2 seasons of 100', 'under 1 season of 100', 'nearly every season')
    """
    if p != p:
        return ""
    if p >= _SURE:
        return "nearly every season"
    for of in (10, 100):
        if of * p >= _SURE:
            return f"{count(round(of * p), 'season')} of {of}"
    return "under 1 season of 100"


def trend_lead(trend: pd.DataFrame, say: Say) -> Words:
    """Return what changed over the season, or that nothing is shown to have."""
    if trend.empty:
        return ("There are no rounds to follow.",)
    ends = season_ends(trend)
    if ends["p"].isna().all():
        return (f"Too few rounds to call a change: it takes {LEAST_ROUNDS} or more.",)
    drifts = ends["shown_by"] == BY_LINE
    how = np.where(drifts, "from the first round to the last", "from the first half to the second")
    return _lead(_as_shown(ends).assign(how=how), "over the season", say)


def split_lead(table: pd.DataFrame, split: date, say: Say) -> Words:
    """Return what changed from a day on, or that nothing is shown to have."""
    if table.empty:
        return ("There are no rounds to follow.",)
    if table["p"].isna().all():
        return ("Too few rounds on one side of that day to call a change.",)
    from_then = f"from {split:%Y-%m-%d} on"
    named = table.rename(columns={"difference": "change"}).assign(how=from_then)
    return _lead(named, from_then, say)


def _lead(ends: pd.DataFrame, when: str, say: Say) -> Words:
    moved = ends[ends["verdict"] == MORE_THAN_NOISE]
    if len(moved):
        return tuple(_moved(row, say) for row in rows(moved))
    none = f"{NO_CHANGE.capitalize()} shown {when}."
    parts = ends[(ends["part"] != "total") & ends["p"].notna()]
    if parts.empty:
        return (none,)
    nearest = next(rows(parts.nsmallest(1, "p")))
    luck = f"some part moves that far by luck in {by_luck(nearest.p)}."
    return (none, f"{_part(nearest.part, say)} moved most: {luck}")


def _moved(row: Any, say: Say) -> str:
    low, high = (number(end, 2, signed=True) for end in (row.joint_low, row.joint_high))
    return (
        f"{_part(row.part, say)}: {number(row.change, 2, signed=True)} strokes a round {row.how} "
        f"(between {low} and {high})."
    )


def _part(name: str, say: Say) -> str:
    said = "all strokes" if name == "total" else say.part(name)
    return said[0].upper() + said[1:]


def season_table(trend: pd.DataFrame) -> pd.DataFrame:
    """Return one row per part for the answer ``season``: the change that the verdict rests on."""
    ends = season_ends(trend)
    drifts = ends["shown_by"] == BY_LINE
    table = _in_words(_as_shown(ends), ends["change_low"], ends["change_high"])
    table.loc[drifts, ["alone", "verdict"]] = ["", DRIFTED]
    return table


def split_table(table: pd.DataFrame) -> pd.DataFrame:
    """Return the answer ``before_after`` with its luck and verdict in words."""
    return _in_words(table, table["low"], table["high"])


def _as_shown(ends: pd.DataFrame) -> pd.DataFrame:
    """Return the ends of a season; where only the straight line shows a change, with that one."""
    shown, drifts = ends.copy(), ends["shown_by"] == BY_LINE
    for column, of_line in (
        ("change", "drift"),
        ("joint_low", "drift_low"),
        ("joint_high", "drift_high"),
    ):
        shown[column] = ends[column].mask(drifts, ends[of_line])
    return shown


def _in_words(table: pd.DataFrame, low: pd.Series[float], high: pd.Series[float]) -> pd.DataFrame:
    return table.assign(
        luck=[by_luck(p) for p in table["p"]],
        alone=interval_cells(low, high, 2),
        verdict=table["verdict"].map(_VERDICTS),
    )


def drift_note(trend: pd.DataFrame) -> Words:
    """Return what the change of a part is that only the straight line shows, where one is."""
    if not (trend["shown_by"] == BY_LINE).any():
        return ()
    return (
        f"{DRIFTED.capitalize()}: too slow for the halves to show. Its change is from the first "
        "round to the last.",
    )


def trend_alt(rows: pd.DataFrame) -> str:
    """Return the season's curve in words."""
    known = rows["smoothed"].dropna()
    if known.empty:
        return f"{count(len(rows), 'round')}, too few to smooth."
    return (
        f"Strokes gained per round over {count(len(rows), 'round')}, smoothed from "
        f"{number(known.iloc[0], 1, signed=True)} to {number(known.iloc[-1], 1, signed=True)}. "
        f"{total_change(rows)}"
    )


def total_change(rows: pd.DataFrame) -> str:
    """Return what changed in a season's rows of one part, with the range its verdict rests on."""
    last = _as_shown(rows).iloc[-1]
    verdict = _VERDICTS[last["verdict"]]
    if last["p"] != last["p"]:
        return f"{verdict.capitalize()}."
    change, low, high = (
        number(last[name], 1, signed=True) for name in ("change", "joint_low", "joint_high")
    )
    return f"Change over the season {change} (95% range {low} to {high}): {verdict}."
