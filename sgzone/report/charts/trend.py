"""The season over time: rounds, a smoothed line, and the two halves that are compared."""

from __future__ import annotations

from typing import Any, Literal

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered, nought
from sgzone.report.charts.tips import tips
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words.say import Say
from sgzone.words.trend import half_label

_HEIGHT = 260
_LINE = 14  # pixels of a line of the names of the halves


@bounded
def season_curve(
    rows: pd.DataFrame, halves: pd.DataFrame | None = None, *, level: float = DEFAULT_LEVEL
) -> alt.LayerChart:
    """Draw strokes gained per round over the dates, and the mean of each half of the rounds.

    A rule stands between the halves; each has its mean as a thick line on its range. The thin line
    is smoothed. Without ``halves``, or where they have no range, it has its band instead. ``rows``:
    one part of ``sg.trend`` (date, round, holes, shots, gained_per_round, smoothed, low, high);
    ``halves``: that part's rows of ``season_halves``; both at ``level``.
    """
    say = Say(level=level)
    data = rows.assign(date=pd.to_datetime(rows["date"])).reset_index(drop=True)
    x = alt.X("date:T", title=None, axis=alt.Axis(format="%-d %b", tickCount=6))
    title = "gained per round, strokes"
    seen = tips("trend", "date gained_per_round smoothed low high holes shots", say)
    base = Chart(data)
    points = base.mark_point(color=LIGHT.gain, filled=True, size=28, opacity=0.75).encode(
        x=x, y=alt.Y("gained_per_round:Q", title=title), tooltip=seen
    )
    both = _judged(halves)
    if both.empty:
        band = base.mark_area(color=LIGHT.line, opacity=0.55).encode(
            x=x, y=alt.Y("low:Q", title=title), y2=alt.Y2("high:Q")
        )
        behind, before = [band], []
    else:
        behind, before = _ranges(both, x, title, say), _means(_named(both), x, say)
    width = 1.8 if both.empty else 1.2
    line = base.mark_line(color=LIGHT.soft, strokeWidth=width).encode(x=x, y=alt.Y("smoothed:Q"))
    layers = [*behind, nought("y"), points, line, *before]
    return layered(*layers).properties(width=WIDE, height=_HEIGHT)


def _judged(halves: pd.DataFrame | None) -> pd.DataFrame:
    """Return the halves where both have a range, else no rows."""
    if halves is None or halves.empty or halves["low"].isna().any():
        return pd.DataFrame()
    return halves.reset_index(drop=True)


def _named(both: pd.DataFrame) -> pd.DataFrame:
    """Return the halves with their names."""
    columns = (both[name] for name in ("half", "mean", "low", "high", "rounds"))
    return both.assign(label=[half_label(*one) for one in zip(*columns, strict=True)])


def _ranges(both: pd.DataFrame, x: alt.X, title: str, say: Say) -> list[alt.Chart]:
    """Return the range of each half, and the rule between the halves."""
    base = Chart(both)
    area = base.mark_rect(color=LIGHT.line, opacity=0.6).encode(
        x=_days(x, "start"),
        x2=alt.X2("end:T"),
        y=alt.Y("low:Q", title=title),
        y2=alt.Y2("high:Q"),
        tooltip=_tips(say),
    )
    rule = (
        Chart(both[["split"]].head(1))
        .mark_rule(color=LIGHT.soft, strokeDash=[4, 3])
        .encode(x=_days(x, "split"))
    )
    return [area, rule]


def _means(both: pd.DataFrame, x: alt.X, say: Say) -> list[alt.Chart]:
    """Return the mean of each half, with its name over the chart."""
    base = Chart(both)
    mean = base.mark_rule(color=LIGHT.ink, strokeWidth=3).encode(
        x=_days(x, "start"), x2=alt.X2("end:T"), y=alt.Y("mean:Q"), tooltip=_tips(say)
    )
    return [mean, *_names(both)]


def _names(both: pd.DataFrame) -> list[alt.Chart]:
    """Return the names of the halves over the ends of the chart, clear of one another."""
    look: dict[str, Any] = {"lineBreak": "|", "lineHeight": _LINE, "fontSize": 11}
    look["color"] = LIGHT.ink
    sides: tuple[tuple[Literal["left", "right"], Any], ...] = (("left", 0), ("right", "width"))
    return [
        Chart(both[["label"]].iloc[[row]].reset_index(drop=True))
        .mark_text(align=side, baseline="bottom", dy=-6 - 2 * _LINE, **look)
        .encode(x=alt.value(place), y=alt.value(0), text=alt.Text("label:N"))
        for row, (side, place) in enumerate(sides)
    ]


def _days(axis: alt.X, name: str) -> alt.X:
    """Return the same axis for another column of days."""
    copy = axis.copy()
    copy.shorthand = f"{name}:T"
    return copy


def _tips(say: Say) -> list[alt.Tooltip]:
    return [
        alt.Tooltip("half:N", title="half of the season"),
        alt.Tooltip("mean:Q", format="+.2f", title="gained per round, strokes"),
        alt.Tooltip("low:Q", format="+.2f", title=f"{say.sure} range from"),
        alt.Tooltip("high:Q", format="+.2f", title="to"),
        alt.Tooltip("rounds:Q", title="rounds (n)"),
    ]
