"""The chart of strokes gained by part.

Each takes finished tables and returns an Altair chart, as wide as the room it is given.
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
from sgzone.stats.verdict import GAIN, LOSS, OPEN, side_of
from sgzone.terms import (
    DEFAULT_LEVEL,
    NOT_ENOUGH,
    PART_WORDS,
)
from sgzone.words.digits import daggered, interval_words, number, thousands
from sgzone.words.say import Say

_ROW = 46
_BEST, _LOW, _HIGH = "shrunk_per_round", "shrunk_low_per_round", "shrunk_high_per_round"


@bounded
def by_part(
    table: pd.DataFrame, *, level: float = DEFAULT_LEVEL, units: str = "yards"
) -> alt.LayerChart:
    """Draw strokes gained per round by part: as played and the best estimate with its range.

    The bar is as played, with its number at its end, and adds up; dot and line are the best
    estimate, of which the verdict beside them speaks. ``table``: as ``sg.summarise`` by part
    returns it, in the order to be drawn; rows of other keys (``total``) are left out. Cells with
    too few shots have a pale bar alone.
    """
    rows = table[table["part"].isin(PART_WORDS)]
    names = rows["part"].map(Say(units).parts)
    titles = [daggered(n, b) for n, b in zip(names, basis_of(rows), strict=True)]
    seconds = [_second_line(v, n) for v, n in zip(rows["verdict"], rows["shots"], strict=True)]
    rows = rows.assign(
        label=[f"{first}|{second}" for first, second in zip(titles, seconds, strict=True)],
        name=names,
        side=rows["verdict"].map(side_of),
        best_range=interval_words(rows[_LOW], rows[_HIGH], 2),
        played_range=interval_words(rows["low_per_round"], rows["high_per_round"], 2),
        number=[number(value, 2, signed=True) for value in rows["gained_per_round"]],
    ).reset_index(drop=True)
    rows = ended(rows, "gained_per_round", _LOW, _HIGH)
    y = alt.Y(
        "label:N",
        sort=None,
        title=None,
        axis=two_lines(),
    )
    x = alt.X(
        "gained_per_round:Q",
        title="← lost · strokes per round · gained →",
        scale=signed_scale(rows["end"]),
        axis=signed_axis(),
    )
    seen = tips(
        "summary",
        "name:part gained_per_round played_range:low_per_round shrunk_per_round "
        "best_range:shrunk_low_per_round verdict shots rounds",
        Say(units, level),
    )
    chosen = Chart(rows).transform_calculate(opens="'part=' + datum.part")
    base = chosen.encode(key=alt.Key("opens:N"))
    bars = base.mark_bar(height=15).encode(x=x, y=y, color=side_colour(), tooltip=seen)
    best = _best(base, y, seen) if rows[_LOW].notna().any() else []
    numbers = numbered(rows, "gained_per_round", y, seen)
    chart = layered(bars, nought("x", LIGHT.ink), *best, *numbers)
    return chart.properties(width=WIDE, height=_ROW * len(rows))


def _best(base: alt.Chart, y: alt.Y, seen: list[alt.Tooltip]) -> list[alt.Chart]:
    """Return the best estimate as a dot on the line of its range, for the rows that have one."""
    some = base.transform_filter(f"isValid(datum.{_LOW})")
    ends = {"x": alt.X(f"{_LOW}:Q"), "x2": alt.X2(f"{_HIGH}:Q")}
    line = some.mark_rule(color=LIGHT.ink, strokeWidth=1.5).encode(**ends, y=y, tooltip=seen)
    dot = some.mark_point(color=LIGHT.ink, filled=True, size=45, opacity=1).encode(
        x=alt.X(f"{_BEST}:Q"), y=y, tooltip=seen
    )
    return [line, dot]


def _second_line(verdict: str, shots: int) -> str:
    if verdict == NOT_ENOUGH:
        return f"{NOT_ENOUGH} ({shots})"
    return f"{verdict}, {thousands(shots)} shots"


def side_colour() -> alt.Color:
    """Return the colour of the side that a verdict speaks for (column ``side``)."""
    sides = [LOSS, GAIN, OPEN]
    scale = alt.Scale(domain=sides, range=[LIGHT.loss, LIGHT.gain, LIGHT.line])
    return alt.Color("side:N", scale=scale, legend=None)


def basis_of(rows: pd.DataFrame) -> pd.Series:
    """Return what each row's benchmark value rests on; empty words where nobody says."""
    return rows["basis"] if "basis" in rows else pd.Series("", index=rows.index)
