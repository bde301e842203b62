"""The chart of proximity against break-even: where balls finished, by lie and distance.

Takes finished tables and returns an Altair chart; lengths are converted for show only.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TypeVar

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.chosen.following import (
    choice,
    numbered_strokes,
    seen_unless_chosen,
    unless_chosen,
)
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered
from sgzone.report.charts.tips import tips
from sgzone.review.where.proximity import (
    BEYOND,
    BREAK_EVEN_COLUMNS,
    POINT_COLUMNS,
    WITHIN,
    against_break_even,
)
from sgzone.stats.verdict import OPEN
from sgzone.terms import DEFAULT_LEVEL, LIES
from sgzone.words.digits import count, interval_words, rows
from sgzone.words.proximity import MIDDLE, cell_label
from sgzone.words.say import Say

Axis = TypeVar("Axis", alt.X, alt.Y)

ENDS = {"green": "on the green", "missed": "missed the green"}
MIDDLE_COLOURS = {BEYOND: LIGHT.loss, WITHIN: LIGHT.gain, OPEN: LIGHT.ink}
_SHAPES = {"green": "circle", "missed": "triangle-up"}
_TICKS_FT = [0, 2, 5, 10, 20, 35, 50, 75, 100, 150, 200, 300, 500]
_TICKS_M = [0, 0.5, 1.5, 3, 6, 10, 15, 25, 40, 60, 100, 150]
_MOST_SEEN = 0.98
"""Share of the strokes that the scale holds; the others are arrows at its edge."""
_PANEL = 330
_NAMES = 90  # pixels of the names of the bands
_ROW, _INSIDE = 42, 0.84  # pixels of a band, and how much of them its strokes take
_FEW = 0.5  # of such a row, where a band has too few shots for a middle ball


@dataclass(frozen=True)
class _Tables:
    """What is drawn, in the reader's units, and the end of the scale that all panels share."""

    points: pd.DataFrame
    medians: pd.DataFrame
    line: pd.DataFrame
    top: float
    say: Say


@bounded
def proximity(
    points: pd.DataFrame,
    medians: pd.DataFrame | None = None,
    break_even: pd.DataFrame | None = None,
    *,
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
    legend: bool = True,
) -> alt.ConcatChart:
    """Draw a panel per lie, two in a row: the middle ball of each distance against break-even.

    Tables: as ``proximity_points``, ``proximity_medians`` and ``break_even`` of ``sg.tables``
    return them; the second may stand alone and first, then no strokes are drawn. All panels have
    one scale, stretched near the hole. Without ``legend`` a key stands beside.
    """
    tables = _tables(points, medians, break_even, Say(units, level))
    lies = [lie for lie in LIES if (tables.medians["lie"] == lie).any()]
    shots = tables.medians.groupby("lie")["shots"].sum()
    panels = [
        _panel(tables, lie, legend=legend).properties(
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
    """Draw one lie of ``proximity`` on the scale of all that the tables of ``sg.tables`` have.

    Without ``legend`` the page says what the marks mean.
    """
    tables = _tables(points, medians, break_even, Say(units, level))
    return _panel(tables, lie, legend=legend, follows=True).add_params(choice())


def _tables(
    points: pd.DataFrame,
    medians: pd.DataFrame | None,
    break_even: pd.DataFrame | None,
    say: Say,
) -> _Tables:
    """Return the tables in the reader's units, with the end of the scale they share."""
    if medians is None:
        points, medians = pd.DataFrame(columns=POINT_COLUMNS), points
    if break_even is None:
        break_even = pd.DataFrame(columns=BREAK_EVEN_COLUMNS)
    far, near = say.factor("yd"), say.factor("ft")
    points = _times(points, {"distance_yd": far, "finish_ft": near})
    middle = _times(medians, dict.fromkeys(("finish_ft", "low", "high", "break_even_ft"), near))
    middle = _times(middle, {"from_yd": far, "to_yd": far})
    line = _where_balls_are(_times(break_even, {"distance_yd": far, "break_even_ft": near}), points)
    known = middle[middle["finish_ft"].notna()]
    ends = [
        points["finish_ft"].quantile(_MOST_SEEN) if len(points) else 0.0,
        *(known[name].max() for name in ("high", "break_even_ft") if len(known)),
    ]
    most = max(end for end in (*ends, 1.0) if end == end)
    ticks = _TICKS_M if say.metric else _TICKS_FT
    top = next((float(tick) for tick in ticks if tick >= most), float(most))
    return _Tables(points, middle, line, top, say)


def _times(table: pd.DataFrame, factors: dict[str, float]) -> pd.DataFrame:
    """Return a table with columns times their factors."""
    return table.assign(**{n: table[n].astype(float) * factor for n, factor in factors.items()})


def _where_balls_are(line: pd.DataFrame, points: pd.DataFrame) -> pd.DataFrame:
    """Return the break-even line between the nearest and the farthest ball of each lie and band."""
    spans = points.groupby(["lie", "band"], as_index=False, observed=True)["distance_yd"].agg(
        ["min", "max"]
    )
    step = line.groupby("lie")["distance_yd"].diff().min() if len(line) > 1 else 1.0
    joined = line.merge(spans, on="lie", how="inner")
    near = joined["distance_yd"] > joined["min"] - step
    return joined[near & (joined["distance_yd"] < joined["max"] + step)].reset_index(drop=True)


def _panel(tables: _Tables, lie: str, *, legend: bool, follows: bool = False) -> alt.LayerChart:
    say = tables.say
    bands = _in_rows(tables.medians[tables.medians["lie"] == lie])
    y = _axis(bands, say, follows=follows)
    x = alt.X(
        "finish_ft:Q",
        title=f"finish from the hole, {say.unit('ft')}",
        scale=alt.Scale(type="sqrt", domain=[0, tables.top], nice=False),
        axis=alt.Axis(
            values=[t for t in (_TICKS_M if say.metric else _TICKS_FT) if t <= tables.top]
        ),
    )
    dots = _placed(tables.points[tables.points["lie"] == lie], bands)
    line = _placed(tables.line[tables.line["lie"] == lie], bands)
    seen = dots["finish_ft"] <= tables.top
    known = _marked(bands, say)
    layers = [
        _ranges(known, x, y, follows=follows) if len(known) else None,
        _dots(dots[seen], x, y, say, legend=legend) if seen.any() else None,
        _line(line, x, y, say) if len(line) else _ticks(bands, x, y, say),
        _middles(known, x, y, say, legend=legend, follows=follows) if len(known) else None,
        _arrows(dots[~seen], x, y, tables) if (~seen).any() else None,
    ]
    drawn = layered(*(layer for layer in layers if layer is not None))
    return drawn.properties(width=WIDE, height=_ROW * max(float(bands["tall"].sum()), 1))


def _in_rows(medians: pd.DataFrame) -> pd.DataFrame:
    """Return the bands from the top, the farthest first: how tall each row is, and its middle."""
    bands = medians.iloc[::-1].reset_index(drop=True)
    tall = bands["finish_ft"].notna().map({True: 1.0, False: _FEW}).astype(float)
    return bands.assign(tall=tall, centre=tall.cumsum() - tall / 2)


def _axis(bands: pd.DataFrame, say: Say, *, follows: bool) -> alt.Y:
    """Return the axis of bands, each with its middle ball in words."""
    words = say.bands
    told = {
        f"{row.centre:g}": cell_label(
            words[row.band], row.finish_ft, row.break_even_ft, int(row.shots), say
        )
        for row in rows(bands)
    }
    few = [centre for centre, tall in zip(bands["centre"], bands["tall"], strict=True) if tall < 1]
    names = {f"{row.centre:g}": words[row.band] for row in rows(bands)}
    said, bare = (f"({json.dumps(labels)})[datum.value]" for labels in (told, names))
    return alt.Y(
        "at:Q",
        title=None,
        scale=alt.Scale(domain=[float(bands["tall"].sum()), 0], nice=False, zero=False),
        axis=alt.Axis(
            values=list(bands["centre"]),
            labelExpr=unless_chosen(bare, said) if follows else said,
            labelColor=LIGHT.ink,
            labelFontSize=11,
            labelLineHeight=12,
            labelBaseline="middle",
            labelOffset={  # a name of two lines begins half a line higher
                "condition": {"test": f"indexof({json.dumps(few)}, datum.value) >= 0", "value": 0},
                "value": -6,
            },
            labelLimit=0,
            minExtent=_NAMES,
            maxExtent=_NAMES,  # or panels would differ in scale
            labelOverlap=False,
            ticks=False,
            grid=False,
        ),
    )


def _placed(table: pd.DataFrame, bands: pd.DataFrame) -> pd.DataFrame:
    """Return rows with ``at``, their distance's place in the panel, and ``row``, their band's."""
    own = table[table["band"].isin(list(bands["band"]))].reset_index(drop=True)
    edges = bands.set_index("band")[["from_yd", "to_yd", "centre", "tall"]]
    near, far, centre, tall = edges.reindex(own["band"]).to_numpy(float).T
    share = (own["distance_yd"].to_numpy(float) - near) / (far - near)
    at = (centre + tall * _INSIDE * (0.5 - share.clip(0, 1))).round(3)
    return own.assign(at=at, row=centre)


def _marked(bands: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return the bands with a middle ball: their words, their side, and the room they take."""
    side = against_break_even(bands)
    half = bands["tall"] * _INSIDE / 2
    marked = bands.assign(
        side=side.map(MIDDLE),
        top=bands["centre"] - half,
        bottom=bands["centre"] + half,
        interval=interval_words(bands["low"], bands["high"], 1, signed=False),
        band=bands["band"].map(say.bands),
    )
    kept = [
        *(
            "lie",
            "band",
            "side",
            "distance_yd",
            "finish_ft",
            "low",
            "high",
            "interval",
            "break_even_ft",
        ),
        *("inside", "shots", "rounds", "top", "bottom"),
    ]
    return marked.loc[marked["finish_ft"].notna(), kept].reset_index(drop=True)


def _ranges(bands: pd.DataFrame, x: alt.X, y: alt.Y, *, follows: bool) -> alt.Chart:
    chart: alt.Chart = (
        Chart(bands)
        .mark_rect(color=LIGHT.soft, opacity=seen_unless_chosen(0.2, follows=follows))
        .encode(x=_field(x, "low"), x2=alt.X2("high:Q"), y=_field(y, "top"), y2=alt.Y2("bottom:Q"))
    )
    return chart


def _middles(
    bands: pd.DataFrame, x: alt.X, y: alt.Y, say: Say, *, legend: bool, follows: bool
) -> alt.Chart:
    seen = tips("proximity", "band finish_ft interval:low break_even_ft inside shots rounds", say)
    colour = alt.Color(
        "side:N",
        title=None,
        scale=alt.Scale(
            domain=list(MIDDLE.values()), range=[MIDDLE_COLOURS[side] for side in MIDDLE]
        ),
        legend=alt.Undefined if legend else None,
    )
    chart: alt.Chart = (
        Chart(bands)
        .mark_rule(strokeWidth=4, opacity=seen_unless_chosen(1, follows=follows))
        .encode(x=x, y=_field(y, "top"), y2=alt.Y2("bottom:Q"), color=colour, tooltip=seen)
    )
    return chart


def _dots(dots: pd.DataFrame, x: alt.X, y: alt.Y, say: Say, *, legend: bool) -> alt.Chart:
    chart: alt.Chart = (
        numbered_strokes(_told(dots))
        .mark_point(filled=True, size=16, opacity=0.35, color=LIGHT.soft)
        .encode(
            x=x,
            y=y,
            shape=alt.Shape(
                "ended:N",
                title=None,
                sort=list(ENDS.values()),
                scale=alt.Scale(domain=list(ENDS.values()), range=list(_SHAPES.values())),
                legend=alt.Undefined if legend else None,
            ),
            tooltip=_stroke_tips(say),
        )
    )
    return chart


def _told(dots: pd.DataFrame) -> pd.DataFrame:
    told = dots.assign(ended=dots["end"].map(ENDS))
    kept = ["distance_yd", "finish_ft", "ended", "at", *(["stroke"] if "stroke" in told else [])]
    return told[kept].reset_index(drop=True)


def _stroke_tips(say: Say) -> list[alt.Tooltip]:
    return [
        alt.Tooltip("distance_yd:Q", format=".0f", title=f"from, {say.unit('yd')}"),
        alt.Tooltip("finish_ft:Q", format=".1f", title=f"finish, {say.unit('ft')}"),
        alt.Tooltip("ended:N"),
    ]


def _arrows(dots: pd.DataFrame, x: alt.X, y: alt.Y, tables: _Tables) -> alt.LayerChart:
    """Return the strokes beyond the scale as arrows at its edge, the farthest of a band named."""
    farthest = dots["finish_ft"] == dots.groupby("band")["finish_ft"].transform("max")
    beyond = _told(dots).assign(
        edge=tables.top,
        said=[
            f"{finish:.0f}" if first else ""
            for finish, first in zip(dots["finish_ft"], farthest, strict=True)
        ],
    )
    base = numbered_strokes(beyond).encode(
        x=_field(x, "edge"), y=y, tooltip=_stroke_tips(tables.say)
    )
    arrows = base.mark_point(
        filled=True, shape="triangle-right", size=45, color=LIGHT.soft, opacity=0.8
    )
    words = base.mark_text(align="right", dx=-7, fontSize=10, color=LIGHT.soft)
    return layered(arrows, words.encode(text=alt.Text("said:N")))


def _line(line: pd.DataFrame, x: alt.X, y: alt.Y, say: Say) -> alt.LayerChart:
    """Return break-even where there are balls, a piece a band."""
    kept = line[["distance_yd", "break_even_ft", "status", "row", "at"]].reset_index(drop=True)
    base = Chart(kept).encode(
        x=_field(x, "break_even_ft"),
        y=y,
        detail=alt.Detail("row:N"),
        order=alt.Order("distance_yd:Q"),
    )
    seen = [
        alt.Tooltip("distance_yd:Q", format=".0f", title=f"from, {say.unit('yd')}"),
        *tips("proximity", "break_even_ft", say),
        alt.Tooltip("status:N", title="benchmark value"),
    ]
    drawn = base.mark_line(color=LIGHT.ink, strokeWidth=1.5, strokeDash=[4, 2])
    wide = base.mark_line(opacity=0, strokeWidth=12).encode(tooltip=seen)
    return layered(drawn, wide)


def _ticks(bands: pd.DataFrame, x: alt.X, y: alt.Y, say: Say) -> alt.Chart | None:
    """Return break-even at the middle of each band; None where there is none."""
    known = _marked(bands, say)
    known = known[known["break_even_ft"].notna()].reset_index(drop=True)
    if known.empty:
        return None
    chart: alt.Chart = (
        Chart(known)
        .mark_rule(color=LIGHT.ink, strokeWidth=1.5, strokeDash=[4, 2])
        .encode(x=_field(x, "break_even_ft"), y=_field(y, "top"), y2=alt.Y2("bottom:Q"))
    )
    return chart


def _field(axis: Axis, name: str) -> Axis:
    """Return the same axis for another column."""
    copy: Axis = axis.copy()
    copy.shorthand = f"{name}:Q"
    return copy
