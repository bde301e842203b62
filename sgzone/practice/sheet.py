"""A week's sessions on one page: a row for each part of a session, its numbers in their order."""

from __future__ import annotations

import pandas as pd

from sgzone.practice.sessions import TEST_BALLS
from sgzone.terms import part_words
from sgzone.units import M_PER_FT, M_PER_YD

PAGE_COLUMNS = ("session", "minutes", "part", "balls", "numbers", "swings", "pass_mark")
_METRES = {"yd": M_PER_YD, "ft": M_PER_FT}


def session_sheet(week: pd.DataFrame, units: str = "yards") -> pd.DataFrame:
    """Return the page of a week, as ``sessions.week_plan`` returns it; columns ``PAGE_COLUMNS``.

    ``numbers``: in the order to hit them, each with its pass mark in brackets where it has one.
    ``swings``: club and swing with the numbers they are for. ``pass_mark``: in words.
    ``units``: ``yards`` (numbers in yards, marks in feet) or ``metric``.
    """
    rows = [_row(own, units) for _, own in week.groupby(["session", "part"], sort=False)]
    return pd.DataFrame(rows, columns=list(PAGE_COLUMNS))


def _row(rows: pd.DataFrame, units: str) -> dict[str, object]:
    unit = str(rows["unit"].iloc[0])
    factor, said = (_METRES[unit], "m") if units == "metric" else (1.0, unit)
    mark_factor, mark_said = (M_PER_FT, "m") if units == "metric" else (1.0, "ft")
    places = 1 if said == "m" and unit == "ft" else 0
    numbers = [f"{value * factor:.{places}f}" for value in rows["number"]]
    marks = [
        f" ({mark * mark_factor:.0f})" if mark == mark else "" for mark in rows["pass_mark_ft"]
    ]
    each = "".join(marks) != ""
    return {
        "session": int(rows["session"].iloc[0]),
        "minutes": int(rows["minutes"].iloc[0]),
        "part": part_words(units)[str(rows["part"].iloc[0])],
        "balls": int(rows["balls"].sum()),
        "numbers": f"{', '.join(n + m for n, m in zip(numbers, marks, strict=True))} {said}",
        "swings": _swings(rows.assign(said=numbers)),
        "pass_mark": _mark(rows["pass_balls"], f"the {mark_said} in brackets" if each else ""),
    }


def _swings(rows: pd.DataFrame) -> str:
    """Return each club and swing with the numbers it is for, the longest first."""
    known = rows[rows["club"] != ""].sort_values("number", ascending=False, kind="stable")
    words = (known["club"] + " " + known["swing"]).str.strip()
    said = []
    for name, own in known.groupby(words, sort=False):
        far, near = own["said"].iloc[0], own["said"].iloc[-1]
        said.append(f"{name}: {near}" if near == far else f"{name}: {near} to {far}")
    return "; ".join(said)


def _mark(balls: pd.Series[float], inside: str) -> str:
    if balls.isna().all():
        return ""
    middle = f"{balls.mean():.0f} of {TEST_BALLS}"
    return f"{middle} inside {inside}" if inside else f"{middle} holed"
