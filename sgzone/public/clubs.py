"""Clubs, the number to hit, and how to share out practice hours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pandas as pd

from sgzone import questions
from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.clubs.green import Green
from sgzone.clubs.reach import FULL_MORE
from sgzone.clubs.shots import COURSE
from sgzone.clubs.stock import GAP_YD
from sgzone.practice.plan import Plan
from sgzone.practice.settings import Settings
from sgzone.public.dtypes import out
from sgzone.public.seasons import Day, Season, asking, of_each_player, refuse_several
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED
from sgzone.terms import DEFAULT_LEVEL, FAIRWAY


@bounded
def clubs(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    source: str = COURSE,
    gap_yd: float = GAP_YD,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return what each swing carries, shortest first, with the gaps between them.

    ``source``: course, test or range balls, never mixed. Several players and none chosen:
    ``player`` is the first column.

    >>> import sgzone as sg
    >>> sg.clubs(sg.simulate_season(rounds=2).card)["carry_yd"].is_monotonic_increasing
    True
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        found = of_each_player(
            store, asked, lambda one: questions.clubs(store, benchmark, one, level, source, gap_yd)
        )
        return out(found, "clubs")


@bounded
def plan_number(
    season: Season,
    yards: float,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    green: Green | None = None,
    lie: str = FAIRWAY,
    firmness: str | None = None,
    source: str = COURSE,
    full_more: float = FULL_MORE,
    seed: int = SEED,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return the ways to play a number of ``yards``, the best first; empty where none is near.

    ``green``: a ``Green``; without it the pin stands in the middle of a usual one. ``lie``:
    fairway, rough or sand. Several players and none chosen: ``player`` is the first column.
    Prepare before play: the Rules limit what may be used during a round.

    >>> import sgzone as sg
    >>> ways = sg.plan_number(sg.simulate_season(rounds=2).card, 97)
    >>> "expected_strokes" in ways
    True
    """
    with asking(season, selection, player, since, until, event) as (store, asked):

        def of(one: Selection) -> pd.DataFrame:
            return questions.plan_number(
                *(store, yards, benchmark, one, level),
                green=green,
                lie=lie,
                firmness=firmness,
                source=source,
                full_more=full_more,
                seed=seed,
            )

        return out(of_each_player(store, asked, of), "number")


@bounded
def practice_plan(
    season: Season,
    hours: float,
    weeks: float = 6.0,
    benchmark: str | Benchmark = "tour",
    *,
    target: str | float | None = None,
    selection: Selection = EVERYTHING,
    settings: Settings | None = None,
    split: Mapping[str, float] | None = None,
    use_log: bool = True,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> Plan:
    """Share out ``hours`` a week for ``weeks`` weeks over the parts of one player's game.

    ``target``: the standard to reach, or an average score. ``split``: shares of 1 a part to set
    beside. ``use_log``: read the practice log; beside a card in memory give it in a list,
    ``[card, log]``. Raises ``CallError`` where several players could be meant.

    >>> import sgzone as sg
    >>> plan = sg.practice_plan(sg.simulate_season(rounds=6).card, hours=5)
    >>> round(float(plan.table["share"].sum()), 9)
    1.0
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        refuse_several(store, asked, "a practice plan")
        plan = questions.practice_plan(
            *(store, hours, weeks, benchmark),
            target=target,
            selection=asked,
            settings=settings,
            split=split,
            use_log=use_log,
            level=level,
            seed=seed,
        )
        return replace(
            plan,
            table=out(plan.table, "practice"),
            alternatives=out(plan.alternatives, "splits"),
            detail=out(plan.detail, "practice"),
            curves=out(plan.curves, "practice_curves"),
        )
