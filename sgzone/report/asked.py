"""Everything a report shows, asked of the rest of the package once; the report computes nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.answers import columns_of
from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.benchmarks.sources import sources
from sgzone.bounds import BOUNDS, bounded
from sgzone.clubs.cover import cover
from sgzone.clubs.sheet import SHEET_COLUMNS, number_sheet, numbers_of
from sgzone.clubs.stock import clubs
from sgzone.errors import CallError
from sgzone.practice.log import Load, planned_load, practice_log, weekly_baseline
from sgzone.practice.plan import Plan, practice_plan
from sgzone.practice.sessions import week_plan
from sgzone.review.trend import trend
from sgzone.review.where.counts import counts, hole_endings
from sgzone.review.where.measuring import MOST_STROKES, Measuring, check_measuring
from sgzone.review.where.proximity import (
    break_even_table,
    grid_table,
    proximity_points,
    proximity_table,
    with_basis,
)
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.review.why.misses import miss_contours, miss_points, misses
from sgzone.review.why.putting import putts_beside
from sgzone.review.why.split import why_table
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL, NOT_ENOUGH
from sgzone.units import Units
from sgzone.words.say import Say
from sgzone.words.week import week_page

if TYPE_CHECKING:
    from sgzone.season.store import Store


BLOCK_WEEKS = 6.0
USUAL_HOURS = 4.0
"""Hours a week to plan where nobody said how many and there is no log: an example."""
_NUMBERS_YD = numbers_of(30, 150, 10)
_AROUND = {"fairway", "rough", "green"}
ASKED, LOGGED, EXAMPLE = "asked", "log", "example"
"""Where the hours of a plan come from."""


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


@dataclass(frozen=True, slots=True)
class Review:
    """One player's rounds against one benchmark, as finished tables.

    ``first``, ``last``: None without rounds. ``total``: the summary's row of all strokes, None
    without strokes. ``parts``: the summary by part with ``basis`` and ``measuring``, worst loss
    per round first. ``hours_from``: where the plan's hours come from. ``load``: of the plan.
    ``week``: the first week's sessions. Other frames: as the
    functions of the same names return them, ``putts`` and ``putt_points`` as
    ``review.why.putting.putts_beside``; ``numbers`` as ``clubs.sheet.number_sheet``.
    ``sources``: key, authors, year, title, where.
    """

    player: str
    first: date | None
    last: date | None
    rounds: int
    holes: int
    against: str
    level: float
    units: Units
    total: pd.Series | None
    parts: pd.DataFrame
    grid: pd.DataFrame
    points: pd.DataFrame
    medians: pd.DataFrame
    break_even: pd.DataFrame
    counts: pd.DataFrame
    endings: dict[str, int]
    measuring: Measuring | None
    sources: pd.DataFrame
    why: pd.DataFrame
    putts: pd.DataFrame
    putt_points: pd.DataFrame
    miss_points: pd.DataFrame
    miss_contours: pd.DataFrame
    misses: pd.DataFrame
    trend: pd.DataFrame
    plan: Plan | None
    hours_from: str
    load: Load
    week: pd.DataFrame
    ladder: pd.DataFrame
    cover: pd.DataFrame
    numbers: pd.DataFrame

    @property
    def say(self) -> Say:
        """How the report is said."""
        return Say(self.units, self.level)


@bounded
def gather(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    units: Units = "yards",
    *,
    hours: float | None = None,
    weeks: float = BLOCK_WEEKS,
) -> Review:
    """Return the review of one player.

    ``hours`` a week to plan for ``weeks`` weeks; None: what the practice log's last weeks had, or
    ``USUAL_HOURS`` without one.

    Raises ``CallError`` where the file has several players and none is chosen, or not that one.
    """
    curve = in_store(store, benchmark)
    selection = of_one_player(store, selection)
    sizes = round_sizes(store, selection)
    strokes = scored(store, curve, selection)
    by = ["part", TOTAL]
    table = summarise(store, curve, selection, by, level)
    measuring = None
    if 0 < len(strokes) <= MOST_STROKES:
        measuring = check_measuring(store, table, curve, selection, by, strokes=strokes)
        table = table.assign(measuring=measuring.words)
    whole = table["part"] == TOTAL
    parts = with_basis(table[~whole], strokes, curve, ["part"])
    points = proximity_points(strokes)
    days = sizes["date"]
    around = miss_points(strokes)
    putts, putt_points = putts_beside(strokes, curve.name, level)
    ladder = clubs(store, curve, selection, level)
    log = practice_log(store, selection)
    hours, hours_from = hours_to_plan(log, hours)
    plan = None
    if whole.any() and table[whole].iloc[0]["verdict"] != NOT_ENOUGH:
        plan = practice_plan(store, hours, weeks, curve, selection=selection, level=level)
    return Review(
        player=selection.player or "",
        first=days.min().date() if len(sizes) else None,
        last=days.max().date() if len(sizes) else None,
        rounds=len(sizes),
        holes=int(sizes["holes"].sum()),
        against=curve.name,
        level=level,
        units=units,
        total=table[whole].iloc[0] if whole.any() else None,
        parts=parts,
        grid=grid_table(store, curve, selection, level, strokes),
        points=points,
        medians=proximity_table(points, curve, level),
        break_even=break_even_table(curve, points),
        counts=counts(store, selection, level),
        endings=hole_endings(store, selection),
        measuring=measuring,
        sources=_sources_of(curve),
        why=why_table(strokes, curve, float(sizes["holes"].sum()), level=level),
        putts=putts,
        putt_points=putt_points,
        miss_points=around,
        miss_contours=miss_contours(around),
        misses=misses(strokes, level),
        trend=trend(store, curve, selection, level),
        plan=plan,
        hours_from=hours_from,
        load=planned_load(log, hours),
        week=_week(store, plan, curve, selection, units, strokes),
        ladder=ladder,
        cover=cover(store, ladder, selection),
        numbers=_numbers(store, ladder, curve, selection, level),
    )


def _numbers(
    store: Store, ladder: pd.DataFrame, curve: Benchmark, selection: Selection, level: float
) -> pd.DataFrame:
    """Return the best swings for the numbers of the zone, fairway, usual green, pin in its middle.

    No rows without a stock swing, or where the benchmark lacks a lie around the green.
    """
    if ladder.empty or not set(curve.lies) >= _AROUND:
        return pd.DataFrame(columns=list(SHEET_COLUMNS))
    sheet = number_sheet(store, _NUMBERS_YD, curve, selection, level)
    return sheet[sheet["club"].notna()].reset_index(drop=True)


def _week(
    store: Store,
    plan: Plan | None,
    curve: Benchmark,
    selection: Selection,
    units: Units,
    strokes: pd.DataFrame,
) -> pd.DataFrame:
    """Return the first week of the plan on one page; no rows without a plan."""
    if plan is None:
        return pd.DataFrame(columns=[column.name for column in columns_of("week_page")])
    return week_page(week_plan(store, plan, curve, selection, strokes=strokes), Say(units))


def of_one_player(store: Store, selection: Selection) -> Selection:
    """Return the selection with its one player.

    Raises ``CallError`` where several could be meant, or for a name of nobody in the file.
    """
    store.refuse_unknown(selection.player)
    players = store.players()
    if selection.player is None and len(players) > 1:
        raise CallError(
            f"The season file holds {len(players)} players ({', '.join(players)}) and a report is "
            "about one: choose a player."
        )
    name = players[0] if selection.player is None and players else selection.player
    return Selection(name, selection.since, selection.until, selection.event)


def _sources_of(curve: Benchmark) -> pd.DataFrame:
    """Return the sources of the benchmark's knots; a key of the user's own stands by itself."""
    keys = sorted({key for text in curve.knots["source"] for key in str(text).split("+")})
    known = sources().drop(columns="population")
    return pd.DataFrame({"key": keys}).merge(known, on="key", how="left").fillna("")
