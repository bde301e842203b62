"""Chart of putts holed by distance: the player's own curve beside published ones."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered, told_apart
from sgzone.report.charts.tips import tips
from sgzone.review.why.putting import CURVES
from sgzone.terms import DEFAULT_LEVEL
from sgzone.units import M_PER_FT
from sgzone.words.digits import number, thousands
from sgzone.words.say import Say

OWN_DASH = [1, 0]
DASHES = [[9, 4], [2, 3], [9, 3, 2, 3]]
"""The player's curve is whole; published ones differ in their dashes, not in hue alone."""

_HEIGHT = 280
_LEGEND = alt.Legend(orient="top", symbolType="stroke", symbolSize=500, labelLimit=0)
_SHARE = ".0%"


@bounded
def putting_curve_chart(
    curves: pd.DataFrame,
    points: pd.DataFrame,
    *,
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
) -> alt.LayerChart:
    """Draw the share of putts holed by distance: the player's fit with its band, and others'.

    ``curves``, ``points``: as ``putting_curves`` and ``putting_points`` of ``sg.tables`` return
    them at ``level``. Each curve is drawn over the feet it holds for; the published ones have no
    band, for none was published. The points are what the player holed, larger where there were more
    putts, with their intervals: where they leave the player's curve, the curve is wrong. ``units``:
    yards (feet on the axis) or metric.
    """
    say = Say(units, level)
    scale, unit, form = say.factor("ft"), say.unit("ft"), ".1f" if say.metric else ".0f"
    points = points.assign(distance=points["distance_ft"] * scale).reset_index(drop=True)
    data = curves.assign(
        distance=curves["distance_ft"] * scale,
        curve=[
            curve_words(one, n, units)
            for one, n in zip(curves["who"], curves["putts"], strict=True)
        ],
        source=curves["source"].where(curves["putts"].isna(), "your card"),
        interval=[
            f"{low:.0%} to {high:.0%}" if low == low else "not published"
            for low, high in zip(curves["low"], curves["high"], strict=True)
        ],
        putts=curves["putts"].astype("Float64"),
    ).reset_index(drop=True)
    own = list(dict.fromkeys(data.loc[data["putts"].notna(), "curve"]))
    others = [name for name in dict.fromkeys(data["curve"]) if name not in own]
    names = own + others
    dashes = [OWN_DASH] * len(own) + DASHES[: len(others)]
    colours = [LIGHT.gain] * len(own) + [LIGHT.ink] * len(others)
    x = alt.X("distance:Q", title=f"distance, {unit}", axis=alt.Axis(tickMinStep=1, tickCount=7))
    y = alt.Y(
        "holed_share:Q",
        title="putts holed",
        axis=alt.Axis(format=_SHARE),
        scale=alt.Scale(domain=[0, 1]),
    )
    lines = (
        Chart(data)
        .mark_line(strokeWidth=2)
        .encode(
            x=x,
            y=y,
            **told_apart(
                "curve",
                dict(zip(names, colours, strict=True)),
                strokeDash=dashes,
                legend=_LEGEND,
            ),
            tooltip=[
                alt.Tooltip("curve:N", title="who"),
                alt.Tooltip("distance:Q", format=form, title=f"distance, {unit}"),
                alt.Tooltip("holed_share:Q", format=_SHARE, title="putts holed"),
                alt.Tooltip("interval:N", title=f"{level:.0%} range"),
                alt.Tooltip("source:N"),
            ],
        )
    )
    band = (
        Chart(data[data["putts"].notna()])
        .mark_area(color=LIGHT.line, opacity=0.55)
        .encode(x=x, y=alt.Y("low:Q", title="putts holed"), y2=alt.Y2("high:Q"))
    )
    dots = (
        Chart(points)
        .mark_point(color=LIGHT.gain, filled=True, opacity=0.85)
        .encode(
            x=x,
            y=y,
            size=alt.Size(
                "putts:Q", scale=alt.Scale(type="sqrt", domainMin=0, range=[10, 120]), legend=None
            ),
            tooltip=tips("putts", "distance:distance_ft holed_share low high putts", say),
        )
    )
    whiskers = (
        Chart(points)
        .mark_rule(color=LIGHT.gain, opacity=0.85)
        .encode(x=x, y=alt.Y("low:Q", title="putts holed"), y2=alt.Y2("high:Q"))
    )
    bands = [band] if own else []  # a layer without rows has no extent, and the page would warn
    return layered(*bands, lines, whiskers, dots).properties(width=WIDE, height=_HEIGHT)


def curve_words(who: str, putts: float, units: str = "yards") -> str:
    """Return what a curve is called: the player's with its putts, a published one with its feet."""
    if Say(units).metric and who in CURVES:
        near, far = (number(feet * M_PER_FT, 1) for feet in CURVES[who][1:])
        who = f"{who.split(',')[0]}, {near}-{far} m"
    return who if pd.isna(putts) else f"{who}, {thousands(int(putts))} putts"
