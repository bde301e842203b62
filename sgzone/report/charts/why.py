"""Charts of why strokes go: the causes of each part, and where the ball finishes.

Each takes finished tables and returns an Altair chart. Blue and orange, and shapes beside them,
tell things apart without red and green.
"""

from __future__ import annotations

import math

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.chosen.following import choice, numbered_strokes, seen_unless_chosen
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, told_apart
from sgzone.report.charts.tips import tips
from sgzone.terms import CAUSE_WORDS, DEFAULT_LEVEL, PART_WORDS
from sgzone.words.digits import count
from sgzone.words.notes import as_gains, met
from sgzone.words.say import Say

BLUE, ORANGE, INK, PALE = LIGHT.gain, LIGHT.loss, LIGHT.ink, LIGHT.soft
PIECES = [LIGHT.loss, LIGHT.loss_tint]
"""Proximity and missed green: two shades of a loss, for neither of them is a gain."""
COLUMN_WORDS = {"proximity": "distance left", "missed_green": "missed greens"}
END_WORDS = {"green": "on the green", "missed": "missed the green"}

_LEGEND = alt.Legend(orient="top")
_ROW = 19
_MAP_SIZE = 240
_MAPS_A_ROW = 3
_MOST_TICKS = 5  # labels of a narrow panel that leave room between them


@bounded
def why_chart(
    table: pd.DataFrame,
    *,
    against: str = "",
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
) -> alt.FacetChart:
    """Draw the causes of each part as diverging bars, strokes per shot, with their ranges.

    Lost to the left, gained to the right.

    ``table``: as ``sg.why`` returns it. The bar is split into proximity and missed green, which may
    point either way; the dot is their sum and the line its interval at ``level``. Parts without a
    split show their total alone. ``against``: the benchmark's name.
    """
    rows, words = _rows(table, units), Say(units).parts
    shots = table.groupby("part")["shots"].first()
    names = {words[p]: f"{words[p]}, {count(int(shots[p]), 'shot')}" for p in words if p in shots}
    chart: alt.FacetChart = (
        _cause_layers(Say(units, level), rows.assign(part=rows["part"].map(names)))
        .properties(width=520, height=alt.Step(18))
        .facet(
            row=alt.Row(
                "part:N",
                sort=list(names.values()),
                title=None,
                header=alt.Header(
                    labelAngle=0, labelAnchor="start", labelOrient="top", labelPadding=0
                ),
            ),
            title=alt.Title(
                f"Why strokes go against {against}" if against else "Why strokes go",
                subtitle="Dot: strokes a shot; line: its range. Causes add up to the total.",
            ),
        )
        .resolve_scale(y="independent")
        .properties(spacing=14)
    )
    return chart


@bounded
def cause_bars(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw the causes of one part as ``why_chart`` does, as wide as the room it is given.

    ``table``: the part's rows of ``sg.why``.
    """
    chart = _cause_layers(Say(units, level), _rows(table, units), legend=None)
    return chart.properties(width=WIDE, height=_ROW * table["factor"].nunique())


def _rows(table: pd.DataFrame, units: str = "yards") -> pd.DataFrame:
    table = as_gains(met(table))
    rows = table.assign(
        part=table["part"].map(Say(units).parts),
        cause=table["factor"].map(CAUSE_WORDS),
        piece=table["column"].map(COLUMN_WORDS),
    )
    rows["interval"] = [
        f"{low:+.3f} to {high:+.3f}" if low == low else "none: one round"
        for low, high in zip(rows["low"], rows["high"], strict=True)
    ]
    return _plain(rows)


def _cause_layers(
    say: Say, rows: pd.DataFrame, legend: alt.Legend | None = _LEGEND
) -> alt.LayerChart:
    words = list(CAUSE_WORDS.values())
    pieces = list(COLUMN_WORDS.values())
    named = "replace(datum.label, 'usual miss: ', '')"  # a phone's plot is narrow
    y = alt.Y("cause:N", sort=words, title=None, axis=alt.Axis(labelExpr=named))
    title = "strokes a shot, − loses"
    seen = tips(
        "causes", "part cause:factor gained_per_shot interval:low gained_per_round shots note", say
    )
    base = Chart()
    bars = (
        base.transform_filter("datum.column != 'total'")
        .mark_bar(height=11)
        .encode(
            x=alt.X("gained_per_shot:Q", title=title, axis=_axis(rows)),
            y=y,
            color=alt.Color(
                "piece:N",
                title="from",
                scale=alt.Scale(domain=pieces, range=PIECES),
                legend=legend,
            ),
            tooltip=[alt.Tooltip("piece:N", title="from"), *seen],
        )
    )
    sums = base.transform_filter("datum.column == 'total'")
    whiskers = sums.mark_rule(color=INK).encode(
        x=alt.X("low:Q", title=title), x2=alt.X2("high:Q"), y=y
    )
    dots = sums.mark_point(color=INK, filled=True, size=36).encode(
        x=alt.X("gained_per_shot:Q", title=title), y=y, tooltip=seen
    )
    zero = base.mark_rule(color=PALE).encode(x=alt.XDatum(0))
    chart = alt.layer(zero, bars, whiskers, dots, data=rows)
    assert isinstance(chart, alt.LayerChart)
    return chart


def _axis(rows: pd.DataFrame) -> alt.Axis:
    """Return an axis that always names 0, its ticks few and their steps whole."""
    ticks, places = _ticks(*_reach(rows))
    said = f"datum.value === 0 ? '0' : format(datum.value, '+.{places}f')"
    return alt.Axis(values=ticks, labelExpr=said, labelOverlap=False)


def _reach(rows: pd.DataFrame) -> tuple[float, float]:
    """Return how far bars and intervals go to the left and to the right of 0."""
    pieces = rows[rows["column"] != "total"]
    keys = [pieces["part"], pieces["factor"]]
    left = pieces["gained_per_shot"].clip(upper=0).groupby(keys).sum().min()
    right = pieces["gained_per_shot"].clip(lower=0).groupby(keys).sum().max()
    ends = pd.Series([0.0, left, right, rows["low"].min(), rows["high"].max()])
    return float(ends.min()), float(ends.max())


def _ticks(low: float, high: float) -> tuple[list[float], int]:
    """Return the multiples of the smallest step that has few of them, and the step's decimals.

    Steps are 1, 2 or 5 in a decimal place. ``low`` is at most 0 and ``high`` at least.
    """
    finest = 1 - math.floor(math.log10(max(high - low, 1e-6)))
    steps = [(d / 10.0**place, place) for place in range(finest, finest - 3, -1) for d in (1, 2, 5)]
    step, place = next(
        (step, place)
        for step, place in steps
        if math.floor(high / step) - math.ceil(low / step) < _MOST_TICKS
    )
    ticks = range(math.ceil(low / step), math.floor(high / step) + 1)
    return [round(k * step, place) for k in ticks], max(place, 0)


def miss_map(
    points: pd.DataFrame, contours: pd.DataFrame, *, units: str = "yards"
) -> alt.ConcatChart:
    """Draw where the ball finished around the hole, one map a group, depth up and side across.

    ``points`` and ``contours``: as ``sg.tables.miss_points`` and ``sg.tables.miss_contours`` return
    them, feet. Both axes of a map have one scale, and the cross is the hole; maps differ in scale.
    """
    groups = list(dict.fromkeys(points["group"]))
    known = [part for part in PART_WORDS if part in groups]
    groups = known + [group for group in groups if group not in known]
    of_each = [[table[table["group"] == group] for table in (points, contours)] for group in groups]
    maps = [
        one_map(str(group), dots, lines, units=units)
        for group, (dots, lines) in zip(groups, of_each, strict=True)
    ]
    return alt.concat(*maps, columns=_MAPS_A_ROW).properties(
        title=alt.Title(
            "Where the ball finishes",
            subtitle=[
                "Distance from the hole (cross), seen along the line of the shot.",
                "Lines: half and 80% of a normal pattern lie inside.",
            ],
        )
    )


def one_map(
    group: str,
    points: pd.DataFrame,
    contours: pd.DataFrame,
    legend: alt.Legend | None = _LEGEND,
    units: str = "yards",
    *,
    follows: bool = False,
) -> alt.LayerChart | alt.FacetChart:
    """Draw one group of ``miss_map``; ``legend`` None where a key stands beside.

    ``follows``: the rings are not seen while the page's reader has chosen some strokes.

    ``units``: yards (feet on the axes) or metric.
    """
    say = Say(units)
    unit, form, factor = say.unit("ft"), f"+.{say.places('ft')}f", say.factor("ft")
    points, contours = (
        t.assign(depth_ft=t["depth_ft"] * factor, side_ft=t["side_ft"] * factor)
        for t in (points, contours)
    )
    shown = pd.concat([points[["depth_ft", "side_ft"]], contours[["depth_ft", "side_ft"]]])
    reach = float(shown.abs().max().max()) * 1.05 + 1
    scale = alt.Scale(domain=[-reach, reach], nice=False)
    x = alt.X("side_ft:Q", scale=scale, title=f"left (-) or right (+), {unit}")
    y = alt.Y("depth_ft:Q", scale=scale, title=f"short (-) or long (+), {unit}")
    dots = (
        numbered_strokes(_plain(points.assign(ended=points["end"].map(END_WORDS))))
        .mark_point(size=22, opacity=0.6)
        .encode(
            x=x,
            y=y,
            **told_apart(
                "ended",
                dict(zip(END_WORDS.values(), (BLUE, ORANGE), strict=True)),
                shape=["circle", "triangle-up"],
                legend=legend,
            ),
            tooltip=[
                alt.Tooltip("depth_ft:Q", format=form, title=f"short (-) or long (+), {unit}"),
                alt.Tooltip("side_ft:Q", format=form, title=f"left (-) or right (+), {unit}"),
                alt.Tooltip("ended:N", title="ended"),
            ],
        )
    )
    lines = (
        Chart(_plain(contours))
        .mark_line(color=INK, strokeWidth=1.2, opacity=seen_unless_chosen(1, follows=follows))
        .encode(x=x, y=y, order=alt.Order("step:Q"), detail=alt.Detail("share:Q"))
    )
    hole = (
        Chart(pd.DataFrame({"side_ft": [0.0], "depth_ft": [0.0]}))
        .mark_point(shape="cross", color=INK, filled=True, size=90)
        .encode(x=x, y=y)
    )
    title = alt.Title(Say(units).parts.get(group, group), subtitle=f"{len(points)} shots")
    chart = alt.layer(dots, lines, hole)
    if follows:
        chart = chart.add_params(choice())
    return chart.properties(width=_MAP_SIZE, height=_MAP_SIZE, title=title)


def _plain(frame: pd.DataFrame) -> pd.DataFrame:
    """Return the rows numbered afresh, as Altair wants them."""
    return frame.reset_index(drop=True)
