"""A chart that stands alone: what the page would write beside it stands over it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import wrap
from typing import Any

import altair as alt
import pandas as pd

from sgzone.harmless import one_line
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered
from sgzone.report.page import Key

Drawing = alt.LayerChart | alt.ConcatChart | alt.FacetChart | alt.VConcatChart

WIDTH = 640
"""Pixels of a chart that takes the room it is given, where nobody gives it any."""

_LINE, _LETTER, _SYMBOL = 18, 6.8, 40  # pixels: of a line of keys, of a letter, of a mark
_COLUMNS = 110  # letters of a line over a chart of that width
_LEAST_COLUMNS = 76
_TITLE_COLUMNS = 84  # its letters are larger

_STROKE: dict[str, Any] = {"shape": "stroke", "size": 420, "filled": False}
_UPRIGHT: dict[str, Any] = {**_STROKE, "size": 200, "angle": 90, "strokeWidth": 3}
_BLOCK: dict[str, Any] = {"shape": "square", "size": 150, "filled": True}
_MARKS: dict[str, dict[str, Any]] = {
    "dot": {"shape": "circle", "size": 60, "filled": True, "color": LIGHT.gain},
    "ink-dot": {"shape": "circle", "size": 50, "filled": True, "color": LIGHT.ink},
    "ink-ring": {"shape": "circle", "size": 50, "filled": False, "color": LIGHT.ink},
    "soft-dot": {
        **{"shape": "circle", "size": 40, "filled": True},
        **{"color": LIGHT.soft, "opacity": 0.6},
    },
    "soft-triangle": {
        **{"shape": "triangle-up", "size": 40, "filled": True},
        **{"color": LIGHT.soft, "opacity": 0.6},
    },
    "open-ring": {
        **{"shape": "circle", "size": 60, "filled": False},
        **{"color": LIGHT.loss, "strokeWidth": 2},
    },
    "diamond": {"shape": "diamond", "size": 70, "filled": True, "color": LIGHT.gain},
    "triangle": {"shape": "triangle-up", "size": 60, "filled": True, "color": LIGHT.loss},
    "tick": {
        **{"shape": "stroke", "size": 200, "filled": False, "angle": 90},
        **{"color": LIGHT.ink, "strokeWidth": 2},
    },
    "upright": {**_UPRIGHT, "color": LIGHT.ink},
    "upright-loss": {**_UPRIGHT, "color": LIGHT.loss},
    "upright-gain": {**_UPRIGHT, "color": LIGHT.gain},
    "upright-dashed": {
        **{**_UPRIGHT, "color": LIGHT.ink, "strokeWidth": 1.5},
        "strokeDash": [4, 2],
    },
    "span": {**_STROKE, "color": LIGHT.gain, "strokeWidth": 5, "opacity": 0.35},
    "median": {**_STROKE, "color": LIGHT.ink, "strokeWidth": 3},
    "line": {**_STROKE, "color": LIGHT.ink, "strokeWidth": 1.5},
    "mark-line": {**_STROKE, "color": LIGHT.loss, "strokeWidth": 1.5},
    "dashed": {**_STROKE, "color": LIGHT.ink, "strokeWidth": 1.5, "strokeDash": [5, 3]},
    "gain": {**_BLOCK, "color": LIGHT.gain},
    "loss": {**_BLOCK, "color": LIGHT.loss},
    "open": {**_BLOCK, "color": LIGHT.line},
    "gain-tint": {**_BLOCK, "color": LIGHT.gain_tint},
    "loss-tint": {**_BLOCK, "color": LIGHT.loss_tint},
    "outline": {
        **{"shape": "square", "size": 130, "filled": False},
        **{"color": LIGHT.loss_tint, "strokeWidth": 2},
    },
    "faint": {**_BLOCK, "color": LIGHT.faint},
    "pale": {**_BLOCK, "color": LIGHT.even_tint, "stroke": LIGHT.line},
}
"""How the marks of a key are drawn, by the names they have on the page and a few more."""


def wide(chart: alt.TopLevelMixin) -> alt.TopLevelMixin:
    """Return a chart with a width of its own, where it would take the room it is given."""
    return chart.properties(**_size(chart))


def _size(chart: alt.TopLevelMixin) -> dict[str, int]:
    return {"width": WIDTH} if getattr(chart, "width", None) == WIDE else {}


def alone(
    chart: Drawing, title: str, lines: Iterable[str] = (), keys: Sequence[Key] = ()
) -> alt.TopLevelMixin:
    """Return a chart with its title, the lines under that, and a key to its marks."""
    own = getattr(chart, "width", None)
    room = min(own, WIDTH) if isinstance(own, int | float) else WIDTH
    columns = max(_COLUMNS * int(room) // WIDTH, _LEAST_COLUMNS)
    sized: alt.TopLevelMixin = wide(chart)
    if keys:
        sized = alt.vconcat(key(keys), chart.properties(**_size(chart)), spacing=10)
    under = [part for line in lines for part in _wrapped(line, columns)]
    heading = alt.Title(_wrapped(title, _TITLE_COLUMNS), subtitle=under)
    return sized.properties(title=heading)


def _wrapped(text: str, columns: int) -> list[str]:
    """Return the text in lines; a name stays whole, whatever its signs are made of."""
    return wrap(one_line(text), columns, break_long_words=False, break_on_hyphens=False)


def key(keys: Sequence[Key]) -> alt.LayerChart:
    """Draw each mark of a chart with its words, in lines of the usual width."""
    rows = _places(keys)
    height = _LINE * (int(rows["line"].max()) + 1)
    x = alt.X("x:Q", axis=None, scale=alt.Scale(domain=[0, WIDTH], nice=False))
    y = alt.Y("y:Q", axis=None, scale=alt.Scale(domain=[height, 0], nice=False))
    marks = [
        Chart(own.reset_index(drop=True))
        .mark_point(**{"opacity": 1, "strokeWidth": 1.5, **_MARKS[str(mark)]})
        .encode(x=x, y=y)
        for mark, own in rows.groupby("mark", sort=False)
    ]
    words = (
        Chart(rows)
        .mark_text(align="left", dx=16, color=LIGHT.ink)
        .encode(x=x, y=y, text=alt.Text("words:N"))
    )
    return layered(*marks, words).properties(width=WIDTH, height=height)


def _places(keys: Sequence[Key]) -> pd.DataFrame:
    """Return each key with its place, in pixels, a line full before the next begins."""
    rows, at, line = [], 0.0, 0
    for one in keys:
        size = _SYMBOL + _LETTER * len(one.words)
        if at and at + size > WIDTH:
            at, line = 0.0, line + 1
        place = {"x": at + 10, "y": _LINE * (line + 0.5), "line": line}
        rows.append({"mark": one.mark, "words": one.words, **place})
        at += size
    return pd.DataFrame(rows)
