"""The chart of the main causes of all parts: what each gains or loses a round.

Takes a finished table and returns an Altair chart, as wide as the room it is given.
"""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import (
    LIGHT,
    WIDE,
    Chart,
    ended,
    layered,
    nought,
    numbered,
    signed_axis,
    signed_scale,
    two_lines,
)
from sgzone.report.charts.tips import tips
from sgzone.report.charts.where import side_colour
from sgzone.terms import CAUSE_WORDS, DEFAULT_LEVEL
from sgzone.words.digits import count, interval_words, number, thousands
from sgzone.words.say import Say
from sgzone.words.why import REST, main_causes

_ROW = 42
_VALUE = "gained_per_round"


@bounded
def main_causes_chart(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw the largest causes of the parts in strokes per round, all others in one bar.

    Lost to the left, gained to the right; each bar has its number, and a line for its range at
    ``level``. Parts as in the table of main causes, what loses most first. ``table``: as ``sg.why``
    returns it.
    """
    say = Say(units, level)
    rows = _named(main_causes(table), say)
    y = alt.Y("label:N", title=None, scale=alt.Scale(domain=list(rows["label"])), axis=two_lines())
    x = alt.X(
        f"{_VALUE}:Q",
        title=["← lost · gained →", "strokes per round"],  # the names leave little room
        scale=signed_scale(rows["end"]),
        axis=signed_axis(),
    )
    single, rest = (rows[rows["folded"] == 0], rows[rows["folded"] > 0])
    layers = [*_bars(single, x, y, _tips(say)), *_rest(rest, x, y), nought("x", LIGHT.ink)]
    known = single[single["low"].notna()].reset_index(drop=True)
    if len(known):
        ends = {"x": alt.X("low:Q"), "x2": alt.X2("high:Q")}
        line = Chart(known).mark_rule(color=LIGHT.ink, strokeWidth=1.5)
        layers.append(line.encode(**ends, y=y, tooltip=_tips(say)))
    for some, seen in ((single, _tips(say)), (rest, _rest_tips())):
        layers += numbered(some, _VALUE, y, seen)
    return layered(*layers).properties(width=WIDE, height=_ROW * max(len(rows), 1))


def _named(rows: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return the rows with the words and the number of each."""
    single = rows["folded"] == 0
    cause = rows["factor"].map(CAUSE_WORDS).where(single, REST)
    part = rows["part"].map(say.parts)
    under = [
        f"{name} ({thousands(int(shots))})" if one else f"{count(folded, 'smaller cause')}"
        for name, shots, one, folded in zip(
            part, rows["shots"], single, rows["folded"], strict=True
        )
    ]
    named = rows.assign(
        cause=cause,
        name=part.fillna(""),
        label=[f"{what}|{where}" for what, where in zip(cause, under, strict=True)],
        number=[number(value, 2, signed=True) for value in rows[_VALUE]],
        interval=interval_words(rows["low"], rows["high"], 2),
        under=under,
    )
    return ended(named, _VALUE, "low", "high")


def _bars(rows: pd.DataFrame, x: alt.X, y: alt.Y, seen: list[alt.Tooltip]) -> list[alt.Chart]:
    base = Chart(rows.reset_index(drop=True))
    return [base.mark_bar(height=14).encode(x=x, y=y, color=side_colour(), tooltip=seen)]


def _rest(rows: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    """Return the bar of all other causes, paler than the others; none where there are none."""
    if rows.empty:
        return []
    bar = Chart(rows.reset_index(drop=True)).mark_bar(
        height=14, color=LIGHT.faint, stroke=LIGHT.line
    )
    return [bar.encode(x=x, y=y, tooltip=_rest_tips())]


def _tips(say: Say) -> list[alt.Tooltip]:
    ranged = alt.Tooltip("interval:N", title=f"{say.sure} range a round")
    first = tips("causes", "name:part cause:factor gained_per_round", say)
    return [*first, ranged, *tips("causes", "shots", say)]


def _rest_tips() -> list[alt.Tooltip]:
    what = [alt.Tooltip("cause:N", title="cause"), alt.Tooltip("under:N", title="sum of")]
    return [*what, *tips("causes", _VALUE)]
