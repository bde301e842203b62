"""The chart of proximity against break-even: where balls finished, by lie and distance.

Takes finished tables and returns an Altair chart; lengths are converted for show only.
"""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, layered, told_apart
from sgzone.report.charts.tips import tips
from sgzone.terms import DEFAULT_LEVEL, LIES
from sgzone.words.digits import count, interval_words
from sgzone.words.say import Say

ENDS = {"green": "on the green", "missed": "missed the green"}
_TICKS_FT = [0, 2, 5, 10, 20, 30, 50, 75, 100, 150, 200]
_TICKS_M = [0, 0.5, 1.5, 3, 6, 10, 15, 25, 40, 60]
_PANEL = 330
_HEIGHT = 260


@bounded
def proximity(
    points: pd.DataFrame,
    medians: pd.DataFrame,
    break_even: pd.DataFrame,
    *,
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
    legend: bool = True,
) -> alt.ConcatChart:
    """Draw a panel per lie, two in a row: where balls finished against break-even, by distance.

    Tables: as ``proximity_points``, ``proximity_table`` and ``break_even_table`` of
    ``review.where.proximity`` return them. Without ``legend`` a key stands beside.
    """
    shots = points.groupby("lie").size()
    lies = [lie for lie in LIES if lie in shots]
    tables = (points, medians, break_even)
    panels = [
        proximity_panel(*tables, lie, level=level, units=units, legend=legend).properties(
            width=_PANEL, title=f"{lie}, {count(int(shots[lie]), 'stroke')}"
        )
        for lie in lies
    ]
    return alt.concat(*panels, columns=2)


@bounded
def proximity_panel(
    points: pd.DataFrame,
    medians: pd.DataFrame,
    break_even: pd.DataFrame,
    lie: str,
    *,
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
    legend: bool = True,
) -> alt.LayerChart:
    """Draw one lie of ``proximity``: strokes, the median of each band, the break-even line.

    Without ``legend`` the page says what the shapes mean.
    """
    say = Say(units, level)
    far, near = say.factor("yd"), say.factor("ft")
    yd, ft = say.unit("yd"), say.unit("ft")
    dots = _of(points, lie, {"distance_yd": far, "finish_ft": near})
    dots = dots.assign(ended=dots["end"].map(ENDS))[["distance_yd", "finish_ft", "ended"]]
    bands = _of(
        medians[medians["finish_ft"].notna()],
        lie,
        {"from_yd": far, "to_yd": far, "finish_ft": near, "low": near, "high": near},
    )
    bands["band"] = bands["band"].map(Say(units).bands)
    bands["interval"] = interval_words(bands["low"], bands["high"], 1, signed=False)
    line = _of(break_even, lie, {"distance_yd": far, "break_even_ft": near})
    x = alt.X(
        "distance_yd:Q",
        title=f"distance to the hole, {yd}",
        scale=alt.Scale(nice=False, zero=False, padding=6),
        axis=alt.Axis(tickCount=6, grid=False),
    )
    ticks = _TICKS_M if say.metric else _TICKS_FT
    y = alt.Y(
        "finish_ft:Q",
        title=f"finish from the hole, {ft}",
        scale=alt.Scale(type="sqrt", nice=False, zero=True),
        axis=alt.Axis(values=ticks),
    )
    layers = [
        _band_areas(bands, x, y) if len(bands) else None,
        _dots(dots, x, y, say, legend),
        _line(line, x, say) if len(line) else None,
        _band_lines(bands, x, y, say) if len(bands) else None,
    ]
    drawn = layered(*(layer for layer in layers if layer is not None))
    return drawn.properties(width=WIDE, height=_HEIGHT)


def _band_areas(bands: pd.DataFrame, x: alt.X, y: alt.Y) -> alt.Chart:
    chart: alt.Chart = (
        alt.Chart(bands)
        .mark_rect(color=LIGHT.soft, opacity=0.18)
        .encode(
            x=_field(x, "from_yd"), x2=alt.X2("to_yd:Q"), y=_field(y, "low"), y2=alt.Y2("high:Q")
        )
    )
    return chart


def _band_lines(bands: pd.DataFrame, x: alt.X, y: alt.Y, say: Say) -> alt.Chart:
    seen = tips("proximity", "band finish_ft interval:low inside shots rounds", say)
    chart: alt.Chart = (
        alt.Chart(bands)
        .mark_rule(color=LIGHT.ink, strokeWidth=3)
        .encode(x=_field(x, "from_yd"), x2=alt.X2("to_yd:Q"), y=y, tooltip=seen)
    )
    return chart


def _dots(dots: pd.DataFrame, x: alt.X, y: alt.Y, say: Say, legend: bool) -> alt.Chart:
    ways = told_apart(
        "ended",
        dict(zip(ENDS.values(), (LIGHT.gain, LIGHT.loss), strict=True)),
        shape=["circle", "triangle-up"],
        legend=alt.Undefined if legend else None,
    )
    chart: alt.Chart = (
        alt.Chart(dots)
        .mark_point(filled=True, size=26, opacity=0.55)
        .encode(
            x=x,
            y=y,
            **ways,
            tooltip=[
                alt.Tooltip("distance_yd:Q", format=".0f", title=f"from, {say.unit('yd')}"),
                alt.Tooltip("finish_ft:Q", format=".1f", title=f"finish, {say.unit('ft')}"),
                alt.Tooltip("ended:N"),
            ],
        )
    )
    return chart


def _line(line: pd.DataFrame, x: alt.X, say: Say) -> alt.LayerChart:
    base = alt.Chart(line).encode(x=x, y=alt.Y("break_even_ft:Q"))
    seen = [
        alt.Tooltip("distance_yd:Q", format=".0f", title=f"from, {say.unit('yd')}"),
        *tips("proximity", "break_even_ft", say),
        alt.Tooltip("status:N", title="benchmark value"),
    ]
    drawn = base.mark_line(color=LIGHT.ink, strokeWidth=1.5, strokeDash=[5, 3])
    wide = base.mark_line(opacity=0, strokeWidth=12).encode(tooltip=seen)
    return layered(drawn, wide)


def _field(axis: alt.X | alt.Y, name: str) -> alt.X | alt.Y:
    """Return the same axis for another column."""
    copy = axis.copy()
    copy.shorthand = f"{name}:Q"
    return copy


def _of(table: pd.DataFrame, lie: str, factors: dict[str, float]) -> pd.DataFrame:
    """Return the rows of one lie with columns times their factors."""
    rows = table[table["lie"] == lie].reset_index(drop=True)
    for name, factor in factors.items():
        rows[name] = rows[name].astype(float) * factor
    return rows
