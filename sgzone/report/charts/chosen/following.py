"""Charts that follow what a reader of the page chose: their dots do, and what was worked out goes.

A median, a range or a ring is of all strokes; beside dots of some of them it would be wrong, and
nothing is worked out anew on the page. A parameter of the chart, ``choice``, says whether a choice
is on; the page's script sets it.
"""

from __future__ import annotations

from urllib.parse import urlencode

import altair as alt
import pandas as pd

from sgzone.report.charts.theme import Chart

_NAME = "choice"


def opened(cells: pd.DataFrame) -> list[str]:
    """Return which strokes each cell of columns ``lie`` and ``band`` is made of, for the page."""
    pairs = zip(cells["lie"].astype(str), cells["band"].astype(str), strict=True)
    return [urlencode({"lie": lie, "band": band}) for lie, band in pairs]


def choice() -> alt.Parameter:
    """Return the parameter that the page's script sets while a choice is on."""
    return alt.param(name=_NAME, value=False)


def unless_chosen(chosen: str, usual: str) -> str:
    """Return an expression of Vega's that is ``chosen`` while a choice is on, else ``usual``."""
    return f"{_NAME} ? {chosen} : {usual}"


def seen_unless_chosen(opacity: float, *, follows: bool = True) -> float | alt.ExprRef:
    """Return the opacity of what is of all strokes: nothing of it is seen while a choice is on."""
    return alt.ExprRef(unless_chosen("0", f"{opacity:g}")) if follows else opacity


def numbered_strokes(rows: pd.DataFrame) -> alt.Chart:
    """Return a chart of strokes whose marks know their number, where the rows have ``stroke``."""
    chart = Chart(rows)
    return chart.encode(key=alt.Key("stroke:Q")) if "stroke" in rows else chart
