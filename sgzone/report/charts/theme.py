"""One look for every chart: colours, type, light and dark.

Gain is blue and loss is orange, never green and red; blue is the darker of the two, and a sign, a
side of the zero line or a shape says the same, so that nothing rests on hue alone. Charts take
their colours from ``LIGHT`` by name; the page swaps them for ``DARK`` on a dark screen.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, Literal

import altair as alt
import pandas as pd

from sgzone.report.charts.rows import drawable
from sgzone.report.fonts import FAMILY

SANS = f'"{FAMILY}", "Helvetica Neue", "Segoe UI", Roboto, "Liberation Sans", Arial, sans-serif'
"""The first is the package's own, which pictures are drawn in; a screen has one of the others.

No name may have a digit: the drawer then cannot read the list and measures another font.
"""
SERIF = 'Charter, "Bitstream Charter", "Iowan Old Style", "Palatino Linotype", Georgia, serif'


WIDE: Any = "container"
"""Width of a chart that takes the room it is given."""

NUMBER_SIZE = 12
NUMBER_ROOM = 44
"""Pixels that the number at the end of a bar takes."""
_USUAL_WIDTH = 500
"""Pixels of the plot of a chart that stands alone, which has no ``width`` to ask for."""
_NARROW = "width > 0 && width < 230"
"""What tells a phone's plot, in Vega's own words."""
_GAP = 6  # pixels between a bar and its number

_FLUSH = 16
"""Pixels from an end of the axis within which a label stays inside of it, and is not cut off."""


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours by what they mean. All differ, so that one palette can be mapped on another."""

    paper: str
    ink: str
    soft: str  # axis labels, notes
    line: str  # rules of axes and tables
    faint: str  # ground of a cell that says nothing
    gain: str
    loss: str
    gain_tint: str  # the strongest ground of a cell; ink stays readable on it
    loss_tint: str
    even_tint: str


LIGHT = Palette(
    paper="#fffefb",
    ink="#20242a",
    soft="#585d66",
    line="#c9c6bd",
    faint="#efede7",
    gain="#1f5f99",
    loss="#d9822b",
    gain_tint="#6fa8d8",
    loss_tint="#eb9c48",
    even_tint="#f6f4ee",
)
DARK = Palette(
    paper="#15181c",
    ink="#eceae4",
    soft="#a9adb4",
    line="#474c54",
    faint="#23272d",
    gain="#7db4ea",
    loss="#eb9a4a",
    gain_tint="#2e689f",
    loss_tint="#96540f",
    even_tint="#272b31",
)


class Chart(alt.Chart):
    """A chart whose copies share its marks and encodings; nobody changes one that is made.

    Altair copies a chart a dozen times before it stands in its layers, with all that it could say.
    """

    def __deepcopy__(self, memo: object = None) -> Chart:
        return self.copy(deep=False)

    def _compute_hash(self) -> str:
        """Return what a view with a selection is called; Altair's name writes out all its rows."""
        return "view"


def independent(chart: Any) -> Any:
    """Return a finished chart as Altair makes it: whoever has it may change any part of it."""
    _made_plain(chart)
    return chart.copy(deep=True)


def _made_plain(chart: Any) -> None:
    if isinstance(chart, Chart):
        object.__setattr__(chart, "__class__", alt.Chart)  # setting it would be a key of the chart
    for inner in ("layer", "hconcat", "vconcat", "concat", "spec"):
        within = getattr(chart, inner, alt.Undefined)
        for one in within if isinstance(within, list) else [within]:
            if isinstance(one, alt.TopLevelMixin):
                _made_plain(one)


def dark_twins() -> dict[str, str]:
    """Return each light colour and the one that stands for it on a dark screen."""
    return {getattr(LIGHT, f.name): getattr(DARK, f.name) for f in fields(Palette)}


def config() -> dict[str, Any]:
    """Return the Vega-Lite config of the light look, laid over every chart on the page."""
    text = {"font": SANS, "color": LIGHT.ink}
    return {
        "background": "transparent",
        "font": SANS,
        "aria": False,  # the page gives each chart one text alternative instead of one per mark
        "view": {"stroke": None},
        "title": {
            **text,
            "anchor": "start",
            "frame": "group",  # over the plot, not over the words left of it
            "fontSize": 14,
            "fontWeight": 600,
            "offset": 12,
            "subtitleFont": SANS,
            "subtitleColor": LIGHT.soft,
            "subtitleFontSize": 12,
            "subtitlePadding": 4,
        },
        "axis": {
            "labelColor": LIGHT.soft,
            "titleColor": LIGHT.ink,
            "labelFontSize": 12,
            "titleFontSize": 12,
            "titleFontWeight": "normal",
            "titlePadding": 8,
            "domain": False,
            "labelLimit": 0,  # nothing is cut: the drawer would measure every label twice for it
            "gridColor": LIGHT.faint,
            "tickColor": LIGHT.line,
            "tickSize": 4,
            "labelPadding": 5,
        },
        "axisXQuantitative": {"labelFlush": _FLUSH},
        "axisXTemporal": {"labelFlush": _FLUSH},
        "legend": {
            "labelColor": LIGHT.ink,
            "titleColor": LIGHT.soft,
            "labelFontSize": 12,
            "titleFontSize": 12,
            "titleFontWeight": "normal",
            "labelLimit": 0,
            "titleLimit": 0,
            "orient": "top",
            "direction": "horizontal",
            "symbolSize": 60,
        },
        "header": {"labelColor": LIGHT.ink, "labelFontSize": 12, "labelFontWeight": 600},
        "text": {**text, "fontSize": 12},
        "rule": {"color": LIGHT.ink},
        "point": {"color": LIGHT.ink},
    }


def labels(shown: Mapping[str, str], *, lines: bool = False) -> dict[str, Any]:
    """Return what an axis or a legend of a user's names needs: what is shown of each.

    ``shown``: name -> what is shown of it (``harmless.cut``); the names stay what they are, so that
    two that look alike are still two. The chart itself cuts nothing: it would cut a sign in two
    where that is two units of UTF-16. ``lines``: "|" in what is shown begins a line.
    """
    label = "datum.label"
    if any(name != text for name, text in shown.items()):
        label = f"({json.dumps(drawable(dict(shown)))})[datum.label]"
    if lines:
        label = f"split({label}, '|')"
    return {"labelLimit": 0} | ({} if label == "datum.label" else {"labelExpr": label})


def two_lines() -> alt.Axis:
    """Return the axis of rows whose name has a second line after "|"."""
    return alt.Axis(
        labelExpr="split(datum.label, '|')",
        labelColor=LIGHT.ink,
        labelLimit=0,
        labelBaseline="middle",
        labelLineHeight=13,  # the two lines of a row closer than those of two rows
        labelOffset=-6.5,
        ticks=False,
        labelPadding=10,
    )


def told_apart(
    field: str,
    colours: Mapping[str, str],
    *,
    legend: Any = alt.Undefined,
    **marks: Sequence[Any],
) -> dict[str, Any]:
    """Return the encodings that tell groups apart by colour, and by shape or dashes as well.

    ``colours``: group -> colour, in their order. ``marks``: ``shape`` or ``strokeDash``, one of
    each group. ``legend``: None where a key stands beside the chart.
    """
    names = list(colours)
    ways = {"color": alt.Color, "shape": alt.Shape, "strokeDash": alt.StrokeDash}
    looks = {"color": list(colours.values()), **{way: list(own) for way, own in marks.items()}}
    return {
        way: ways[way](
            f"{field}:N",
            title=None,
            sort=names,
            scale=alt.Scale(domain=names, range=look),
            legend=legend,
        )
        for way, look in looks.items()
    }


def nought(axis: Literal["x", "y"], colour: str = LIGHT.soft) -> alt.Chart:
    """Return the line at nought of an axis."""
    line = Chart(pd.DataFrame({"zero": [0.0]})).mark_rule(color=colour)
    drawn: alt.Chart = line.encode(alt.X("zero:Q") if axis == "x" else alt.Y("zero:Q"))
    return drawn


def ended(rows: pd.DataFrame, value: str, low: str, high: str) -> pd.DataFrame:
    """Return rows with ``end``, where the number of each may stand clear of its bar and range.

    Left of both where ``value`` loses, right of both where it gains.
    """
    reach = rows[[value, low, high]]
    lost = rows[value] < 0
    return rows.assign(end=reach.min(axis=1).where(lost, reach.max(axis=1)))


def numbered(rows: pd.DataFrame, value: str, y: alt.Y, seen: list[alt.Tooltip]) -> list[alt.Chart]:
    """Return the number of each bar at its outer end: fields ``end`` and ``number`` of its rows."""
    lost = rows[value] < 0
    sides: tuple[tuple[bool, str, Literal["left", "right"], int], ...] = (
        (bool(lost.any()), f"datum.{value} < 0", "right", -_GAP),
        (not lost.all(), f"!(datum.{value} < 0)", "left", _GAP),
    )
    return [  # a side without rows has no extent, and the page would warn
        Chart(rows)
        .transform_filter(side)
        .mark_text(align=align, dx=dx, color=LIGHT.ink, fontSize=NUMBER_SIZE)
        .encode(x=alt.X("end:Q"), y=y, text=alt.Text("number:N"), tooltip=seen)
        for there, side, align, dx in sides
        if there
    ]


def signed_axis() -> alt.Axis:
    """Return an axis of strokes gained or lost, few ticks where it is narrow."""
    return alt.Axis(
        labelExpr="datum.value === 0 ? '0' : format(datum.value, '+.2~f')",
        tickCount=alt.ExprRef(f"{_NARROW} ? 4 : 6"),
        titleFontSize=alt.ExprRef(f"{_NARROW} ? 11 : 12"),  # a phone's plot is narrow
    )


def signed_scale(ends: pd.Series[float]) -> alt.Scale:
    """Return a scale of gains and losses with room for the numbers of bars that reach ``ends``.

    It ends at 0 on the side where no bar goes.
    """
    low, high = min(float(ends.min()), 0.0), max(float(ends.max()), 0.0)
    if not high > low:
        return alt.Scale(domain=[-1, 1], nice=False)
    room = number_room(high - low, (low < 0) + (high > 0))
    return alt.Scale(
        nice=False,
        domainMin=alt.ExprRef(f"{low} - {room}") if low < 0 else 0,
        domainMax=alt.ExprRef(f"{high} + {room}") if high > 0 else 0,
    )


def number_room(span: float, sides: int, pixels: int = NUMBER_ROOM) -> str:
    """Return how much of an axis the numbers at the ends of its bars take, in Vega's own words.

    ``span``: of what is drawn; ``sides``: of it, that have numbers.
    """
    usual = pixels / (_USUAL_WIDTH - sides * pixels)
    return f"{span} * (width > 0 ? {pixels} / max(width - {sides * pixels}, 1) : {usual:.4f})"


def layered(*layers: alt.Chart | alt.LayerChart) -> alt.LayerChart:
    """Return the layers as one chart, the first at the back."""
    chart = alt.layer(*layers)
    assert isinstance(chart, alt.LayerChart)
    return chart
