"""The chart of one round, hole by hole."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered, nought
from sgzone.report.charts.tips import tips
from sgzone.stats.verdict import GAIN, LOSS
from sgzone.terms import PARTS
from sgzone.words.rounds import strip as words
from sgzone.words.say import Say

_HEIGHT = 250
_PALE = (1.0, 0.5, 0.12)
"""How full the bars of each group of parts are; their outline is always full."""
_SIGNED = "datum.value === 0 ? '0' : format(datum.value, '+.2~f')"
_ROOM = 0.3
"""Of the height, under the bars: for the mark of the worst stroke and its number."""
_LEAST = 0.5  # strokes that the axis reaches at least, both ways together
_UNDER = 10  # pixels from the end of a hole's bar to the mark of the worst stroke


def round_strip(
    holes: pd.DataFrame, worst: pd.DataFrame | None = None, *, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes gained on each hole of a round, stacked by part, with the hole's sum as a dot.

    ``holes``: as ``sg.debrief(...).holes``; ``worst``: as its ``worst``, whose first stroke is
    marked. Bars above 0 gain and bars below lose; a hole without a stroke in the zone is empty.
    """
    say, order = Say(units), [str(hole) for hole in sorted(set(holes["hole"]))]
    x = alt.X("hole:N", sort=order, title="hole", axis=alt.Axis(labelAngle=0, tickSize=0))
    x = x.scale(alt.Scale(domain=order))
    rows = _stacked(holes, say)
    seen = tips("round_holes", "hole name:part shots gained hole_gained", say)
    y = alt.Y(
        "top:Q",
        title="← lost · strokes · gained →",
        axis=alt.Axis(labelExpr=_SIGNED, tickCount=6),
        scale=alt.Scale(domain=_reach(rows), nice=False),
    )
    sides = alt.Scale(domain=[LOSS, GAIN], range=[LIGHT.loss, LIGHT.gain])
    bars = (
        Chart(rows)
        .mark_bar(strokeWidth=1)
        .encode(
            x=x,
            y=y,
            y2=alt.Y2("bottom:Q"),
            fill=alt.Fill("side:N", scale=sides, legend=None),
            stroke=alt.Stroke("side:N", scale=sides, legend=None),
            fillOpacity=alt.FillOpacity("pale:Q", scale=None, legend=None),
            tooltip=seen,
        )
    )
    dots = (
        Chart(rows.drop_duplicates("hole")[["hole", "hole_gained"]])
        .mark_point(color=LIGHT.ink, filled=True, size=34, opacity=1)
        .encode(x=x, y=alt.Y("hole_gained:Q"), tooltip=tips("round_holes", "hole hole_gained"))
    )
    marks = [] if worst is None or worst.empty else _worst(rows, worst, x)
    return layered(bars, nought("y", LIGHT.ink), dots, *marks).properties(
        width=WIDE, height=_HEIGHT
    )


def _stacked(holes: pd.DataFrame, say: Say) -> pd.DataFrame:
    """Return each part of each hole with the ends of its bar, losses down and gains up from 0."""
    rows = holes[holes["gained"].notna()].reset_index(drop=True)
    places = {part.name: place for place, part in enumerate(PARTS)}
    rows = rows.assign(
        place=rows["part"].map(places),
        side=(rows["gained"] > 0).map({True: GAIN, False: LOSS}),
    )
    rows = rows.sort_values(["hole", "place"], kind="stable", ignore_index=True)
    top = rows.groupby(["hole", "side"])["gained"].cumsum()
    return pd.DataFrame(
        {
            "hole": rows["hole"].astype(str),
            "name": rows["part"].map(say.parts),
            "shots": rows["shots"],
            "gained": rows["gained"],
            "hole_gained": rows.groupby("hole")["gained"].transform("sum"),
            "side": rows["side"],
            "top": top,
            "bottom": top - rows["gained"],
            "pale": rows["part"].astype(str).map(words.group_of).map(dict(enumerate(_PALE))),
        }
    )


def _reach(rows: pd.DataFrame) -> list[float]:
    """Return the ends of the axis: a little beyond the bars, and under them room for a mark."""
    low, high = min(0.0, rows["top"].min()), max(0.0, rows["top"].max())
    span = max(high - low, _LEAST)
    return [float(low - _ROOM * span), float(high + span / 25)]


def _worst(rows: pd.DataFrame, worst: pd.DataFrame, x: alt.X) -> list[alt.Chart]:
    """Return the mark of the worst stroke, under its hole, with what it lost."""
    first = worst.iloc[0]
    hole = str(first["hole"])
    low = min(0.0, float(rows.loc[rows["hole"] == hole, "top"].min()))
    at = pd.DataFrame({"hole": [hole], "low": [low], "text": [words.lost(first["gained"])]})
    base = Chart(at).encode(x=x, y=alt.Y("low:Q"))
    mark = base.mark_point(
        shape="triangle-up", filled=True, size=60, color=LIGHT.ink, opacity=1, yOffset=_UNDER
    )
    text = base.mark_text(yOffset=_UNDER + 13, fontWeight=600).encode(text="text:N")
    return [mark, text]
