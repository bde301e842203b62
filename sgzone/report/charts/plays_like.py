"""The standard each part plays to, on a scale of average score."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered
from sgzone.report.charts.tips import tips
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words import plays_like as words
from sgzone.words.say import Say

_ROW = 30
_ROOM = 1.5  # strokes of score beyond the outermost mark


@bounded
def standards(
    table: pd.DataFrame, marks: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw a row a part: its range of average score, with the named standards as upright lines.

    ``table``: as ``review.where.plays_like``; parts without a range are left out. ``marks``: as its
    ``named_standards``.
    """
    say = Say(units, level)
    called = words.names(say)
    rows = table[table["score_low"].notna()].reset_index(drop=True)
    rows = rows.assign(name=rows["part"].map(called))
    low, high = rows["score_low"].min() - _ROOM, rows["score_high"].max() + _ROOM
    marks = marks[marks["score"].between(low - 5, high + 5)]
    low, high = min(low, marks["score"].min()), max(high, marks["score"].max())
    scale = alt.Scale(domain=[low, high], nice=False, padding=24)
    x = alt.X("score:Q", title="average score", scale=scale, axis=alt.Axis(tickMinStep=1))
    order = list(rows["name"])
    y = alt.Y("name:N", sort=order, title=None, axis=alt.Axis(ticks=False, labelLimit=0))
    seen = [
        alt.Tooltip("name:N", title="part"),
        *tips("plays_like", "score_low score_high rounds shots", say),
    ]
    named = Chart(marks)
    upright = named.mark_rule(color=LIGHT.line, strokeDash=[3, 3]).encode(x=x)
    labels = named.mark_text(align="center", baseline="bottom", dy=-4, color=LIGHT.soft).encode(
        x=x, y=alt.value(0), text=alt.Text("standard:N")
    )
    base = Chart(rows)
    span = base.mark_rule(color=LIGHT.gain, strokeWidth=4).encode(
        x=alt.X("score_low:Q"), x2=alt.X2("score_high:Q"), y=y, tooltip=seen
    )
    dots = base.mark_point(color=LIGHT.ink, filled=True, size=60, opacity=1).encode(
        x=x, y=y, tooltip=seen
    )
    return layered(upright, labels, span, dots).properties(width=WIDE, height=_ROW * len(rows))
