"""Charts of where strokes go: by part, and by lie and distance.

Each takes finished tables and returns an Altair chart, as wide as the room it is given.
"""

from __future__ import annotations

from typing import Any, Literal

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts_against import pairs_chart
from sgzone.report.charts_benchmark import benchmark_curves
from sgzone.report.charts_clubs import green_map, number_curve, stock_ladder, wear_curve
from sgzone.report.charts_compare import comparison, differences
from sgzone.report.charts_hours import hours_chart
from sgzone.report.charts_practice import block_chart, return_curves
from sgzone.report.charts_proximity import proximity, proximity_panel
from sgzone.report.charts_putting import putting_curve_chart
from sgzone.report.charts_team import small_bars
from sgzone.report.charts_trend import season_curve
from sgzone.report.charts_why import cause_bars, miss_map, why_chart
from sgzone.report.numbers import daggered, interval_words, number, thousands
from sgzone.report.theme import LIGHT, WIDE, layered
from sgzone.terms import (
    BANDS,
    DEFAULT_LEVEL,
    LIES,
    NOT_ENOUGH,
    PART_WORDS,
    band_words,
    part_words,
)

__all__ = [
    "benchmark_curves",
    "block_chart",
    "by_part",
    "cause_bars",
    "comparison",
    "differences",
    "green_map",
    "grid",
    "hours_chart",
    "miss_map",
    "number_curve",
    "pairs_chart",
    "proximity",
    "proximity_panel",
    "putt_grid",
    "putting_curve_chart",
    "return_curves",
    "season_curve",
    "small_bars",
    "stock_ladder",
    "wear_curve",
    "why_chart",
]

_LOSS, _GAIN, _OPEN = "loss", "gain", "open"
_SIDES = [_LOSS, _GAIN, _OPEN]
_SIGNED = "datum.value === 0 ? '0' : format(datum.value, '+.2~f')"
_ROW = 46
_CELL = 42
_GRID_REACH = 0.25  # strokes a stroke at which a cell has its full colour


@bounded
def by_part(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes gained per round by part: a bar, its interval, verdict and number of shots.

    ``table``: as ``review.summary.summarise`` by part returns it, in the order to be drawn; rows
    of other keys (``total``) are left out. Cells with too few shots have a pale bar, no interval.
    """
    rows = table[table["part"].isin(PART_WORDS)]
    names = rows["part"].map(part_words(units))
    titles = [daggered(n, b) for n, b in zip(names, _basis(rows), strict=True)]
    seconds = [_second_line(v, n) for v, n in zip(rows["verdict"], rows["shots"], strict=True)]
    rows = rows.assign(
        label=[f"{first}|{second}" for first, second in zip(titles, seconds, strict=True)],
        name=names,
        side=rows["verdict"].map(_side),
        interval=interval_words(rows["low_per_round"], rows["high_per_round"], 2),
        shot_interval=interval_words(rows["low"], rows["high"], 3),
    ).reset_index(drop=True)
    y = alt.Y(
        "label:N",
        sort=None,
        title=None,
        axis=alt.Axis(
            labelExpr="split(datum.label, '|')",
            labelColor=LIGHT.ink,
            labelLimit=220,
            labelBaseline="middle",
            labelLineHeight=13,  # the two lines of a part closer than those of two parts
            labelOffset=-6.5,
            ticks=False,
            labelPadding=10,
        ),
    )
    x = alt.X(
        "gained_per_round:Q",
        title="← lost · strokes per round · gained →",
        axis=alt.Axis(
            labelExpr=_SIGNED,
            tickCount=5,
            titleFontSize=alt.ExprRef("width < 230 ? 11 : 12"),  # a phone's plot is narrow
        ),
    )
    tips = [
        alt.Tooltip("name:N", title="part"),
        alt.Tooltip("gained_per_round:Q", format="+.2f", title="gained per round, strokes"),
        alt.Tooltip("interval:N", title=f"{level:.0%} interval, strokes per round"),
        alt.Tooltip("gained_per_shot:Q", format="+.3f", title="gained per shot, strokes"),
        alt.Tooltip("shot_interval:N", title=f"{level:.0%} interval, strokes per shot"),
        alt.Tooltip("verdict:N"),
        alt.Tooltip("shots:Q", title="shots (n)", format=","),
        alt.Tooltip("rounds:Q", title="rounds"),
    ]
    base = alt.Chart(rows)
    bars = base.mark_bar(height=15).encode(x=x, y=y, color=_side_colour(), tooltip=tips)
    nothing = alt.Chart(pd.DataFrame({"zero": [0.0]}))
    zero = nothing.mark_rule(color=LIGHT.ink, strokeWidth=1).encode(x=alt.X("zero:Q"))
    sure = _intervals(base, y, tips) if rows["low_per_round"].notna().any() else []
    chart = layered(bars, zero, *sure)
    return chart.properties(width=WIDE, height=_ROW * len(rows))


def _intervals(base: alt.Chart, y: alt.Y, tips: list[alt.Tooltip]) -> list[alt.Chart]:
    """Return a line from low to high with a tick at each end, for the rows that have both."""
    some = base.transform_filter("isValid(datum.low_per_round)")
    ends = {"x": alt.X("low_per_round:Q"), "x2": alt.X2("high_per_round:Q")}
    ticks = [
        some.mark_tick(color=LIGHT.ink, thickness=1.5, height=9).encode(x=alt.X(f"{end}:Q"), y=y)
        for end in ("low_per_round", "high_per_round")
    ]
    line = some.mark_rule(color=LIGHT.ink, strokeWidth=1.5).encode(**ends, y=y, tooltip=tips)
    return [line, *ticks]


@bounded
def grid(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes off the green by lie (across) and distance (down, the longest first).

    ``table``: as ``review.tables.grid_table``. A cell has gained per stroke adjusted for few
    shots and its number of shots; cells with too few are grey and have the number alone.
    """
    far = [band.name for band in reversed(BANDS) if not band.on_green]
    rows = _cells(table[table["band"].isin(far)], units)
    bands = _in_order(far, rows, units)
    lies = [lie for lie in LIES if lie in set(rows["lie"])]
    x = alt.X("lie:N", sort=lies, title=None, axis=_cell_axis("top"))
    y = alt.Y("band:N", sort=bands, title=None, axis=_cell_axis("left"))
    return _draw_cells(rows, x, y, level).properties(width=WIDE, height=_CELL * len(bands))


@bounded
def putt_grid(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw putts by distance in one row, as ``grid`` does the strokes off the green."""
    near = [band.name for band in BANDS if band.on_green]
    rows = _cells(table[table["band"].isin(near)], units)
    bands = _in_order(near, rows, units)
    x = alt.X("band:N", sort=bands, title=None, axis=_cell_axis("top"))
    y = alt.Y("lie:N", axis=None)
    return _draw_cells(rows, x, y, level).properties(width=WIDE, height=_CELL)


def _second_line(verdict: str, shots: int) -> str:
    if verdict == NOT_ENOUGH:
        return f"{NOT_ENOUGH} ({shots})"
    return f"{verdict}, {thousands(shots)} shots"


def _side(verdict: str) -> str:
    if verdict.endswith(_LOSS):
        return _LOSS
    return _GAIN if verdict.endswith(_GAIN) else _OPEN


def _side_colour() -> alt.Color:
    scale = alt.Scale(domain=_SIDES, range=[LIGHT.loss, LIGHT.gain, LIGHT.line])
    return alt.Color("side:N", scale=scale, legend=None)


def _basis(rows: pd.DataFrame) -> pd.Series:
    return rows["basis"] if "basis" in rows else pd.Series("", index=rows.index)


def _cell_axis(orient: Literal["top", "left"]) -> alt.Axis:
    return alt.Axis(orient=orient, ticks=False, labelAngle=0, labelColor=LIGHT.ink)


def _in_order(bands: list[str], rows: pd.DataFrame, units: str) -> list[str]:
    words = band_words(units)
    return [words[name] for name in bands if words[name] in set(rows["band"])]


def _cells(table: pd.DataFrame, units: str) -> pd.DataFrame:
    """Return the rows with what a cell says: the value where it has one, and its number."""
    shown = table["shrunk_per_shot"]
    said = [
        daggered(number(value, 2, signed=True), basis) if value == value else ""
        for value, basis in zip(shown, _basis(table), strict=True)
    ]
    return table.assign(
        band=table["band"].map(band_words(units)),
        said=said,
        number=[f"n {thousands(n)}" for n in table["shots"]],
        interval=interval_words(table["low"], table["high"], 3),
        adjusted_interval=interval_words(table["shrunk_low"], table["shrunk_high"], 3),
        basis=_basis(table),
    ).reset_index(drop=True)


def _draw_cells(rows: pd.DataFrame, x: alt.X, y: alt.Y, level: float) -> alt.LayerChart:
    tips = [
        alt.Tooltip("lie:N"),
        alt.Tooltip("band:N", title="from"),
        alt.Tooltip("shrunk_per_shot:Q", format="+.3f", title="adjusted, strokes per shot"),
        alt.Tooltip("adjusted_interval:N", title=f"{level:.0%} interval"),
        alt.Tooltip("gained_per_shot:Q", format="+.3f", title="as played, strokes per shot"),
        alt.Tooltip("interval:N", title=f"{level:.0%} interval"),
        alt.Tooltip("verdict:N"),
        alt.Tooltip("basis:N", title="benchmark value"),
        alt.Tooltip("shots:Q", title="shots (n)"),
        alt.Tooltip("rounds:Q", title="rounds"),
    ]
    base = alt.Chart(rows).encode(x=x, y=y)
    enough = "isValid(datum.shrunk_per_shot)"
    scale = alt.Scale(
        domain=[-_GRID_REACH, 0, _GRID_REACH],
        range=[LIGHT.loss_tint, LIGHT.even_tint, LIGHT.gain_tint],
        clamp=True,
        interpolate="lab",
    )
    square: dict[str, Any] = {"stroke": LIGHT.paper, "strokeWidth": 2}
    colour = alt.Color("shrunk_per_shot:Q", scale=scale, legend=None)
    full = base.transform_filter(enough)
    return layered(
        base.transform_filter(f"!{enough}")
        .mark_rect(color=LIGHT.faint, **square)
        .encode(tooltip=tips),
        full.mark_rect(**square).encode(color=colour, tooltip=tips),
        full.mark_text(fontSize=12, dy=-6, color=LIGHT.ink).encode(
            text=alt.Text("said:N"), tooltip=tips
        ),
        full.mark_text(fontSize=10, dy=9, color=LIGHT.ink).encode(
            text=alt.Text("number:N"), tooltip=tips
        ),
        base.transform_filter(f"!{enough}")
        .mark_text(fontSize=10, color=LIGHT.soft)
        .encode(text=alt.Text("number:N"), tooltip=tips),
    )
