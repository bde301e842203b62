"""Two ways of playing side by side: how near the hole their shots finish, and the difference."""

from __future__ import annotations

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.harmless import cut
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, labels, layered, told_apart
from sgzone.report.charts.tips import tips
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words.say import Say
from sgzone.words.sides import told_verdicts

_HEIGHT = 260
_ROW = 30
_ROOM = 52  # columns of the names of two groups, or of one


def comparison(
    shares: pd.DataFrame, break_even_ft: float, *, units: str = "yards"
) -> alt.LayerChart:
    """Draw the share of each group's shots that finish within so many feet of the hole.

    ``shares``: as ``sg.tables.finish_shares``, two groups. ``break_even_ft``: from where a shot
    gained nothing, the dashed line; NaN leaves it out. ``units``: yards (feet on the axis) or
    metric.
    """
    say = Say(units)
    unit, factor = say.unit("ft"), say.factor("ft")
    groups = list(dict.fromkeys(shares["group"]))
    count = shares.groupby("group")["shots"].first()
    rows = shares.assign(
        name=[f"{g} ({count[g]} shots)" for g in shares["group"]],
        finish_ft=shares["finish_ft"] * factor,
    )
    names = [f"{group} ({count[group]} shots)" for group in groups]
    short = [f"{cut(group, _ROOM, '…')} ({count[group]} shots)" for group in groups]
    shown = dict(zip(names, short, strict=True))
    legend = alt.Legend(symbolType="stroke", symbolSize=500, **labels(shown))
    x = alt.X("finish_ft:Q", title=f"within this distance of the hole, {unit}")
    y = alt.Y(
        "share:Q",
        title="share of shots",
        axis=alt.Axis(format=".0%", tickCount=5),
        scale=alt.Scale(domain=[0, 1]),
    )
    lines = (
        Chart(rows)
        .mark_line(interpolate="step-after", strokeWidth=2)
        .encode(
            x=x,
            y=y,
            **told_apart(
                "name",
                dict(zip(names, (LIGHT.gain, LIGHT.loss), strict=True)),
                strokeDash=[[1, 0], [6, 3]],
                legend=legend,
            ),
            tooltip=[
                alt.Tooltip("name:N", title="group"),
                alt.Tooltip("finish_ft:Q", format=".1f", title=f"within, {unit}"),
                alt.Tooltip("share:Q", format=".0%", title="share of shots"),
            ],
        )
    )
    line = pd.DataFrame({"finish_ft": [break_even_ft * factor], "label": ["break-even"]}).dropna()
    rule = Chart(line).mark_rule(color=LIGHT.soft, strokeDash=[3, 3]).encode(x=x)
    word = (
        Chart(line)
        .mark_text(align="left", dx=5, baseline="bottom", color=LIGHT.soft)
        .encode(x=x, y=alt.value(_HEIGHT - 6), text=alt.Text("label:N"))
    )
    return layered(rule, lines, word).properties(width=WIDE, height=_HEIGHT)


@bounded
def differences(table: pd.DataFrame, *, level: float = DEFAULT_LEVEL) -> alt.LayerChart:
    """Draw each pair's difference, strokes per shot, raw with its interval and adjusted.

    ``table``: as ``sg.compare``. Right of 0 the second of the pair is better.
    """
    pair = table["second"] + " against " + table["first"]
    shots = table["shots_second"].astype(str) + " and " + table["shots_first"].astype(str)
    verdicts = pd.Series(told_verdicts(table), table.index, dtype=str)
    rest = "|" + verdicts + ", " + shots + " shots"
    rows = table.assign(pair=pair + rest).reset_index(drop=True)
    short = [cut(one, _ROOM, "…") + more for one, more in zip(pair, rest, strict=True)]
    axis = alt.Axis(ticks=False, **labels(dict(zip(rows["pair"], short, strict=True)), lines=True))
    y = alt.Y(
        "pair:N",
        sort=None,
        title=None,
        axis=axis,
    )
    x = alt.X(
        "difference:Q",
        title="second less first, strokes per shot",
        axis=alt.Axis(format="+.2f", tickCount=6),
    )
    seen = tips(
        "compare", "difference low high adjusted p_better shots_to_settle", Say(level=level)
    )
    base = Chart(rows)
    zero = base.mark_rule(color=LIGHT.line).encode(x=alt.XDatum(0))
    reach = base.mark_rule(color=LIGHT.ink, strokeWidth=1.5).encode(
        x=alt.X("low:Q"), x2=alt.X2("high:Q"), y=y, tooltip=seen
    )
    raw = base.mark_point(color=LIGHT.ink, size=50, filled=False).encode(x=x, y=y, tooltip=seen)
    pulled = base.mark_point(color=LIGHT.gain, size=60, filled=True, shape="diamond").encode(
        x=alt.X("adjusted:Q"), y=y, tooltip=seen
    )
    return layered(zero, reach, raw, pulled).properties(width=WIDE, height=alt.Step(_ROW + 10))
