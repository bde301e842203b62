"""The chart of strokes by lie and distance.

Each takes finished tables and returns an Altair chart, as wide as the room it is given.
"""

from __future__ import annotations

from typing import Any, Literal

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, layered
from sgzone.report.charts.tips import tips
from sgzone.report.charts.where import basis_of
from sgzone.terms import (
    BANDS,
    DEFAULT_LEVEL,
    LIES,
)
from sgzone.words.digits import daggered, interval_words, number, thousands
from sgzone.words.say import Say

_CELL = 42
_GRID_REACH = 0.25  # strokes a stroke at which a cell has its full colour


@bounded
def grid(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes off the green by lie (across) and distance (down, the longest first).

    ``table``: as ``review.where.proximity.grid_table``. A cell has gained per stroke adjusted for
    few shots and its number of shots; cells with too few are grey and have the number alone.
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


def _cell_axis(orient: Literal["top", "left"]) -> alt.Axis:
    return alt.Axis(orient=orient, ticks=False, labelAngle=0, labelColor=LIGHT.ink)


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
        band=table["band"].map(Say(units).bands),
        said=said,
        number=[f"n {thousands(n)}" for n in table["shots"]],
        interval=interval_words(table["low"], table["high"], 3),
        adjusted_interval=interval_words(table["shrunk_low"], table["shrunk_high"], 3),
        basis=basis_of(table),
    ).reset_index(drop=True)


def _draw_cells(rows: pd.DataFrame, x: alt.X, y: alt.Y, level: float) -> alt.LayerChart:
    seen = tips(
        "summary",
        "lie band shrunk_per_shot adjusted_interval:shrunk_low gained_per_shot interval:low "
        "verdict basis shots rounds",
        Say(level=level),
    )
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
        .encode(tooltip=seen),
        full.mark_rect(**square).encode(color=colour, tooltip=seen),
        full.mark_text(fontSize=12, dy=-6, color=LIGHT.ink).encode(
            text=alt.Text("said:N"), tooltip=seen
        ),
        full.mark_text(fontSize=10, dy=9, color=LIGHT.ink).encode(
            text=alt.Text("number:N"), tooltip=seen
        ),
        base.transform_filter(f"!{enough}")
        .mark_text(fontSize=10, color=LIGHT.soft)
        .encode(text=alt.Text("number:N"), tooltip=seen),
    )
