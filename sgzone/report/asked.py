"""What a report is asked, and every answer found once, when a section first wants it."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.sources import sources
from sgzone.bounds import BOUNDS, bounded
from sgzone.clubs.cover import cover
from sgzone.clubs.green import green_of
from sgzone.clubs.sheet import SHEET_COLUMNS, number_sheet, numbers_of
from sgzone.clubs.stock import clubs
from sgzone.errors import CallError
from sgzone.practice.log import practice_log, weekly_baseline
from sgzone.practice.losses import by_part
from sgzone.practice.plan import Plan, practice_plan
from sgzone.practice.sessions import SHEET_COLUMNS as WEEK_COLUMNS
from sgzone.practice.sessions import week_plan
from sgzone.report.beside import SideBySide, side_by_side
from sgzone.resources import sql
from sgzone.review.agreed.going import GOING_COLUMNS, agreements
from sgzone.review.early import rounds_played
from sgzone.review.trend import season_halves, trend
from sgzone.review.where.counts import counts
from sgzone.review.where.measuring import MOST_STROKES, Measuring, check_measuring
from sgzone.review.where.nearest import Beside, Nearest, beside
from sgzone.review.where.plays_like import plays_like
from sgzone.review.where.proximity import (
    break_even_table,
    grid_table,
    proximity_points,
    proximity_table,
    with_basis,
)
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.review.why.holed import telling_putts
from sgzone.review.why.misses import miss_contours, miss_points, misses
from sgzone.review.why.putting import putts_beside
from sgzone.review.why.split import losing_parts, why_table
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import Selection
from sgzone.terms import FAIRWAY, GREEN, MIN_ROUNDS
from sgzone.words.say import Say
from sgzone.words.week import week_page

if TYPE_CHECKING:
    from sgzone.season.store import Store


T = TypeVar("T")
Tables = dict[str, pd.DataFrame]
"""What is exported, by a word that tells each from the first, which has none."""
BLOCK_WEEKS = 6.0
USUAL_HOURS = 4.0
"""Hours a week to plan where nobody said how many and there is no log: an example."""
ASKED, LOGGED, EXAMPLE = "asked", "log", "example"
"""Where the hours of a plan come from."""
SEASON, BLOCK, ROUND = "season", "block", "round"
_BY = ("part", TOTAL)
_NUMBERS_YD = numbers_of(30, 150, 10)
_NEEDED = {FAIRWAY, GREEN, *green_of().lies}


def _days(asked: Asked) -> tuple[date, date] | None:
    days = asked.sizes["date"]
    return (days.min().date(), days.max().date()) if len(days) else None


def _total(asked: Asked) -> pd.Series | None:
    whole = asked.summary[asked.summary["part"] == TOTAL]
    return whole.iloc[0] if len(whole) else None


def _agreements(asked: Asked) -> pd.DataFrame:
    """Return what was agreed on and how it goes, of all rounds up to the last one asked for."""
    store, curve, chosen = asked.game
    if chosen.player is None:
        return pd.DataFrame(columns=list(GOING_COLUMNS))
    return agreements(store, curve, replace(chosen, since=None), asked.say.level)


def _measuring(asked: Asked) -> Measuring | None:
    """Return whether verdicts survive the way distances were measured; None where it costs much."""
    if not 0 < len(asked.strokes) <= MOST_STROKES:
        return None
    store, curve, selection = asked.game
    return check_measuring(store, asked.summary, curve, selection, _BY, strokes=asked.strokes)


def _parts(asked: Asked) -> pd.DataFrame:
    table = asked.summary
    if asked.measuring is not None:
        table = table.assign(measuring=asked.measuring.words)
    return with_basis(table[table["part"] != TOTAL], asked.strokes, asked.curve, ["part"])


def _plays_like(asked: Asked) -> pd.DataFrame:
    """Return the standard each part plays to, whatever the report is against."""
    return plays_like(asked.store, asked.selection, asked.say.level)


def _beside(asked: Asked) -> Beside | None:
    """Return the parts beside the nearest standard; None where not every part loses."""
    store, curve, selection = asked.game
    return beside(store, asked.parts, curve.name, selection, asked.say.level)


def _numbers(asked: Asked) -> pd.DataFrame:
    """Return the best swings for the numbers of the zone, fairway, usual green, pin in its middle.

    No rows without a stock swing, or where the benchmark lacks a lie around the green.
    """
    store, curve, selection = asked.game
    if asked.ladder.empty or not set(curve.lies) >= _NEEDED:
        return pd.DataFrame(columns=list(SHEET_COLUMNS))
    sheet = number_sheet(store, _NUMBERS_YD, curve, selection, asked.say.level)
    return sheet[sheet["club"].notna()].reset_index(drop=True)


def _plan(asked: Asked) -> Plan | None:
    """Return the practice plan; None where there are too few strokes for one."""
    store, curve, chosen = asked.game
    hours, _ = hours_to_plan(asked.log, asked.hours)
    level = asked.say.level
    played = (asked.by_part, asked.sizes)
    plan = practice_plan(
        store, hours, asked.weeks, curve, selection=chosen, level=level, played=played
    )
    return None if plan.thin else plan


def _sessions(asked: Asked) -> pd.DataFrame:
    """Return the first week of the plan, a row for each number; no rows without a plan."""
    if asked.plan is None:
        return pd.DataFrame(columns=list(WEEK_COLUMNS))
    store, curve, selection = asked.game
    return week_plan(store, asked.plan, curve, selection, strokes=asked.strokes)


def _sides(asked: Asked) -> SideBySide | None:
    """Return the rounds beside the other ones or another benchmark; None where not asked."""
    if asked.other is None:
        return None
    return side_by_side(*asked.game, asked.other, asked.say.level)


def _sources(curve: Benchmark) -> pd.DataFrame:
    """Return the sources of the benchmark's knots; a key of the user's own stands by itself."""
    keys = sorted({key for text in curve.knots["source"] for key in str(text).split("+")})
    known = sources().drop(columns="population")
    return pd.DataFrame({"key": keys}).merge(known, on="key", how="left").fillna("")


def _why(asked: Asked) -> pd.DataFrame:
    losing = losing_parts(asked.summary)
    level = asked.say.level
    return why_table(asked.strokes, asked.curve, asked.holes, losing=losing, level=level)


def answer(find: Callable[[Asked], T]) -> cached_property[T]:
    """Return an answer that is found when it is first wanted, and kept."""
    return cached_property(find)


@dataclass(frozen=True, eq=False)
class Asked:
    """One player's rounds against one benchmark: what is asked, and the answers as tables.

    ``hours`` a week to plan for ``weeks`` weeks; None: as ``hours_to_plan``. ``kind``: ``season``
    or ``block``, the last weeks. ``other``: what is set beside, see ``beside.side_by_side``.
    ``chosen``: how ``auto`` became this benchmark, where it was asked for. ``with_notes``: whether
    the card's notes are told.

    An answer is as the function returns it that finds it; nobody may change one. ``game``: what a
    question about strokes begins with. ``player``: empty where the file has none. ``days``: the
    first and the last with a round, None without. ``early``: there are rounds, but too few for any
    verdict. ``summary``: by part, with the row of all strokes, which is ``total``; ``parts``: the
    others with ``basis`` and ``measuring``, worst loss per round first. ``putting``: the
    benchmark's putts and the player's. ``telling``: where the putts holed tell most. ``by_part``:
    the sums of each round's parts.
    """

    store: Store
    curve: Benchmark
    selection: Selection
    say: Say
    hours: float | None = None
    weeks: float = BLOCK_WEEKS
    kind: str = SEASON
    other: str | None = None
    chosen: Nearest | None = None
    with_notes: bool = False

    game = answer(lambda asked: (asked.store, asked.curve, asked.selection))
    player = answer(lambda asked: asked.selection.player or "")
    sizes = answer(lambda asked: round_sizes(asked.store, asked.selection))
    rounds = answer(lambda asked: len(asked.sizes))
    holes = answer(lambda asked: int(asked.sizes["holes"].sum()))
    days = answer(_days)

    strokes = answer(lambda asked: scored(*asked.game))
    early = answer(lambda asked: 0 < asked.rounds < MIN_ROUNDS)
    played = answer(lambda asked: rounds_played(asked.strokes, asked.sizes))
    by_part = answer(lambda asked: by_part(*asked.game))
    summary = answer(lambda asked: summarise(*asked.game, _BY, asked.say.level))
    total = answer(_total)
    measuring = answer(_measuring)
    parts = answer(_parts)
    plays_like = answer(_plays_like)
    beside = answer(_beside)
    grid = answer(lambda asked: grid_table(*asked.game, asked.say.level, asked.strokes))

    points = answer(lambda asked: proximity_points(asked.strokes))
    medians = answer(lambda asked: proximity_table(asked.points, asked.curve, asked.say.level))
    break_even = answer(lambda asked: break_even_table(asked.curve, asked.points))
    counts = answer(lambda asked: counts(asked.store, asked.selection, asked.say.level))

    why = answer(_why)
    putting = answer(lambda asked: putts_beside(asked.strokes, asked.curve.name, asked.say.level))
    telling = answer(lambda asked: telling_putts(asked.strokes, asked.curve.name, asked.say.level))
    misses = answer(lambda asked: misses(asked.strokes, asked.say.level))
    finishes = answer(lambda asked: miss_points(asked.strokes))
    contours = answer(lambda asked: miss_contours(asked.finishes))
    trend = answer(lambda asked: trend(*asked.game, asked.say.level))
    halves = answer(lambda asked: season_halves(*asked.game, asked.say.level))

    ladder = answer(lambda asked: clubs(*asked.game, asked.say.level))
    cover = answer(lambda asked: cover(asked.store, asked.ladder, asked.selection))
    numbers = answer(_numbers)

    agreements = answer(_agreements)
    log = answer(lambda asked: practice_log(asked.store, asked.selection))
    plan = answer(_plan)
    sessions = answer(_sessions)
    week = answer(lambda asked: week_page(asked.sessions, asked.say))

    sides = answer(_sides)
    sources = answer(lambda asked: _sources(asked.curve))
    notes = answer(lambda asked: card_notes(asked.store, asked.selection))


def knowing(asked: Asked, **answers: object) -> Asked:
    """Return the same asked with these answers found already."""
    known = copy(asked)
    vars(known).update(answers)
    return known


def of_player(asked: Asked) -> Asked:
    """Return what is asked of one player, a block's of its last weeks.

    Raises ``CallError`` where several players could be meant, or for a name of nobody in the file.
    """
    store, chosen = asked.store, asked.selection
    store.refuse_unknown(chosen.player)
    players = store.players()
    if chosen.player is None and len(players) > 1:
        raise CallError(
            f"The season file holds {len(players)} players ({', '.join(players)}) and a report is "
            "about one: choose a player."
        )
    name = next(iter(players), None) if chosen.player is None else chosen.player
    one = replace(asked, selection=replace(chosen, player=name))
    return of_last_weeks(one) if asked.kind == BLOCK else one


def of_last_weeks(asked: Asked) -> Asked:
    """Return what is asked of the rounds from the first day given, or else of the last weeks."""
    if asked.selection.since is not None or asked.days is None:
        return asked
    since = asked.days[1] - timedelta(weeks=BLOCK_WEEKS, days=-1)
    return replace(asked, selection=replace(asked.selection, since=since))


@bounded
def hours_to_plan(log: pd.DataFrame, hours: float | None = None) -> tuple[float, str]:
    """Return the hours a week to plan and where they come from: asked, the log, an example.

    ``log``: as ``practice.log.practice_log``; of it the last weeks count.
    """
    if hours is not None:
        return hours, ASKED
    base = weekly_baseline(log)
    most = BOUNDS["hours"].high  # a log may hold more than a week has
    return (min(max(round(base[0]), 1.0), most), LOGGED) if base else (USUAL_HOURS, EXAMPLE)


def card_notes(store: Store, selection: Selection) -> pd.DataFrame:
    """Return what was written in the card's column ``note``, with its stroke, in yards."""
    return store.frame(sql("report", "notes"), selection.parameters())
