"""A squad's small charts: one a player, all on one scale."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, layered, nought
from sgzone.report.charts.tips import tips
from sgzone.report.charts.where import side_colour
from sgzone.stats.verdict import side_of
from sgzone.terms import DEFAULT_LEVEL, PART_NAMES
from sgzone.words.digits import interval_words
from sgzone.words.say import Say

_ROW = 20
_BEST, _LOW, _HIGH = "shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round"


def squad_reach(table: pd.DataFrame) -> float:
    """Return how far from zero a scale for all players of a squad must go, strokes per round."""
    ends = table[["gained_per_round", _LOW, _HIGH]].abs().max().max()
    return float(ends) if ends == ends and ends > 0 else 1.0


@bounded
def small_bars(
    parts: pd.DataFrame, reach: float, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw one player's strokes gained per round by part, parts in their own order.

    Bars as played; dot and line: the best estimate and its range, as in ``by_part``.

    ``parts``: the player's rows of ``review.where.summary.summarise`` by part. ``reach``: the end
    of the scale on both sides (``squad_reach``).
    """
    words = Say(units).parts
    rows = parts.assign(
        name=parts["part"].map(words),
        side=parts["verdict"].map(side_of),
        best_range=interval_words(parts[_LOW], parts[_HIGH], 2),
    ).reset_index(drop=True)
    order = [words[name] for name in PART_NAMES]
    y = alt.Y(
        "name:N",
        title=None,
        scale=alt.Scale(domain=order),
        axis=alt.Axis(ticks=False, labelFontSize=10, labelLimit=150),
    )
    scale = alt.Scale(domain=[-reach, reach], nice=False)
    x = alt.X(
        "gained_per_round:Q",
        title="strokes per round",
        scale=scale,
        axis=alt.Axis(tickCount=4, labelFontSize=10, titleFontSize=10),
    )
    seen = tips(
        "summary",
        "name:part gained_per_round shrunk_per_round best_range:shrunk_low_per_round verdict shots "
        "rounds",
        Say(units, level),
    )
    base = alt.Chart(rows)
    bars = base.mark_bar(height=10).encode(x=x, y=y, color=side_colour(), tooltip=seen)
    layers = [bars, nought("x", LIGHT.ink)]
    if rows[_LOW].notna().any():
        known = base.transform_filter(f"isValid(datum.{_LOW})")
        sure = known.mark_rule(color=LIGHT.ink, strokeWidth=1)
        ends = {"x": alt.X(f"{_LOW}:Q"), "x2": alt.X2(f"{_HIGH}:Q")}
        layers.append(sure.encode(**ends, y=y, tooltip=seen))
        dot = known.mark_point(color=LIGHT.ink, filled=True, size=25, opacity=1)
        layers.append(dot.encode(x=alt.X(f"{_BEST}:Q"), y=y, tooltip=seen))
    return layered(*layers).properties(width=WIDE, height=_ROW * len(order))
