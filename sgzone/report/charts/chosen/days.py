"""The season's chart as a control: a brush along it chooses days.

A parameter of the chart, ``days``, holds what is brushed; the page's script reads and sets it.
"""

from __future__ import annotations

import altair as alt

from sgzone.report.charts.theme import LIGHT

_NAME = "days"


def brushed(chart: alt.LayerChart) -> alt.LayerChart:
    """Return a chart over days with a brush along them; nothing is brushed at first.

    The wheel stays the page's: over a brush it would otherwise change the days.
    """
    found = chart.copy()
    found.layer[0].name = f"{_NAME}_line"  # or it has another one each time
    look = alt.BrushConfig(fill=LIGHT.gain, fillOpacity=0.15, stroke=LIGHT.gain)
    brush = alt.selection_interval(name=_NAME, encodings=["x"], zoom=False, mark=look)
    return found.add_params(brush)
