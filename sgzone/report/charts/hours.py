"""Practice hours: what is recommended, what loss alone would say, what is done now."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, WIDE, layered
from sgzone.report.charts.tips import tips
from sgzone.words.say import Say

_ROW = 30
_NOT_DRAWN = ("need_per_round", "hours_to_goal")
"""Of a target, and missing where there is none: a chart's data hold no missing number."""


def hours_chart(table: pd.DataFrame, *, units: str = "yards") -> alt.LayerChart:
    """Draw the share of the hours by part: recommended with its interval, by loss, and now.

    ``table``: as ``practice.plan.Plan.table``; shares of 1. Hours now are drawn where known.
    """
    rows = table.drop(columns=[*_NOT_DRAWN], errors="ignore").reset_index(drop=True)
    rows["name"] = rows["part"].map(Say(units).parts)
    y = alt.Y("name:N", sort=list(rows["name"]), title=None)
    axis = alt.Axis(format=".0%", tickCount=5)
    title = "share of the practice hours"
    x = alt.X("share:Q", title=title, axis=axis)
    known = rows["share_now"].notna().any()
    if not known:
        rows = rows.drop(columns="share_now")
    seen = tips(
        "practice",
        "name:part share share_low share_high hours_per_week share_by_loss loss_per_round"
        + (" share_now" if known else ""),
        Say(units),
    )
    base = alt.Chart(rows)
    now = base.transform_filter("isValid(datum.share_now)")
    bars = now.mark_bar(height=12, color=LIGHT.line).encode(
        x=alt.X("share_now:Q", title=title, axis=axis), y=y, tooltip=seen
    )
    span = base.mark_rule(color=LIGHT.ink, strokeWidth=1.5).encode(
        x=alt.X("share_low:Q"), x2=alt.X2("share_high:Q"), y=y
    )
    loss = base.mark_point(color=LIGHT.loss, size=70, strokeWidth=2).encode(
        x=alt.X("share_by_loss:Q"), y=y, tooltip=seen
    )
    dots = base.mark_point(color=LIGHT.gain, filled=True, size=70).encode(x=x, y=y, tooltip=seen)
    layers = [span, loss, dots]
    if known:
        layers.insert(0, bars)
    return layered(*layers).properties(width=WIDE, height=_ROW * len(rows))
