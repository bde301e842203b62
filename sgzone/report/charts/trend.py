"""The season over time: rounds, a smoothed line and its band."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import LIGHT, WIDE, layered, nought
from sgzone.report.charts.tips import tips

_HEIGHT = 260


def season_curve(rows: pd.DataFrame) -> alt.LayerChart:
    """Draw strokes gained per round over the dates, with the smoothed curve and its band.

    ``rows``: one part of ``review.trend.trend`` (date, round, holes, shots, gained_per_round,
    smoothed, low, high).
    """
    data = rows.assign(date=pd.to_datetime(rows["date"])).reset_index(drop=True)
    x = alt.X("date:T", title=None, axis=alt.Axis(format="%-d %b", tickCount=6))
    title = "gained per round, strokes"
    seen = tips("trend", "date gained_per_round smoothed holes shots")
    base = alt.Chart(data)
    band = base.mark_area(color=LIGHT.line, opacity=0.55).encode(
        x=x, y=alt.Y("low:Q", title=title), y2=alt.Y2("high:Q")
    )
    points = base.mark_point(color=LIGHT.gain, filled=True, size=28, opacity=0.75).encode(
        x=x, y=alt.Y("gained_per_round:Q", title=title), tooltip=seen
    )
    line = base.mark_line(color=LIGHT.ink, strokeWidth=1.8).encode(x=x, y=alt.Y("smoothed:Q"))
    return layered(band, nought("y"), points, line).properties(width=WIDE, height=_HEIGHT)
