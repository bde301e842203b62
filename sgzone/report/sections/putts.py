"""The figure of putts holed by distance, beside what the benchmark holes."""

from __future__ import annotations

import pandas as pd

from sgzone.report.asked import Asked
from sgzone.report.charts.putts import putting_curve_chart
from sgzone.report.page import Figure, Panel
from sgzone.words import why as words
from sgzone.words.digits import interval_cells
from sgzone.words.season import benchmark_words
from sgzone.words.tables import table_of


def putting_figures(asked: Asked) -> tuple[Figure, ...]:
    """Return the chart of putts holed; none where the benchmark has no table of them.

    Not on paper: the coach's three sheets are full.
    """
    say, (curve, own) = asked.say, asked.putting
    points = beside(own)
    if points.empty:
        return ()
    curves = curve.assign(who=benchmark_words(asked.curve.name))
    chart = putting_curve_chart(curves, points, level=say.level, units=say.units)
    title = words.putting_title(int(points["putts"].sum()), say)
    panel = Panel("why-putts", chart, words.putting_alt(points, say), title)
    rows = points.assign(basis=points["basis"].replace(words.READ_WHERE))
    table = table_of(rows, "putts", say, words.PUTTS_HOLED)
    return (Figure((panel,), words.read_putting(say), table, on_paper=False),)


def beside(points: pd.DataFrame) -> pd.DataFrame:
    """Return the points with their ranges written out; ``points``: as ``putts_beside`` has them."""
    if points.empty:
        return points
    low, high = (points[end] * 100 for end in ("low", "high"))
    rows = points.rename(columns={"status": "basis"})
    return rows.assign(interval=interval_cells(low, high, signed=False))
