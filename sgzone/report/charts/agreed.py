"""What an agreement counts over time, with its target and the days that matter."""

from __future__ import annotations

from datetime import date
from math import isnan, nan

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered
from sgzone.terms import FEET, SHARE
from sgzone.words.agreed import chart as words
from sgzone.words.agreed.measures import spread, value
from sgzone.words.say import Say

_HEIGHT = 260
_LEFT, _RIGHT = pd.Timedelta(days=8), pd.Timedelta(days=24)
"""Left free beside the outermost marks: on the right stands the name of the target."""


def agreed_curve(
    months: pd.DataFrame,
    unit: str,
    *,
    day: date,
    target: float = nan,
    due: date | None = None,
    units: str = "yards",
) -> alt.LayerChart:
    """Draw a dot a month with its range, hollow before the agreement and filled since.

    ``months``: as ``sg.tables.agreed_months``; ``unit``: ``share``, ``ft`` or ``per round``.
    ``day``: agreed on, an upright line; ``target``: a level line, NaN for none; ``due``: an upright
    one, dashed.
    """
    say = Say(units)
    scale = say.factor(FEET) if unit == FEET else 1.0
    rows = months.assign(
        shown=months["value"] * scale,
        low=months["low"] * scale,
        high=months["high"] * scale,
        said=[value(of, unit, say) for of in months["value"]],
        ranged=[
            spread(*ends, unit, say) for ends in zip(months["low"], months["high"], strict=True)
        ],
        when=[words.WHEN[bool(later)] for later in months["later"]],
    )
    # a range can be missing, and then its dot alone is drawn
    rows = rows.drop(columns=["value", "later"]).reset_index(drop=True)
    kind = {SHARE: "%", FEET: ".1f" if say.metric else "d"}.get(unit, "")
    y = alt.Y(
        "shown:Q",
        title=words.axis(unit, say),
        scale=alt.Scale(zero=False),
        axis=alt.Axis(format=kind),
    )
    days = [*rows["date"], pd.Timestamp(day), *([] if due is None else [pd.Timestamp(due)])]
    ends = [(min(days) - _LEFT).isoformat(), (max(days) + _RIGHT).isoformat()]
    scale_x = alt.Scale(domain=ends, nice=False)
    x = alt.X("date:T", title=None, scale=scale_x, axis=alt.Axis(format="%-d %b", tickCount=6))
    seen = [
        alt.Tooltip("date:T", title="about", format="%-d %b %Y"),
        alt.Tooltip("when:N", title="when"),
        alt.Tooltip("said:N", title="value"),
        alt.Tooltip("ranged:N", title="range"),
        alt.Tooltip("n:Q", title="n"),
    ]
    base = Chart(rows)
    span = base.mark_rule(color=LIGHT.gain, strokeWidth=2, opacity=0.55).encode(
        x=x, y=alt.Y("low:Q"), y2=alt.Y2("high:Q"), tooltip=seen
    )
    fill = alt.condition(
        alt.datum.when == words.WHEN[True], alt.value(LIGHT.gain), alt.value(LIGHT.paper)
    )
    dots = base.mark_point(filled=True, size=70, opacity=1, stroke=LIGHT.gain).encode(
        x=x, y=y, fill=fill, tooltip=seen
    )
    layers = [*_days(day, due, x), *_target(target, unit, scale, say), span, dots]
    return layered(*layers).properties(width=WIDE, height=_HEIGHT)


def curve_of(row: pd.Series, months: pd.DataFrame, *, units: str = "yards") -> alt.LayerChart:
    """Draw one agreement; ``row``: of ``review.agreed.going.agreements``."""
    return agreed_curve(
        months,
        row["unit"],
        day=row["day"].date(),
        target=float(row["target"]),
        due=None if pd.isna(row["due"]) else row["due"].date(),
        units=units,
    )


def _days(day: date, due: date | None, x: alt.X) -> list[alt.Chart]:
    """Return the upright lines: agreed on, and due."""
    marks = [(day, words.AGREED, [1, 0])]
    if due is not None:
        marks.append((due, words.DUE, [4, 3]))
    layers = []
    for when, name, dash in marks:
        at = Chart(pd.DataFrame({"date": [pd.Timestamp(when)], "name": [name]}))
        layers.append(at.mark_rule(color=LIGHT.soft, strokeDash=dash).encode(x=x))
        layers.append(
            at.mark_text(align="right", baseline="top", dx=-5, color=LIGHT.soft).encode(
                x=x, y=alt.value(2), text="name:N"
            )
        )
    return layers


def _target(target: float, unit: str, scale: float, say: Say) -> list[alt.Chart]:
    if isnan(target):
        return []
    name = f"{words.TARGET} {value(target, unit, say)}"
    at = Chart(pd.DataFrame({"goal": [target * scale], "name": [name]}))
    level = alt.Y("goal:Q")
    return [
        at.mark_rule(color=LIGHT.loss, strokeWidth=1.6, strokeDash=[6, 3]).encode(y=level),
        at.mark_text(align="right", baseline="bottom", dx=-2, dy=-3, color=LIGHT.ink).encode(
            x=alt.value("width"), y=level, text="name:N"
        ),
    ]
