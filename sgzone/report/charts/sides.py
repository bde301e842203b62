"""Two seasons or two benchmarks, part by part, in pairs."""

from __future__ import annotations

from typing import Any

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, layered, nought
from sgzone.report.charts.tips import tips
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words.digits import interval_words
from sgzone.words.say import Say

_ROW = 44


@bounded
def pairs_chart(
    table: pd.DataFrame,
    names: tuple[str, str],
    *,
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
) -> alt.LayerChart:
    """Draw gained per round by part in pairs: a dot and a ring, each with its interval.

    ``table``: as ``sg.tables.beside`` or ``sg.tables.before_after``, of which ``total`` is left
    out; ``names``: what dot and ring are.
    """
    words = Say(units).parts
    table = table[table["part"].isin(words)]
    sides = []
    for end, name in zip(("", "_other"), names, strict=True):
        sides.append(
            pd.DataFrame(
                {
                    "name": table["part"].map(words),
                    "side": name,
                    "gained": table[f"gained_per_round{end}"],
                    "low": table[f"low_per_round{end}"],
                    "high": table[f"high_per_round{end}"],
                    "shots": table[f"shots{end}"],
                    "rounds": table[f"rounds{end}"],
                }
            )
        )
    rows = pd.concat(sides, ignore_index=True)
    rows = rows[rows["gained"].notna()].reset_index(drop=True)
    rows["interval"] = interval_words(rows["low"], rows["high"], 2)
    order = [words[part] for part in table["part"]]
    y = alt.Y("name:N", sort=order, title=None, axis=alt.Axis(ticks=False, labelLimit=0))
    offset = alt.YOffset("side:N", sort=list(names))
    title = "← lost · strokes per round · gained →"
    x = alt.X("gained:Q", title=title, axis=alt.Axis(tickCount=6))
    scale = alt.Scale(domain=list(names), range=[LIGHT.gain, LIGHT.loss])
    colour = alt.Color("side:N", scale=scale, legend=None)
    seen = tips(
        "summary",
        "name:part gained:gained_per_round interval:low_per_round shots rounds",
        Say(units, level),
    )
    seen.insert(1, alt.Tooltip("side:N", title="of"))
    base = Chart(rows).encode(y=y, yOffset=offset, color=colour, tooltip=seen)
    sure = base.transform_filter("isValid(datum.low)").mark_rule(strokeWidth=1.5)
    first = base.transform_filter(alt.datum.side == names[0])
    second = base.transform_filter(alt.datum.side == names[1])
    ring: dict[str, Any] = {"size": 60, "strokeWidth": 2}
    layers = [
        nought("x"),
        *(
            [sure.encode(x=alt.X("low:Q"), x2=alt.X2("high:Q"))]
            if rows["low"].notna().any()
            else []
        ),
        first.mark_point(filled=True, size=60, opacity=1).encode(x=x),
        second.mark_point(fill=LIGHT.paper, filled=False, opacity=1, **ring).encode(x=x),
    ]
    return layered(*layers).properties(width=WIDE, height=_ROW * len(order))
