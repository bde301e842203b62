"""Every chart: each takes the table of a public question, and returns an Altair chart.

>>> import sgzone as sg
>>> parts = sg.summarise(sg.simulate_season(rounds=4).card)
>>> sg.charts.by_part(parts).to_dict()["width"]
'container'
"""

from __future__ import annotations

import re as _re
from collections.abc import Callable as _Callable
from functools import wraps as _wraps
from inspect import signature as _signature
from typing import ParamSpec as _ParamSpec
from typing import TypeVar as _TypeVar

import altair as _alt
import pandas as _pd

from sgzone.bounds import bounded as _bounded
from sgzone.clubs.green import Green as _Green
from sgzone.clubs.green import green_of as _green_of
from sgzone.clubs.picture import picture as _picture
from sgzone.errors import CallError as _CallError
from sgzone.public.dtypes import plain as _plain
from sgzone.report import charts as _charts
from sgzone.report.charts.squad import squad_reach as _squad_reach
from sgzone.report.charts.theme import independent as _independent
from sgzone.review.where.plays_like import named_standards as _named_standards
from sgzone.terms import DEFAULT_LEVEL as _LEVEL

_P = _ParamSpec("_P")
_R = _TypeVar("_R")
_GIVEN_BY = _re.compile(r"``(sg\.[a-z_.]+[a-z](?:\(\.\.\.\)\.\w+)?)")
"""What a docstring says gives the tables of a chart."""


def _from_public(chart: _Callable[_P, _R]) -> _Callable[_P, _R]:
    """Return the chart that draws tables with the types of public ones, and says what it draws."""
    takes = _signature(chart)
    tables = [name for name, one in takes.parameters.items() if "DataFrame" in str(one.annotation)]
    wanted = ", ".join(dict.fromkeys(_GIVEN_BY.findall(chart.__doc__ or "")))
    draws = f"{chart.__name__} draws tables of {wanted}"

    @_wraps(chart)
    def drawn(*given: _P.args, **named: _P.kwargs) -> _R:
        arguments = takes.bind(*given, **named).arguments
        for name in tables:
            nothing = takes.parameters[name].default
            table = arguments.get(name, nothing)
            if not (isinstance(table, _pd.DataFrame) or table is nothing):
                kind = type(table).__name__
                raise _CallError(f"{draws}; {name}= is a {kind}, no pandas frame.")
        try:
            made = chart(*map(_inside, given), **{k: _inside(v) for k, v in named.items()})  # type: ignore[arg-type]
        except KeyError as wrong:
            lacks = str(wrong.args[0])
            what = f"no column {lacks}" if lacks.isidentifier() else "other columns"
            raise _CallError(f"{draws}; the one given has {what}.") from wrong
        return _independent(made)  # type: ignore[no-any-return]

    drawn.__module__ = __name__
    return drawn


def _inside(given: object) -> object:
    return _plain(given) if isinstance(given, _pd.DataFrame) else given


agreed_curve = _from_public(_charts.agreed_curve)
benchmark_curves = _from_public(_charts.benchmark_curves)
block_chart = _from_public(_charts.block_chart)
by_part = _from_public(_charts.by_part)
cause_bars = _from_public(_charts.cause_bars)
comparison = _from_public(_charts.comparison)
differences = _from_public(_charts.differences)
grid = _from_public(_charts.grid)
hours_chart = _from_public(_charts.hours_chart)
main_causes_chart = _from_public(_charts.main_causes_chart)
miss_map = _from_public(_charts.miss_map)
number_curve = _from_public(_charts.number_curve)
pairs_chart = _from_public(_charts.pairs_chart)
proximity = _from_public(_charts.proximity)
proximity_panel = _from_public(_charts.proximity_panel)
putt_grid = _from_public(_charts.putt_grid)
putting_curve_chart = _from_public(_charts.putting_curve_chart)
return_curves = _from_public(_charts.return_curves)


@_from_public
@_bounded
def season_curve(
    rows: _pd.DataFrame, halves: _pd.DataFrame | None = None, *, level: float = _LEVEL
) -> _alt.LayerChart:
    """Draw strokes gained per round over the dates, and the mean of each half of the rounds.

    ``rows``: as ``sg.trend``, of one part or of all, of which ``total`` is drawn. ``halves``: as
    ``sg.tables.season_halves``; a rule stands between them, and each has its mean as a thick line
    on its range. The thin line is smoothed. Without ``halves``, or where they have no range, it has
    its band instead. Both tables at ``level``.
    """
    # parts in one picture would be a knot
    part = "total" if len(set(rows["part"])) > 1 else next(iter(rows["part"]), "total")
    both = None if halves is None else halves[halves["part"] == part]
    return _charts.season_curve(rows[rows["part"] == part], both, level=level)


round_strip = _from_public(_charts.round_strip)
squad_grid = _from_public(_charts.squad_grid)
stock_ladder = _from_public(_charts.stock_ladder)
wear_curve = _from_public(_charts.wear_curve)
why_chart = _from_public(_charts.why_chart)


@_from_public
@_bounded
def green_map(
    ways: _pd.DataFrame, yards: float, green: _Green | None = None, *, units: str = "yards"
) -> _alt.LayerChart:
    """Draw a number on its green, to scale: edge, hole, landing and finish of the best ways.

    ``ways``: as ``sg.plan_number`` for these ``yards`` and this ``green``.
    """
    seen = _picture(ways, yards, green or _green_of())
    return _charts.green_map(seen, units=units)


@_from_public
@_bounded
def small_bars(
    parts: _pd.DataFrame,
    reach: float | None = None,
    *,
    level: float = _LEVEL,
    units: str = "yards",
) -> _alt.LayerChart:
    """Draw one player's strokes gained per round by part, as small as a squad's page needs it.

    ``parts``: the player's rows of ``sg.summarise``. ``reach``: how far the scale goes to both
    sides, the same for all players of a page; None: as far as these rows need.
    """
    far = _squad_reach(parts) if reach is None else reach
    return _charts.small_bars(parts, far, level=level, units=units)


@_from_public
@_bounded
def standards(
    table: _pd.DataFrame,
    marks: _pd.DataFrame | None = None,
    *,
    level: float = _LEVEL,
    units: str = "yards",
) -> _alt.LayerChart:
    """Draw a row a part: its range of average score, with the named standards as upright lines.

    ``table``: as ``sg.plays_like``; parts without a range are left out.
    """
    lines = _named_standards() if marks is None else marks
    return _charts.standards(table, lines, level=level, units=units)


__all__ = [
    "agreed_curve",
    "benchmark_curves",
    "block_chart",
    "by_part",
    "cause_bars",
    "comparison",
    "differences",
    "green_map",
    "grid",
    "hours_chart",
    "main_causes_chart",
    "miss_map",
    "number_curve",
    "pairs_chart",
    "proximity",
    "proximity_panel",
    "putt_grid",
    "putting_curve_chart",
    "return_curves",
    "round_strip",
    "season_curve",
    "small_bars",
    "squad_grid",
    "standards",
    "stock_ladder",
    "wear_curve",
    "why_chart",
]


def __dir__() -> list[str]:
    return list(__all__)
