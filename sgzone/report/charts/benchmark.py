"""A fitted benchmark beside the published curve it started from, with its band and the strokes."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.harmless import cut
from sgzone.report.charts.theme import LIGHT, Chart, labels, layered, told_apart
from sgzone.terms import LIES
from sgzone.units import FT_PER_YD

_NAME_ROOM = 26  # columns of the name of a curve
_WIDTH, _HEIGHT = 560, 200  # panels one under another cannot take "the room there is"


def benchmark_curves(
    curves: pd.DataFrame, points: pd.DataFrame, fitted: str, base: str
) -> alt.VConcatChart:
    """Draw expected strokes by distance, one panel a lie: fitted with its band, and its base.

    ``curves``: as ``sg.tables.curves``; ``points``: as ``sg.tables.needed``, means of what was
    needed, larger where there were more strokes. ``fitted``, ``base``: the curves' names.
    """
    lies = [lie for lie in LIES if (curves["lie"] == lie).any()]
    panels = [
        _panel(lie, curves[curves["lie"] == lie], points[points["lie"] == lie], (fitted, base))
        for lie in lies
    ]
    chart = alt.vconcat(*panels)
    assert isinstance(chart, alt.VConcatChart)
    return chart


def _panel(
    lie: str, curves: pd.DataFrame, points: pd.DataFrame, names: tuple[str, str]
) -> alt.LayerChart:
    feet = lie == "green"
    unit, factor = ("ft", 1.0) if feet else ("yd", FT_PER_YD)
    curves, points = (
        table.assign(distance=table["distance_ft"] / factor).reset_index(drop=True)
        for table in (curves, points)
    )
    x = alt.X("distance:Q", title=f"from the {lie}, {unit}", scale=alt.Scale(zero=False))
    title = "strokes to hole out"
    y = alt.Y("low:Q", title=title, scale=alt.Scale(zero=False))
    band = (
        Chart(curves)
        .mark_area(color=LIGHT.line, opacity=0.55)
        .encode(x=x, y=y, y2=alt.Y2("high:Q"))
    )
    lines = _lines(curves, names, x)
    seen = Chart(points)
    tips = [
        alt.Tooltip("band:N"),
        alt.Tooltip("strokes:Q", format=".2f", title=f"{title}, mean"),
        alt.Tooltip("low:Q", format=".2f"),
        alt.Tooltip("high:Q", format=".2f"),
        alt.Tooltip("n:Q", title="strokes (n)"),
        alt.Tooltip("rounds:Q"),
    ]
    size = alt.Size("n:Q", title="strokes seen (n)", scale=alt.Scale(range=[15, 150]))
    dots = seen.mark_point(color=LIGHT.ink, filled=True, opacity=0.8).encode(
        x=x, y=alt.Y("strokes:Q"), size=size, tooltip=tips
    )
    whiskers = seen.mark_rule(color=LIGHT.ink).encode(x=x, y=alt.Y("low:Q"), y2=alt.Y2("high:Q"))
    return layered(band, lines, whiskers, dots).properties(width=_WIDTH, height=_HEIGHT)


def _lines(curves: pd.DataFrame, names: tuple[str, str], x: alt.X) -> alt.Chart:
    """Return both curves, told apart by colour and by dashes."""
    long = pd.concat(
        [
            curves[["distance"]].assign(strokes=curves[column], curve=name)
            for column, name in zip(("fitted", "base"), names, strict=True)
        ],
        ignore_index=True,
    )
    legend = alt.Legend(**labels({name: cut(name, _NAME_ROOM, "…") for name in names}))
    lines: alt.Chart = (
        Chart(long)
        .mark_line(strokeWidth=1.8)
        .encode(
            x=x,
            y=alt.Y("strokes:Q"),
            **told_apart(
                "curve",
                dict(zip(names, (LIGHT.gain, LIGHT.soft), strict=True)),
                strokeDash=[[1, 0], [5, 4]],
                legend=legend,
            ),
        )
    )
    return lines
