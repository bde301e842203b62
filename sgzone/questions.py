"""The questions of the package as callers ask them: the rooms' answers with their notes in words.

Inside the package answers carry facts; whoever is outside wants a ``note``. Here ``auto`` becomes
the standard it is, and no room below hears of it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from functools import wraps
from inspect import BoundArguments, signature
from typing import TYPE_CHECKING, ParamSpec, TypeVar

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.clubs import number, sheet, stock
from sgzone.practice import plan
from sgzone.review import trend as season
from sgzone.review.agreed import going
from sgzone.review.beside import field
from sgzone.review.beside.groups import compare_table, compared_strokes
from sgzone.review.debrief import one_round
from sgzone.review.where import counts as plain_counts
from sgzone.review.where import plays_like as standards
from sgzone.review.where import summary
from sgzone.review.where.keys import columns_of
from sgzone.review.where.nearest import is_auto, nearest, nearest_of_each
from sgzone.review.why import split
from sgzone.scoring import gained
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words.notes import noted, options
from sgzone.words.plays_like import reasoned
from sgzone.words.say import Say

if TYPE_CHECKING:
    from sgzone.season.store import Store

P = ParamSpec("P")
T = TypeVar("T")


def _against_nearest(ask: Callable[P, T], marked: Callable[[T, str], T]) -> Callable[P, T]:
    """Return the question that takes ``auto`` too, about one player.

    ``marked``: puts the name of the standard on the answer.
    """
    takes = signature(ask)

    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> T:
        bound = takes.bind(*given, **named)
        # with a target the plan is against the tour and refuses any other
        plain = not is_auto(bound.arguments.get("benchmark"))
        if plain or bound.arguments.get("target") is not None:
            return ask(*given, **named)
        bound.apply_defaults()
        name = nearest(bound.arguments["store"], bound.arguments["selection"]).name
        return marked(_with(ask, bound, benchmark=name), name)

    return asked


def _of_nearest(ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    """Return the question about one player that takes ``auto`` too; ``benchmark`` comes last."""
    return _against_nearest(ask, _in_column)


def _each_against_nearest(ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    """Return the question that takes ``auto`` too, each player against a standard of their own."""
    alone, takes = _of_nearest(ask), signature(ask)

    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        bound = takes.bind(*given, **named)
        if not is_auto(bound.arguments.get("benchmark")):
            return ask(*given, **named)
        bound.apply_defaults()
        chosen = bound.arguments["selection"]
        found = nearest_of_each(bound.arguments["store"], chosen)
        if len(found) < 2:
            return alone(*given, **named)
        if "by" in bound.arguments:
            bound.arguments["by"] = ["player", *columns_of(bound.arguments["by"])]
        return pd.concat(
            [
                _in_column(
                    _with(ask, bound, benchmark=one.name, selection=replace(chosen, player=player)),
                    one.name,
                )
                for player, one in found.items()
            ],
            ignore_index=True,
        )

    return asked


def _with(ask: Callable[..., T], bound: BoundArguments, **more: object) -> T:
    bound.arguments.update(more)
    return ask(*bound.args, **bound.kwargs)


def _in_column(answer: pd.DataFrame, name: str) -> pd.DataFrame:
    return answer.assign(benchmark=name)


def _in_plan(answer: plan.Plan, name: str) -> plan.Plan:
    return replace(answer, table=_in_column(answer.table, name))


def _noted(answer: str, ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    """Return the question ``ask`` with notes in words, lengths in yards and feet."""
    takes = signature(ask)

    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        level = takes.bind(*given, **named).arguments.get("level", DEFAULT_LEVEL)
        return noted(ask(*given, **named), answer, Say(level=level))

    return asked


strokes_gained = _each_against_nearest(gained.strokes_gained)
told_strokes = _each_against_nearest(gained.told_strokes)
gained_by_row = _each_against_nearest(gained.gained_by_row)
summarise = _each_against_nearest(_noted("summary", summary.summarise))
counts = _noted("counts", plain_counts.counts)
why = _of_nearest(_noted("why", split.why))
trend = _of_nearest(season.trend)
agreements = _each_against_nearest(going.agreements)
practice_plan = _against_nearest(plan.practice_plan, _in_plan)
field_strength = _noted("field", field.field_strength)
clubs = _of_nearest(_noted("clubs", stock.clubs))


@wraps(standards.plays_like)
def plays_like(
    store: Store, selection: Selection = EVERYTHING, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    return reasoned(standards.plays_like(store, selection, level))


@_of_nearest
@bounded
def compare(
    store: Store,
    by: str | Sequence[str],
    at: float | None = None,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    split_date: date | None = None,
    lie: str | None = None,
    part: str | None = None,
    groups: Sequence[str] | None = None,
    units: str = "yards",
) -> pd.DataFrame:
    """Return one row per two groups of strokes: the second less the first, strokes per shot.

    ``by``: columns of ``review.beside.grouping.COMPARE_BY``, crossed; ``date`` takes ``split_date``
    (the first day of the second group). ``at``: the number, yards; shots within 10 yd of it,
    effective number where it is written down. Without it shots of every distance, compared inside
    steps of 10 yd. ``lie`` or ``part`` narrow the strokes; without them all off the green but
    blocked ones. ``groups``: as in ``review.beside.groups.compare_table``, whose columns these are,
    with ``note`` in place of the facts. ``units`` of the lengths in the notes: yards or metric.
    Raises ``CallError`` for unknown words.
    """
    rows = compared_strokes(
        store, by, at, benchmark, selection, split_date=split_date, lie=lie, part=part
    )
    return noted(compare_table(rows, at, level, groups), "compare", Say(units, level))


def _played(ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        return options(ask(*given, **named))

    return asked


def debrief(
    store: Store,
    benchmark: str | Benchmark = "tour",
    *,
    player: str | None = None,
    since: date | None = None,
    until: date | None = None,
    event: str | None = None,
    date: date | None = None,
    round: int | None = None,  # noqa: A002
) -> one_round.Debrief:
    """Return one round beside the player's other rounds: the last, or that of ``date``.

    ``round``: which of that day, without it the last. ``player``, ``since``, ``until``, ``event``
    choose the rounds that are compared, the round itself among them. ``benchmark``: a name, an
    object, or ``auto``, the standard nearest to the player's whole game.

    A frozen object with frames, strokes gained in strokes, lengths in yards: ``total`` (3 rows:
    off_green, putting, total), ``parts`` (a row per part with a stroke), ``counts`` (5 rows),
    ``best`` and ``worst`` (5 rows at most), ``holes`` (a row per hole and part), ``strokes`` (a row
    per stroke, columns of the answer ``debrief``). ``usual`` is the mean of the other rounds with
    as many holes; ``better``, ``equal`` and ``worse`` count them. No verdict: one round has too
    few strokes for one. Holes and parts add up to the total, which is that of ``strokes_gained``.

    Raises ``CallError`` where there is no such round, or several players and none is chosen.
    Source of the values: the benchmark's, see ``sgzone.benchmark``.
    """
    selection = Selection(player, since, until, event)
    if is_auto(benchmark):
        benchmark = nearest(store, selection).name
    return one_round.debrief(store, benchmark, selection, date=date, round=round)


plan_number = _of_nearest(_played(number.plan_number))
number_sheet = _played(sheet.number_sheet)
