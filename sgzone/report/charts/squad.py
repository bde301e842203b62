"""A squad: players by parts in one grid, and one small chart a player on one scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import altair as alt
import pandas as pd

from sgzone.bounds import bounded
from sgzone.harmless import cut
from sgzone.report.charts.theme import LIGHT, WIDE, Chart, labels, layered, nought
from sgzone.report.charts.tips import tips
from sgzone.report.charts.where import side_colour
from sgzone.review.where.summary import TOTAL
from sgzone.stats.verdict import side_of
from sgzone.terms import DEFAULT_LEVEL, PART_NAMES
from sgzone.words.digits import interval_words, number
from sgzone.words.say import Say
from sgzone.words.squad import ALL, initials

_ROW = 20
_CELL = 36
_ROOM = "width > 480"
"""Where a cell has room for a range, and a head for words side by side: not on a phone."""
_LINE = 13  # pixels from one line of a head to the next
_NAME_ROOM = 18  # columns of a player's name
_SHORT_NAME = 5  # letters that a phone has room for
_LEAST_REACH = 0.2  # strokes a round: smaller values are pale, whoever has the largest
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
        axis=alt.Axis(ticks=False, labelFontSize=10, labelLimit=0),
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
    base = Chart(rows)
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


@bounded
def squad_grid(
    table: pd.DataFrame,
    *,
    links: Mapping[str, str] | None = None,
    level: float = DEFAULT_LEVEL,
    units: str = "yards",
) -> alt.LayerChart:
    """Draw a squad's best estimates, strokes gained a round, by player (down) and part (across).

    Parts and players stand in the order of the game and of the table. A cell whose range
    leaves out 0 is coloured, the deeper the more it loses or gains beside the squad's other cells;
    one whose range crosses 0 is pale; one with too few shots is blank. The column of all strokes
    has a scale of its own.

    ``table``: as ``sg.summarise`` by player, part and ``total`` (which may be missing). ``links``:
    player -> the place that a cell of that player leads to, such as ``#player_1``.
    """
    rows = _cells(table[table["shots"] > 0], links or {}, Say(units))
    players = list(dict.fromkeys(rows["player"]))
    heads = list(dict.fromkeys(rows.sort_values("place")["head"]))
    encoded = _places(heads, players)
    if links:
        encoded["href"] = alt.Href("link:N")
    base = Chart(rows).encode(
        **encoded,
        tooltip=tips(
            "squad",
            "player name:part shrunk_per_round best_range:shrunk_low_per_round gained_per_round "
            "verdict shots rounds",
            Say(units, level),
        ),
    )
    return layered(*_marks(base, len(players))).properties(width=WIDE, height=_CELL * len(players))


def _cells(table: pd.DataFrame, links: Mapping[str, str], say: Say) -> pd.DataFrame:
    """Return what each cell shows: its number, its range, and how deep its colour is."""
    places = {part: place for place, part in enumerate((*PART_NAMES, TOTAL))}
    rows = table[table["part"].isin(places)]
    words = {**say.parts, TOTAL: ALL}
    known = rows[_LOW].notna() & rows[_HIGH].notna()
    apart = known & ((rows[_LOW] > 0) | (rows[_HIGH] < 0))
    best = rows[_BEST].where(known)
    reach = best.abs().groupby(rows["part"] == TOTAL).transform("max").clip(lower=_LEAST_REACH)
    return rows.assign(
        name=rows["part"].map(words),
        head=[_head(words[part]) for part in rows["part"]],
        place=rows["part"].map(places),
        depth=(best / reach).where(apart, 0.0).where(known),
        apart=apart,
        said=[number(v, 2, signed=True) if v == v else "" for v in best],
        range=[
            f"{number(a, 2, signed=True)} to {number(b, 2, signed=True)}" if a == a else ""
            for a, b in zip(rows[_LOW].where(known), rows[_HIGH], strict=True)
        ],
        best_range=interval_words(rows[_LOW], rows[_HIGH], 2),
        link=rows["player"].map(links),
    ).reset_index(drop=True)


def _head(words: str) -> str:
    """Return a part's words on two lines, the lower one always filled."""
    first, _, rest = words.partition(" ")
    return f"{first}|{rest}" if rest else f"|{first}"


def _places(heads: Sequence[str], players: Sequence[str]) -> dict[str, Any]:
    """Return where a cell stands; on a phone heads stand on end and long names are initials."""
    x = alt.X(
        "head:N",
        title=None,
        scale=alt.Scale(domain=list(heads)),
        axis=alt.Axis(
            orient="top",
            ticks=False,
            labelColor=LIGHT.ink,
            labelFontSize=11,
            labelLimit=0,
            labelExpr=f"{_ROOM} ? split(datum.label, '|') : trim(replace(datum.label, '|', ' '))",
            labelLineHeight=_LINE,
            labelPadding=alt.ExprRef(f"{_ROOM} ? {_LINE + 4} : 5"),
            labelAngle=alt.ExprRef(f"{_ROOM} ? 0 : -90"),
            labelAlign=alt.ExprRef(f"{_ROOM} ? 'center' : 'left'"),
            labelBaseline=alt.ExprRef(f"{_ROOM} ? 'bottom' : 'middle'"),
            labelOverlap=False,
        ),
    )
    y = alt.Y(
        "player:N",
        title=None,
        scale=alt.Scale(domain=list(players)),
        axis=alt.Axis(orient="left", ticks=False, labelColor=LIGHT.ink, **_named(players)),
    )
    return {"x": x, "y": y}


def _named(players: Sequence[str]) -> dict[str, Any]:
    """Return what an axis shows of players: names, cut where they are long, or their initials."""
    long = labels({name: cut(name, _NAME_ROOM, "…") for name in players})
    if max(map(len, players), default=0) <= _SHORT_NAME:
        return long
    short = labels(dict(zip(players, initials(players), strict=True)))
    wide, narrow = (shown.get("labelExpr", "datum.label") for shown in (long, short))
    return {**long, "labelExpr": f"{_ROOM} ? {wide} : {narrow}"}


def _marks(base: alt.Chart, players: int) -> list[alt.Chart]:
    """Return the cells, the numbers and, where there is room, the ranges under them.

    Rows are lower on paper, and the two lines of a cell move together with them.
    """
    row = f"height / {max(players, 1)}"
    square: dict[str, Any] = {"stroke": LIGHT.paper, "strokeWidth": 2}
    tints = alt.Scale(
        domain=[-1, 0, 1],
        range=[LIGHT.loss_tint, LIGHT.even_tint, LIGHT.gain_tint],
        interpolate="lab",
    )
    known, apart = "isValid(datum.depth)", "datum.apart"
    full = base.transform_filter(known)
    size = alt.ExprRef(f"{_ROOM} ? min(12, 0.45 * {row}) : 9.5")
    raised = alt.ExprRef(f"{_ROOM} ? -0.17 * {row} : 0")
    calm: dict[str, Any] = {"color": LIGHT.soft}
    strong: dict[str, Any] = {"color": LIGHT.ink, "fontWeight": 600}
    return [
        base.transform_filter(f"!{known}").mark_rect(color=LIGHT.faint, **square),
        full.mark_rect(**square).encode(color=alt.Color("depth:Q", scale=tints, legend=None)),
        *(
            full.transform_filter(which)
            .mark_text(fontSize=size, dy=raised, **look)
            .encode(text=alt.Text("said:N"))
            for which, look in ((f"!{apart}", calm), (apart, strong))
        ),
        full.mark_text(
            fontSize=alt.ExprRef(f"min(9.5, width / 75, 0.34 * {row})"),
            dy=alt.ExprRef(f"0.22 * {row}"),
            opacity=alt.ExprRef(f"{_ROOM} ? 1 : 0"),
        ).encode(
            text=alt.Text("range:N"),
            color=alt.condition(apart, alt.value(LIGHT.ink), alt.value(LIGHT.soft)),
        ),
    ]
