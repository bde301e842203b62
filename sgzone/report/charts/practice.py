"""Charts of practice: what more hours bring, and test blocks over time."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, Chart, layered, told_apart
from sgzone.terms import PART_NAMES
from sgzone.words.digits import count
from sgzone.words.say import Say

_HEIGHT = 150
_COLUMNS = 3
_WIDTH = 200
_POINT_WORDS = {"now": "hours now, by the log", "plan": "the plan"}


def return_curves(curves: pd.DataFrame, *, units: str = "yards") -> alt.ConcatChart:
    """Draw strokes per round that the hours of a block win back, one panel a part, one scale.

    ``curves``: as ``sg.practice_plan(...).curves``. The band is the 90% interval over what is
    believed; the line is dashed beyond the hours the log has: nobody has seen that part of it.
    """
    top = float(curves["high"].max()) * 1.05 or 1.0
    far = float(curves["hours"].max())
    words, there = Say(units).parts, set(curves["part"])
    parts = [part for part in PART_NAMES if part in there]
    panels = [_panel(words[p], curves[curves["part"] == p], far, top) for p in parts]
    chart = alt.concat(*panels, columns=_COLUMNS)
    assert isinstance(chart, alt.ConcatChart)
    return chart


def _panel(name: str, rows: pd.DataFrame, far: float, top: float) -> alt.LayerChart:
    rows = rows.sort_values("hours", kind="stable").assign(
        marks=rows["point"].map(_POINT_WORDS).fillna("")
    )
    x = alt.X("hours:Q", title="hours in the block", scale=alt.Scale(domain=[0, far], nice=False))
    y = alt.Y(
        "strokes_per_round:Q",
        title="strokes a round won",
        scale=alt.Scale(domain=[0, top], nice=False),
        axis=alt.Axis(format=".1f", tickCount=4),
    )
    tips = [
        alt.Tooltip("hours:Q", format=".1f", title="hours in the block"),
        alt.Tooltip("strokes_per_round:Q", format="+.2f", title="strokes a round won"),
        alt.Tooltip("low:Q", format="+.2f", title="low (90%)"),
        alt.Tooltip("high:Q", format="+.2f", title="high (90%)"),
        alt.Tooltip("marks:N", title="point"),
    ]
    base = Chart(rows.reset_index(drop=True))
    band = base.mark_area(color=LIGHT.gain, opacity=0.15).encode(
        x=x, y=alt.Y("low:Q", title="strokes a round won"), y2=alt.Y2("high:Q")
    )
    seen = base.transform_filter("datum.observed").mark_line(color=LIGHT.gain).encode(x=x, y=y)
    line = (
        base.transform_filter("!datum.observed || datum.point === 'now'")
        .mark_line(color=LIGHT.gain, strokeDash=[4, 3])
        .encode(x=x, y=y)
    )
    points = (
        base.transform_filter("datum.point !== ''")
        .mark_point(filled=True, size=70, opacity=1)
        .encode(
            x=x,
            y=y,
            **told_apart(
                "marks",
                dict(zip(_POINT_WORDS.values(), (LIGHT.ink, LIGHT.gain), strict=True)),
                shape=["square", "circle"],
            ),
            tooltip=tips,
        )
    )
    chart = layered(band, line, seen, points)
    return chart.properties(title=name, width=_WIDTH, height=_HEIGHT)


def block_chart(series: pd.DataFrame, *, units: str = "yards") -> alt.FacetChart:
    """Draw each test day's middle miss as a multiple of the pass mark; below the line passes.

    ``series``: as ``sg.tables.block_days``. One panel a part and kind of ball and surface, which
    are never pooled. The scale is logarithmic: a half and a double stand alike.
    """
    words = Say(units).parts
    kind = ["part", "ball", "surface"]
    every = series.groupby(kind, dropna=False)["balls"].transform("sum")
    rows = series.assign(
        panel=[
            _panel_name(words[part], ball, surface, balls)
            for part, ball, surface, balls in zip(
                series["part"], series["ball"], series["surface"], every, strict=True
            )
        ],
        day=pd.to_datetime(series["date"]),
    ).reset_index(drop=True)
    x = alt.X("day:T", title=None, axis=alt.Axis(format="%d %b", tickCount=4))
    title = "middle miss, times the pass mark"
    y = alt.Y(
        "median_ratio:Q",
        title=title,
        scale=alt.Scale(type="log", nice=False, padding=8),
        axis=alt.Axis(values=[0.125, 0.25, 0.5, 1, 2, 4, 8], format="~g"),
    )
    tips = [
        alt.Tooltip("panel:N", title="blocks of"),
        alt.Tooltip("day:T", format="%d %B %Y", title="day"),
        alt.Tooltip("median_ratio:Q", format=".2f", title="middle miss / pass mark"),
        alt.Tooltip("low:Q", format=".2f", title="low"),
        alt.Tooltip("high:Q", format=".2f", title="high"),
        alt.Tooltip("inside:Q", title="balls inside the mark"),
        alt.Tooltip("balls:Q", title="balls (n)"),
    ]
    base = Chart()
    mark = base.mark_rule(color=LIGHT.loss, strokeWidth=1.5).encode(y=alt.datum(1.0))
    span = (
        base.transform_filter("isValid(datum.low)")
        .mark_rule(color=LIGHT.ink, strokeWidth=1.5)
        .encode(x=x, y=alt.Y("low:Q", title=title), y2=alt.Y2("high:Q"))
    )
    dots = base.mark_point(color=LIGHT.gain, filled=True, size=60, opacity=1).encode(
        x=x, y=y, tooltip=tips
    )
    panels = list(dict.fromkeys(rows["panel"]))
    header = alt.Header(
        labelExpr="split(datum.label, '|')", labelAnchor="start", labelLineHeight=15
    )
    chart: alt.FacetChart = (
        alt.layer(mark, span, dots, data=rows)
        .properties(width=_WIDTH, height=_HEIGHT)
        .facet(facet=alt.Facet("panel:N", title=None, sort=panels, header=header), columns=_COLUMNS)
    )
    return chart


def _panel_name(part: str, ball: object, surface: object, balls: int) -> str:
    kind = {"own": "own balls", "range": "range balls"}.get(str(ball), "")
    ground = str(surface) if surface in ("grass", "mat") else ""
    told = " on ".join(filter(None, [kind, ground]))
    return f"{part}|{', '.join(filter(None, [told, count(balls, 'ball')]))}"
