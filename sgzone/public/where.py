"""Where strokes are won and lost: each stroke, each part of the game, the plain counts."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from sgzone import questions
from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.public.dtypes import out
from sgzone.public.seasons import Day, Season, asking, of_each_player
from sgzone.scoring import gained
from sgzone.scoring.only import Only
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL


def strokes_gained(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
    lie: str | None = None,
    club: str | None = None,
    part: str | None = None,
) -> pd.DataFrame:
    """Return the list of strokes of the zone, one row each, with what it gained.

    The columns of the answer ``gained``, then club, swing, course, event, note, depth_ft and
    side_ft of the card. Distances are in yards. Later strokes of a hole that start outside the
    zone stand in it as part ``outside``. A stroke without a value says why in ``status``.
    ``lie``, ``club``, ``part``: only such strokes.

    >>> import sgzone as sg
    >>> card = sg.simulate_season(rounds=2).card
    >>> strokes = sg.strokes_gained(card, "scratch")
    >>> list(strokes.columns[:6])
    ['player', 'date', 'round', 'hole', 'shot', 'lie']
    >>> strokes["lie"].cat.ordered
    True
    >>> set(sg.strokes_gained(card, lie="rough")["lie"])
    {'rough'}
    """
    only = Only(lie, club, part)
    with asking(season, selection, player, since, until, event) as (store, asked):
        return out(questions.told_strokes(store, benchmark, asked, only=only), "strokes_gained")


def check_totals(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return per hole the sum of gained, the same by the identity, and their difference.

    >>> import sgzone as sg
    >>> holes = sg.check_totals(sg.simulate_season(rounds=2).card)
    >>> bool((holes["difference"].abs() < 1e-9).all())
    True
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        return out(gained.check_totals(store, benchmark, asked), "check_totals")


@bounded
def summarise(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    by: str | Sequence[str] = ("part",),
    level: float = DEFAULT_LEVEL,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
    lie: str | None = None,
    club: str | None = None,
    part: str | None = None,
) -> pd.DataFrame:
    """Return where strokes are won and lost: one row per cell, the worst best estimate first.

    ``by``: columns to group by, in a list or a text with commas; ``total`` adds a last row of all
    strokes. Gained is in strokes per shot and per round of 18 holes, each with its range at
    ``level``; ``shrunk_per_round`` is the best estimate, which the verdict speaks of. ``lie``,
    ``club``, ``part``: only such strokes count, a round still over all rounds that are chosen.
    Several players and none chosen: ``player`` is the first column.

    >>> import sgzone as sg
    >>> card = sg.simulate_season(rounds=4).card
    >>> parts = sg.summarise(card, "amateur-80", by="part,total")
    >>> str(parts["part"].iloc[-1])
    'total'
    >>> sg.summarise(card, level=80)
    Traceback (most recent call last):
    ...
    sgzone.errors.CallError: level=80: the level must be from 0.5 to 0.999, such as 0.8
    """
    only = Only(lie, club, part)
    with asking(season, selection, player, since, until, event) as (store, asked):
        return out(questions.summarise(store, benchmark, asked, by, level, only=only), "summary")


@bounded
def counts(
    season: Season,
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
    lie: str | None = None,
    club: str | None = None,
    part: str | None = None,
) -> pd.DataFrame:
    """Return the plain counts with their ranges: up-and-downs, greens hit, putts and the like.

    They need no benchmark. ``value``, ``low`` and ``high`` are in the row's own ``unit``.
    ``lie``, ``club``, ``part``: only tries that start from such a stroke, and no putts a round.

    >>> import sgzone as sg
    >>> table = sg.counts(sg.simulate_season(rounds=2).card)
    >>> table["measure"].iloc[0]
    'up-and-downs'
    """
    only = Only(lie, club, part)
    with asking(season, selection, player, since, until, event) as (store, asked):
        return out(questions.counts(store, asked, level, only=only), "counts")


@bounded
def plays_like(
    season: Season,
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return the standard each part plays to, as a range of average score.

    Where there is none yet ``reason`` says why. Several players and none chosen: ``player`` is the
    first column.

    >>> import sgzone as sg
    >>> like = sg.plays_like(sg.simulate_season(rounds=2).card)
    >>> like["part"].astype(str).tolist()[:3]
    ['total', 'off_green', 'putting']
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        found = of_each_player(store, asked, lambda one: questions.plays_like(store, one, level))
        return out(found, "plays_like")
