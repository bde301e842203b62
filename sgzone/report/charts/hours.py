"""Practice hours: the share of each part now against the one suggested."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, NUMBER_SIZE, WIDE, Chart, layered, number_room
from sgzone.report.charts.tips import tips
from sgzone.words.practice import five
from sgzone.words.say import Say

_ROW = 30
_ROOM = 88  # pixels of both shares at the end of a row
_TICKS = [0, 0.25, 0.5, 0.75, 1.0]
_BEFORE = 0.05  # of the scale, before 0: a mark there is drawn whole
_NOT_DRAWN = ("need_per_round", "hours_to_goal")
"""Of a target, and missing where there is none: a chart's data hold no missing number."""


def hours_chart(table: pd.DataFrame, *, units: str = "yards") -> alt.LayerChart:
    """Draw the share of the hours by part: a ring for now, a dot for the suggested one.

    The pale line is the range of the suggested share; both shares stand at its end. Without a log
    (``share_now`` missing) the suggested one is drawn alone. ``table``: as
    ``sg.practice_plan(...).table``; shares of 1.
    """
    rows = table.drop(columns=[*_NOT_DRAWN], errors="ignore").reset_index(drop=True)
    known = rows["share_now"].notna().any()
    rows = rows.assign(
        name=rows["part"].map(Say(units).parts),
        end=rows[["share", "share_high", "share_now"]].max(axis=1),
        number=[
            f"{five(now)[:-1]} → {five(share)}" if now == now else five(share)
            for now, share in zip(rows["share_now"], rows["share"], strict=True)
        ],
    )
    y = alt.Y(
        "name:N",
        sort=list(rows["name"]),
        title=None,
        axis=alt.Axis(ticks=False, labelColor=LIGHT.ink),
    )
    top = float(rows["end"].max())
    ticks = [tick for tick in _TICKS if tick <= top + _TICKS[1] / 2]
    x = alt.X(
        "share:Q",
        title="share of the practice hours",
        axis=alt.Axis(format=".0%", values=ticks),
        scale=alt.Scale(
            domainMin=-_BEFORE * top,
            domainMax=alt.ExprRef(f"{top} + {number_room(top, 1, _ROOM)}"),
            nice=False,
        ),
    )
    if not known:
        rows = rows.drop(columns="share_now")
    seen = tips(
        "practice",
        "name:part share share_low share_high hours_per_week share_by_loss loss_per_round"
        + (" share_now" if known else ""),
        Say(units),
    )
    base = Chart(rows)
    span = base.mark_rule(color=LIGHT.gain, strokeWidth=5, opacity=0.35).encode(
        x=alt.X("share_low:Q"), x2=alt.X2("share_high:Q"), y=y, tooltip=seen
    )
    now = (
        base.transform_filter("isValid(datum.share_now)")
        .mark_point(color=LIGHT.ink, size=80, strokeWidth=2, opacity=1)
        .encode(x=alt.X("share_now:Q"), y=y, tooltip=seen)
    )
    suggested = base.mark_point(color=LIGHT.gain, filled=True, size=80, opacity=1).encode(
        x=x, y=y, tooltip=seen
    )
    numbers = base.mark_text(align="left", dx=10, color=LIGHT.ink, fontSize=NUMBER_SIZE).encode(
        x=alt.X("end:Q"), y=y, text=alt.Text("number:N"), tooltip=seen
    )
    layers = [span, suggested, *([now] if known else []), numbers]
    return layered(*layers).properties(width=WIDE, height=_ROW * len(rows))
