"""Why strokes go, what groups differ in, whether a season changed, players beside each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pandas as pd

from sgzone import questions
from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.public.dtypes import out
from sgzone.public.seasons import Day, Season, a_day, asking, of_each_player, refuse_several
from sgzone.review.debrief.one_round import Debrief
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED
from sgzone.terms import DEFAULT_LEVEL


@bounded
def why(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    ratio: float = 1.0,
    seed: int = SEED,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return why strokes go: each part's loss split by cause, in strokes per shot and per round.

    A loss above 0 costs strokes. The causes of a part add up to its row ``total``. Several players
    and none chosen: ``player`` is the first column, each against his own strokes alone.

    >>> import sgzone as sg
    >>> causes = sg.why(sg.simulate_season(rounds=4).card, "scratch")
    >>> set(causes["column"]) == {"proximity", "missed_green", "total"}
    True
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        found = of_each_player(
            store, asked, lambda one: questions.why(store, benchmark, one, level, ratio, seed)
        )
        return out(found, "why")


@bounded
def compare(
    season: Season,
    by: str | Sequence[str],
    at: float | None = None,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    split_date: Day | None = None,
    lie: str | None = None,
    part: str | None = None,
    groups: Sequence[str] | None = None,
    units: str = "yards",
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return one row per two groups of strokes: the second less the first, strokes per shot.

    ``by``: columns to group by; ``date`` takes ``split_date``, the first day of the second group.
    ``at``: the number in yards; without it shots are compared inside steps of 10 yards. ``lie`` or
    ``part`` narrow the strokes, ``groups`` names those to compare. ``units`` of the lengths in
    ``note``: yards or metric. Several players and none chosen: ``player`` is the first column.

    >>> import sgzone as sg
    >>> pairs = sg.compare(sg.simulate_season(rounds=4).card, "club", part="putt_0_10")
    >>> len(pairs)
    0
    """
    day = a_day("split_date", split_date)
    with asking(season, selection, player, since, until, event) as (store, asked):

        def of(one: Selection) -> pd.DataFrame:
            how = (store, by, at, benchmark, one, level)
            return questions.compare(
                *how, split_date=day, lie=lie, part=part, groups=groups, units=units
            )

        return out(of_each_player(store, asked, of), "compare")


@bounded
def trend(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return the season over time: one row per part and round, with what may be said of it all.

    ``low`` and ``high`` are of the curve at ``level``; ``joint_low`` and ``joint_high`` of the
    change, over all parts at once, which the verdict uses. Several players and none chosen:
    ``player`` is the first column.

    >>> import sgzone as sg
    >>> rows = sg.trend(sg.simulate_season(rounds=3).card)
    >>> rows["verdict"].astype(str).unique().tolist()
    ['not enough rounds']
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        found = of_each_player(
            store, asked, lambda one: questions.trend(store, benchmark, one, level, seed)
        )
        return out(found, "trend")


@bounded
def field_strength(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return how players stand beside each other, course and day taken out.

    >>> import sgzone as sg
    >>> alone = sg.field_strength(sg.simulate_season(rounds=2).card)
    >>> alone["shared_rounds"].tolist()
    [0]
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        return out(questions.field_strength(store, benchmark, asked, level), "field")


@bounded
def agreements(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    *,
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> pd.DataFrame:
    """Return what player and coach agreed on, kept in the season file, and how each goes.

    One row an agreement, open or closed: before it and since, with ranges at ``level``, the change,
    and what would settle it. A frame has none.

    >>> import sgzone as sg
    >>> len(sg.agreements(sg.simulate_season(rounds=2).card))
    0
    """
    with asking(season, selection, player, since, until, event) as (store, asked):
        found = questions.agreements(store, benchmark, asked, level, seed)
        return out(found, "agreements")


@bounded
def debrief(
    season: Season,
    benchmark: str | Benchmark = "tour",
    *,
    date: Day | None = None,
    round: int | None = None,  # noqa: A002
    player: str | None = None,
    since: Day | None = None,
    until: Day | None = None,
    event: str | None = None,
) -> Debrief:
    """Return one round beside the player's other rounds: the last, or that of ``date``.

    ``round``: which of that day. ``player``, ``since``, ``until`` and ``event`` choose the rounds
    that are compared. A frozen object with frames: ``total``, ``parts``, ``counts``, ``best``,
    ``worst``, ``holes``, ``strokes``; gained in strokes, lengths in yards. No verdict: one round
    has too few strokes for one.

    >>> import sgzone as sg
    >>> last = sg.debrief(sg.simulate_season(rounds=3).card)
    >>> last.compared
    2
    """
    day = a_day("date", date)
    with asking(season, EVERYTHING, player, since, until, event) as (store, asked):
        refuse_several(store, asked, "a debrief")
        found = questions.debrief(
            store,
            benchmark,
            player=asked.player,
            since=asked.since,
            until=asked.until,
            event=asked.event,
            date=day,
            round=round,
        )
    return replace(
        found,
        total=out(found.total, "round_parts"),
        parts=out(found.parts, "round_parts"),
        counts=out(found.counts, "round_counts"),
        best=out(found.best, "round_strokes"),
        worst=out(found.worst, "round_strokes"),
        holes=out(found.holes, "round_strokes"),
        strokes=out(found.strokes, "debrief"),
    )
