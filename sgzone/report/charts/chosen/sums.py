"""The chart of strokes as they were played, without a verdict: what a reader of the page chose."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, NUMBER_ROOM, NUMBER_SIZE, WIDE, Chart, layered, nought
from sgzone.words.digits import number
from sgzone.words.say import Say

_ROW = 30


def as_played(table: pd.DataFrame, *, units: str = "yards") -> alt.LayerChart:
    """Draw strokes gained per round by part as played: a grey bar each, its number at its end.

    ``table``: as ``review.where.summary.summarise`` by part. The page draws it anew for the
    strokes that its reader chose; grey, as no side is shown by a plain sum.
    """
    rows = pd.DataFrame(
        {
            "name": table["part"].map(Say(units).parts),
            "gained_per_round": table["gained_per_round"],
            "number": [number(v, 2, signed=True) for v in table["gained_per_round"]],
        }
    ).reset_index(drop=True)
    order = alt.EncodingSortField("gained_per_round", op="min")
    y = alt.Y("name:N", sort=order, title=None, axis=alt.Axis(ticks=False, labelLimit=0))
    x = alt.X(
        "gained_per_round:Q",
        title="← lost · strokes per round · gained →",
        scale=alt.Scale(padding=NUMBER_ROOM, nice=False),
        axis=alt.Axis(tickCount=5, labelFlush=False, labelOverlap=True, labelSeparation=6),
    )
    base = Chart(rows)
    lost = "datum.gained_per_round < 0"
    bars = base.mark_bar(height=15, color=LIGHT.line).encode(x=x, y=y)
    numbers = base.mark_text(
        align=alt.ExprRef(f"{lost} ? 'right' : 'left'"),
        dx=alt.ExprRef(f"{lost} ? -6 : 6"),
        fontSize=NUMBER_SIZE,
        color=LIGHT.ink,
    ).encode(x=x, y=y, text=alt.Text("number:N"))
    chart = layered(bars, nought("x", LIGHT.ink), numbers)
    return chart.properties(width=WIDE, height=_ROW * max(len(rows), 1))
