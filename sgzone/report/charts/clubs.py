"""Clubs: the ladder of stock swings, strokes by number, a number on its green, wear."""

from __future__ import annotations

from collections.abc import Iterable

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.clubs.picture import Picture
from sgzone.clubs.stock import NOT_APART
from sgzone.harmless import cut
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, labels, layered, nought, told_apart
from sgzone.report.charts.tips import tips
from sgzone.terms import DEFAULT_LEVEL
from sgzone.units import FT_PER_YD
from sgzone.words.number import played
from sgzone.words.say import Say

_ROW = 26
_HEIGHT = 280
_TURNS, _LINE = 4, 14  # heights of the names of a number curve, and pixels between them
_NAME_ROOM, _PLAY_ROOM = 28, 42  # columns of the name of a swing; of that and how it is played
_FEET_PER_PIXEL = 0.32
_ROOM_FT = 6.0  # around all that is drawn on a green
_COLOURS = [LIGHT.gain, LIGHT.loss, LIGHT.soft]
_APART = 1.0  # shots, between the marks of a club and its successor
_SAID = {NOT_APART: "unclear"}  # the whole of it has no room on a phone
_DASHES = [[1, 0], [6, 3], [2, 2]]


def _counted(names: Iterable[str], ladder: pd.DataFrame) -> list[str]:
    return [f"{name} ({shots})" for name, shots in zip(names, ladder["shots"], strict=True)]


@bounded
def stock_ladder(
    ladder: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw the stock carries with their intervals and spreads; wide gaps and overlaps are named.

    ``ladder``: as ``sg.clubs``. The pale bar is two thirds of the shots (one sd either way), the
    short dark line the interval of the median. Page and verb leave out swings with too few shots.
    ``units``: yards or metric.
    """
    say = Say(units, level)
    yd, ft, long = say.factor("yd"), say.factor("ft"), say.unit("yd")
    ladder = ladder.assign(
        **{name: ladder[name] * yd for name in ("carry_yd", "low", "high", "gap_yd")},
        reach=ladder["depth_sd_ft"] / FT_PER_YD * yd,
        depth_sd_ft=ladder["depth_sd_ft"] * ft,
    )
    name = (ladder["club"] + " " + ladder["swing"]).str.strip()
    rows = ladder.assign(
        name=_counted(name, ladder),
        sd_low=ladder["carry_yd"] - ladder["reach"],
        sd_high=ladder["carry_yd"] + ladder["reach"],
        start=(ladder["carry_yd"] - ladder["reach"]).clip(upper=ladder["low"]),
        end=(ladder["carry_yd"] + ladder["reach"]).clip(lower=ladder["high"]),
        said=[
            f"{gap:.0f} {long}: {_SAID.get(step, step)}" if step else ""
            for gap, step in zip(ladder["gap_yd"], ladder["step"], strict=True)
        ],
    ).reset_index(drop=True)
    shown = [cut(one, _NAME_ROOM, "…") for one in name]
    axis = alt.Axis(
        ticks=False, **labels(dict(zip(rows["name"], _counted(shown, ladder), strict=True)))
    )
    y = alt.Y("name:N", sort=None, title=None, axis=axis)
    title = f"carry, {long} (calm, level)"
    ticks = alt.Axis(tickCount=alt.ExprRef("width > 0 && width < 300 ? 4 : 8"))
    scale = alt.Scale(zero=False, nice=True)
    seen = [
        alt.Tooltip("name:N", title="swing (shots)"),
        *tips("clubs", "carry_yd low high depth_sd_ft gap_yd note", say),
    ]
    base = Chart(rows)
    spread = base.mark_bar(height=12, color=LIGHT.even_tint, stroke=LIGHT.line).encode(
        x=alt.X("sd_low:Q", title=title, scale=scale, axis=ticks),
        x2=alt.X2("sd_high:Q"),
        y=y,
        tooltip=seen,
    )
    reach = base.mark_bar(height=5, color=LIGHT.gain).encode(
        x=alt.X("low:Q", title=title), x2=alt.X2("high:Q"), y=y, tooltip=seen
    )
    middle = base.mark_tick(color=LIGHT.ink, thickness=2, height=14).encode(
        x=alt.X("carry_yd:Q"), y=y
    )
    # Words stand on the side where a narrow screen has room for them.
    far = f"datum.carry_yd > {float(rows['carry_yd'].min() + rows['carry_yd'].max()) / 2}"
    after = base.transform_filter(f"!({far})").mark_text(align="left", dx=8, color=LIGHT.loss)
    before = base.transform_filter(far).mark_text(align="right", dx=-8, color=LIGHT.loss)
    words = [
        after.encode(x=alt.X("end:Q"), y=y, text=alt.Text("said:N")),
        before.encode(x=alt.X("start:Q"), y=y, text=alt.Text("said:N")),
    ]
    return layered(spread, reach, middle, *words).properties(width=WIDE, height=_ROW * len(rows))


@bounded
def number_curve(
    sheet: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes to hole out by number: the best swing as a line, the next two as marks.

    ``sheet``: as ``sg.tables.number_sheet``. ``units``: yards or metric.
    """
    say = Say(units, level)
    yd, long = say.factor("yd"), say.unit("yd")
    words = {1: "best", 2: "second", 3: "third"}
    rows = sheet[sheet["club"].notna()]
    rows = rows.assign(
        **{name: rows[name] * yd for name in ("number_yd", "landing_yd")},
        place=rows["rank"].map(words),
        played=[played(moved, say) for moved in rows["moved_yd"].astype(float)],
        swing_name=(rows["club"].astype(str) + " " + rows["swing"].astype(str)).str.strip(),
    ).reset_index(drop=True)
    x = alt.X(
        "number_yd:Q",
        title=f"number, {long}",
        scale=alt.Scale(zero=False, nice=False, padding=28),
        axis=alt.Axis(tickMinStep=10),  # numbers of a report are tens
    )
    y = alt.Y(
        "expected_strokes:Q",
        title="strokes to hole out",
        scale=alt.Scale(zero=False, padding=_LINE * _TURNS + 8),
    )
    seen = tips(
        "number",
        "number_yd swing_name:swing played landing_yd expected_strokes difference low high verdict "
        "shots",
        say,
    )
    marks = (
        Chart(rows)
        .mark_point(filled=True, size=55)
        .encode(
            x=x,
            y=y,
            **told_apart(
                "place",
                dict(zip(words.values(), _COLOURS, strict=True)),
                shape=["circle", "diamond", "triangle-up"],
            ),
            tooltip=seen,
        )
    )
    best = rows[rows["rank"] == 1].reset_index(drop=True)
    change = best["swing_name"] != best["swing_name"].shift()
    line = Chart(best).mark_line(color=LIGHT.gain, strokeWidth=1.5).encode(x=x, y=y)
    named = best[change]
    named = named.assign(said=[cut(name, _NAME_ROOM, "…") for name in named["swing_name"]])
    names = [  # at the foot, in turn at four heights: neighbours stay apart on a narrow screen
        Chart(named[turn::_TURNS].reset_index(drop=True))
        .mark_text(align="center", color=LIGHT.ink, fontSize=11)
        .encode(x=x, y=alt.value(_HEIGHT - 8 - _LINE * turn), text=alt.Text("said:N"))
        for turn in range(min(_TURNS, len(named)))
    ]
    return layered(line, marks, *names).properties(width=WIDE, height=_HEIGHT)


def green_map(seen: Picture, *, units: str = "yards") -> alt.LayerChart:
    """Draw a number on its green, to scale: edge, hole, landing and finish of the best ways.

    ``seen``: as ``clubs.picture.picture``. Both axes have one scale, from the hole. ``units``:
    yards (feet on the axes) or metric.
    """
    say = Say(units)
    ft, short, form = say.factor("ft"), say.unit("ft"), f"+.{say.places('ft')}f"
    edge, contours, marks = (
        table.assign(depth_ft=table["depth_ft"] * ft, side_ft=table["side_ft"] * ft)
        for table in (seen.edge, seen.contours, seen.marks)
    )
    plays = list(dict.fromkeys(marks["play"]))
    shown = {play: cut(play, _PLAY_ROOM, "…") for play in plays}
    whole = pd.concat([edge, contours, marks])[["depth_ft", "side_ft"]]
    low, high = whole.min() - _ROOM_FT * ft, whole.max() + _ROOM_FT * ft
    x = alt.X(
        "side_ft:Q",
        title=f"left (-) or right (+) of the hole, {short}",
        scale=alt.Scale(domain=[low["side_ft"], high["side_ft"]], nice=False),
    )
    y = alt.Y(
        "depth_ft:Q",
        title=f"short (-) or long (+) of the hole, {short}",
        scale=alt.Scale(domain=[low["depth_ft"], high["depth_ft"]], nice=False),
    )
    legend = alt.Legend(
        orient="top", direction="vertical", symbolType="stroke", symbolSize=500, **labels(shown)
    )
    colour = alt.Color(
        "play:N",
        title=None,
        sort=plays,
        scale=alt.Scale(domain=plays, range=_COLOURS[: len(plays)]),
        legend=legend,
    )
    dash = alt.StrokeDash(
        "play:N",
        title=None,
        sort=plays,
        legend=legend,
        scale=alt.Scale(domain=plays, range=_DASHES[: len(plays)]),
    )
    outline = (
        Chart(edge)
        .mark_line(color=LIGHT.ink, strokeWidth=1.5)
        .encode(x=x, y=y, order=alt.Order("step:Q"))
    )
    lines = (
        Chart(contours)
        .mark_line(strokeWidth=1.3)
        .encode(
            x=x,
            y=y,
            order=alt.Order("step:Q"),
            color=colour,
            strokeDash=dash,
            detail=alt.Detail("share:Q"),
        )
    )
    dots = (
        Chart(marks)
        .mark_point(filled=True, size=70)
        .encode(
            x=x,
            y=y,
            color=colour,
            shape=alt.Shape(
                "what:N",
                title=None,
                scale=alt.Scale(domain=["landing", "finish"], range=["triangle-down", "circle"]),
                legend=alt.Legend(orient="bottom"),
            ),
            tooltip=[
                alt.Tooltip("play:N", title="swing"),
                alt.Tooltip("what:N", title="which"),
                alt.Tooltip("depth_ft:Q", format=form, title=f"short (-) or long (+), {short}"),
                alt.Tooltip("side_ft:Q", format=form, title=f"left (-) or right (+), {short}"),
            ],
        )
    )
    hole = (
        Chart(pd.DataFrame({"side_ft": [0.0], "depth_ft": [0.0]}))
        .mark_point(shape="cross", color=LIGHT.ink, filled=True, size=110)
        .encode(x=x, y=y)
    )
    size = (high - low) / (_FEET_PER_PIXEL * ft)
    return layered(outline, lines, dots, hole).properties(
        width=float(size["side_ft"]), height=float(size["depth_ft"])
    )


def wear_curve(steps: pd.DataFrame, *, unit: str = "strokes per shot") -> alt.LayerChart:
    """Draw the mean of every 20 shots since a club was new, with its interval.

    ``steps``: as ``sg.tables.wear_steps`` for one club; a replaced club has a line per one.
    """
    since = pd.to_datetime(steps["in_play_from"]).dt.strftime("%Y-%m-%d")
    rows = steps.assign(since="in play from " + since).reset_index(drop=True)
    names = sorted(rows["since"].unique())
    rows["since_new"] += _APART * rows["since"].map(names.index)
    x = alt.X("since_new:Q", title="shots on cards since new", scale=alt.Scale(zero=True))
    y = alt.Y("mean:Q", title=unit)
    colour = alt.Color(
        "since:N",
        title=None,
        legend=alt.Legend(labelLimit=0, direction="vertical"),
        scale=alt.Scale(domain=names, range=_COLOURS[: max(len(names), 1)]),
    )
    shape = alt.Shape("since:N", title=None, scale=alt.Scale(domain=names))
    tips = [
        alt.Tooltip("since:N", title="club"),
        alt.Tooltip("since_new:Q", format=".0f", title="shots since new"),
        alt.Tooltip("mean:Q", format="+.2f", title=unit),
        alt.Tooltip("low:Q", format="+.2f", title="range from"),
        alt.Tooltip("high:Q", format="+.2f", title="to"),
        alt.Tooltip("shots:Q", title="shots (n)"),
    ]
    base = Chart(rows)
    reach = base.mark_rule(strokeWidth=1.5).encode(
        x=x, y=alt.Y("low:Q", title=unit), y2=alt.Y2("high:Q"), color=colour
    )
    dots = base.mark_point(filled=True, size=60).encode(
        x=x, y=y, color=colour, shape=shape, tooltip=tips
    )
    return layered(nought("y", LIGHT.line), reach, dots).properties(width=WIDE, height=_HEIGHT)
