"""The chart of strokes by lie and distance.

Each takes finished tables and returns an Altair chart, as wide as the room it is given.
"""

from __future__ import annotations

import math
from typing import Any, Literal

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.chosen.following import opened
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered
from sgzone.report.charts.tips import tips
from sgzone.report.charts.where import basis_of
from sgzone.stats.verdict import OPEN, side_of
from sgzone.terms import (
    BANDS,
    DEFAULT_LEVEL,
    LIES,
)
from sgzone.words.digits import daggered, interval_words, number, thousands
from sgzone.words.say import Say

_CELL = 42
_STEP = 0.05
"""Strokes a shot: the colours end at a multiple, so that two seasons often have the same."""


@bounded
def grid(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes off the green by lie (across) and distance (down, the longest first).

    ``table``: as ``sg.tables.grid``. A cell has the best estimate of gained per stroke and its
    number of shots; its colour is as deep as the value is far from 0. A value that is not settled
    or whose range reaches 0 has an outline and no ground; cells with too few shots are blank but
    for their number. ``putt_grid`` of the same table has the same scale of colours.
    """
    far = [band.name for band in reversed(BANDS) if not band.on_green]
    rows = _cells(table[table["band"].isin(far)], units)
    bands = _in_order(far, rows, units)
    lies = [lie for lie in LIES if lie in set(rows["lie"])]
    x = alt.X("lie:N", sort=lies, title=None, axis=_cell_axis("top"))
    y = alt.Y("band:N", sort=bands, title=None, axis=_cell_axis("left"))
    drawn = _draw_cells(rows, x, y, reach_of(table), level)
    return drawn.properties(width=WIDE, height=_CELL * len(bands))


@bounded
def putt_grid(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw putts by distance in one row, as ``grid`` does the strokes off the green.

    ``table``: as ``sg.tables.grid``.
    """
    near = [band.name for band in BANDS if band.on_green]
    rows = _cells(table[table["band"].isin(near)], units)
    bands = _in_order(near, rows, units)
    x = alt.X("band:N", sort=bands, title=None, axis=_cell_axis("top"))
    y = alt.Y("lie:N", axis=None)
    return _draw_cells(rows, x, y, reach_of(table), level).properties(width=WIDE, height=_CELL)


def reach_of(table: pd.DataFrame) -> float:
    """Return how far from 0 the scale of colours goes on both sides, strokes a shot."""
    most = float(table["shrunk_per_shot"].abs().max())
    return _STEP * max(math.ceil(round(most / _STEP, 6)), 1) if most == most else _STEP


def _cell_axis(orient: Literal["top", "left"]) -> alt.Axis:
    return alt.Axis(
        orient=orient,
        ticks=False,
        labelAngle=0,
        labelColor=LIGHT.ink,
        labelFontSize=alt.ExprRef(
            "width > 0 && width < 280 ? 11 : 12"
        ),  # a phone's cells are narrow
    )


def _in_order(bands: list[str], rows: pd.DataFrame, units: str) -> list[str]:
    words = Say(units).bands
    return [words[name] for name in bands if words[name] in set(rows["band"])]


def _cells(table: pd.DataFrame, units: str) -> pd.DataFrame:
    """Return the rows with what a cell says: the value where it has one, and its number."""
    shown = table["shrunk_per_shot"]
    said = [
        daggered(number(value, 2, signed=True), basis) if value == value else ""
        for value, basis in zip(shown, basis_of(table), strict=True)
    ]
    return table.assign(
        sure=settled(table),
        opens=opened(table),
        band=table["band"].map(Say(units).bands),
        said=said,
        number=[f"n {thousands(n)}" for n in table["shots"]],
        interval=interval_words(table["low"], table["high"], 3),
        adjusted_interval=interval_words(table["shrunk_low"], table["shrunk_high"], 3),
        basis=basis_of(table),
    ).reset_index(drop=True)


def settled(table: pd.DataFrame) -> pd.Series[bool]:
    """Return which cells have a verdict with a side, and a range that leaves out 0."""
    sided = table["verdict"].map(side_of) != OPEN
    return sided & ((table["shrunk_low"] > 0) | (table["shrunk_high"] < 0))


def _draw_cells(
    rows: pd.DataFrame, x: alt.X, y: alt.Y, reach: float, level: float
) -> alt.LayerChart:
    seen = tips(
        "summary",
        "lie band shrunk_per_shot adjusted_interval:shrunk_low gained_per_shot interval:low "
        "verdict basis shots rounds",
        Say(level=level),
    )
    base = Chart(rows).encode(x=x, y=y, tooltip=seen, key=alt.Key("opens:N"))
    enough = "isValid(datum.shrunk_per_shot)"
    sure, unsure = f"{enough} && datum.sure", f"{enough} && !datum.sure"
    scale = alt.Scale(
        domain=[-reach, 0, reach],
        range=[LIGHT.loss_tint, LIGHT.even_tint, LIGHT.gain_tint],
        interpolate="lab",
    )
    value = "shrunk_per_shot:Q"
    ground = alt.Color(value, scale=scale, legend=None)
    outline = alt.Stroke(value, scale=scale, legend=None)
    square: dict[str, Any] = {"stroke": LIGHT.paper, "strokeWidth": 2}
    words = base.transform_filter(enough)
    return layered(
        base.transform_filter(f"!{enough}").mark_rect(opacity=0),
        base.transform_filter(unsure)
        .mark_rect(fillOpacity=0, strokeWidth=2, width={"band": 0.97}, height={"band": 0.9})
        .encode(stroke=outline),
        base.transform_filter(sure).mark_rect(**square).encode(color=ground),
        words.mark_text(fontSize=12, dy=-6, color=LIGHT.ink).encode(text=alt.Text("said:N")),
        words.mark_text(fontSize=10, dy=9, color=LIGHT.ink).encode(text=alt.Text("number:N")),
        base.transform_filter(f"!{enough}")
        .mark_text(fontSize=10, color=LIGHT.soft)
        .encode(text=alt.Text("number:N")),
    )
