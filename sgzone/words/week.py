"""A week's sessions on one page: a row for each part of a session, its numbers in their order."""

from __future__ import annotations

import pandas as pd

from sgzone.answers import columns_of
from sgzone.practice.sessions import TEST_BALLS
from sgzone.words.say import Say


def week_page(week: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return the page of a week, as ``practice.sessions.week_plan`` returns it.

    ``numbers``: in the order to hit them, each with its pass mark in brackets where it has one.
    ``swings``: club and swing with the numbers they are for. ``pass_mark``: in words.
    """
    rows = [_row(own, say) for _, own in week.groupby(["session", "part"], sort=False)]
    return pd.DataFrame(rows, columns=[column.name for column in columns_of("week_page")])


def _row(rows: pd.DataFrame, say: Say) -> dict[str, object]:
    unit = str(rows["unit"].iloc[0])
    numbers = [f"{value * say.factor(unit):.{say.places(unit)}f}" for value in rows["number"]]
    marks = [
        f" ({mark * say.factor('ft'):.0f})" if mark == mark else "" for mark in rows["pass_mark_ft"]
    ]
    each = f"the {say.unit('ft')} in brackets" if "".join(marks) else ""
    joined = ", ".join(number + mark for number, mark in zip(numbers, marks, strict=True))
    return {
        "session": int(rows["session"].iloc[0]),
        "minutes": int(rows["minutes"].iloc[0]),
        "part": say.part(str(rows["part"].iloc[0])),
        "balls": int(rows["balls"].sum()),
        "numbers": f"{joined} {say.unit(unit)}",
        "swings": _swings(rows.assign(said=numbers)),
        "pass_mark": _mark(rows["pass_balls"], each),
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
