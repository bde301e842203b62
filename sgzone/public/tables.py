"""The tables that charts are drawn from, where no question gives them as they are.

Each is of one player.

>>> import sgzone as sg
>>> card = sg.simulate_season(rounds=4).card
>>> points = sg.tables.miss_points(card)
>>> chart = sg.charts.miss_map(points, sg.tables.miss_contours(points))
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Unpack

import numpy as np
import pandas as pd

from sgzone import questions
from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.fit import BAND_LEVEL
from sgzone.benchmarks.saved import in_store
from sgzone.benchmarks.shown import curve_table, point_table
from sgzone.bounds import bounded
from sgzone.clubs.green import Green
from sgzone.clubs.reach import FULL_MORE
from sgzone.clubs.shots import COURSE
from sgzone.clubs.wear import wear_points
from sgzone.clubs.wear import wear_steps as steps_of
from sgzone.errors import CallError, did_you_mean
from sgzone.practice.series import block_series
from sgzone.practice.test_blocks import mixed_blocks
from sgzone.public.dtypes import out, plain
from sgzone.public.seasons import Day, Rounds, Season, a_day, asking, refuse_several
from sgzone.public.standards import benchmark as standard_of
from sgzone.review import trend
from sgzone.review.agreed import going
from sgzone.review.agreed.observed import Observed
from sgzone.review.beside import sides
from sgzone.review.beside.groups import compared_strokes
from sgzone.review.beside.pairs import finish_shares as shares_of
from sgzone.review.where import proximity
from sgzone.review.why import misses, putting
from sgzone.scoring import gained
from sgzone.scoring.gained import scored
from sgzone.season.agreed.keeping import kept
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store
from sgzone.stats.resample import SEED
from sgzone.terms import DEFAULT_LEVEL, FAIRWAY
from sgzone.words.notes import noted

_STRAIGHT = {
    **{"after": "gained_per_round", "before": "gained_per_round_other"},
    **{"after_low": "low_per_round", "before_low": "low_per_round_other"},
    **{"after_high": "high_per_round", "before_high": "high_per_round_other"},
    **{"shots_after": "shots", "shots_before": "shots_other"},
    **{"rounds_after": "rounds", "rounds_before": "rounds_other"},
}
"""Column of before and after -> what a table of two sides calls it; after comes first."""


@bounded
def grid(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return gained by lie and distance, for ``sg.charts.grid`` and ``sg.charts.putt_grid``."""
    with _of_one(season, selection, rounds) as (store, asked):
        found = proximity.grid_table(store, in_store(store, benchmark), asked, level)
        return out(noted(found, "summary"), "summary")


def proximity_points(
    season: Season, selection: Selection = EVERYTHING, **rounds: Unpack[Rounds]
) -> pd.DataFrame:
    """Return where strokes at the green finished, feet from the hole, a row a stroke."""
    return out(proximity.proximity_points(_scored(season, "tour", selection, rounds)), "table")


@bounded
def proximity_medians(
    points: pd.DataFrame, benchmark: str | Benchmark = "tour", level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return the median finish by lie and distance, feet, with its range and the break-even."""
    return out(proximity.proximity_table(plain(points), standard_of(benchmark), level), "table")


def break_even(points: pd.DataFrame, benchmark: str | Benchmark = "tour") -> pd.DataFrame:
    """Return the break-even distance, feet on the green, yard by yard for the lies of points."""
    return out(proximity.break_even_table(standard_of(benchmark), plain(points)), "table")


def miss_points(
    season: Season, by: str = "part", selection: Selection = EVERYTHING, **rounds: Unpack[Rounds]
) -> pd.DataFrame:
    """Return where strokes off the green finished around the hole, feet; ``group`` is by ``by``."""
    gained.refuse_unknown([by])
    return out(misses.miss_points(_scored(season, "tour", selection, rounds), by), "table")


def miss_contours(points: pd.DataFrame) -> pd.DataFrame:
    """Return the rings that hold half and 8 in 10 of each group of ``miss_points``."""
    return out(misses.miss_contours(plain(points)), "table")


@bounded
def putting_curves(
    season: Season,
    feet: Sequence[float] = tuple(range(2, 21)),
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return the share of putts holed from each of ``feet``: the player's fit, published ones."""
    strokes = _scored(season, "tour", selection, rounds)
    return out(putting.putting_curve(strokes, np.asarray(feet, float), level), "table")


@bounded
def putting_points(
    season: Season,
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return the share of putts holed in steps of 2 feet, with its range."""
    points = putting.putting_points(_scored(season, "tour", selection, rounds), level)
    return out(points, "table")


@bounded
def number_sheet(
    season: Season,
    numbers: Sequence[float],
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
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return the best three swings for each of ``numbers``, yards, for ``number_curve``."""
    with _of_one(season, selection, rounds) as (store, asked):
        found = questions.number_sheet(
            *(store, numbers, benchmark, asked, level),
            green=green,
            lie=lie,
            firmness=firmness,
            source=source,
            full_more=full_more,
            seed=seed,
        )
        return out(found, "number_sheet")


@bounded
def wear_steps(
    season: Season,
    club: str,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return the mean gained of every 20 shots with a club of the bag since it was new."""
    with _of_one(season, selection, rounds) as (store, asked):
        points = wear_points(store, in_store(store, benchmark), asked)
    there = sorted(points["club"].unique())
    if club not in there:
        raise CallError(
            f'No shots with a "{club}" of the bag.{did_you_mean(club, there)} There are: '
            f"{', '.join(there) or 'none'}."
        )
    return out(steps_of(points[points["club"] == club], level=level), "table")


def finish_shares(
    season: Season,
    by: str,
    groups: Sequence[str],
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    *,
    lie: str | None = None,
    part: str | None = None,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return the share of each group's shots that finished within so many feet of the hole."""
    with _of_one(season, selection, rounds) as (store, asked):
        rows = compared_strokes(store, by, None, benchmark, asked, lie=lie, part=part)
    return out(shares_of(rows[rows["end_distance_ft"].notna()], groups), "table")


@bounded
def before_after(
    season: Season,
    split_date: Day,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return gained per round from a day on beside before it (``_other``), for ``pairs_chart``."""
    day = a_day("split_date", split_date)
    assert day is not None
    with _of_one(season, selection, rounds) as (store, asked):
        curve = in_store(store, benchmark)
        found = trend.before_after(store, day, curve, asked, level, seed)
    return out(found.rename(columns=_STRAIGHT), "before_after")


@bounded
def season_halves(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return gained per round in each half of the rounds, for ``sg.charts.season_curve``."""
    with _of_one(season, selection, rounds) as (store, asked):
        return out(trend.season_halves(store, in_store(store, benchmark), asked, level), "halves")


@bounded
def beside(
    season: Season,
    other: str | Benchmark,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return gained per round against two standards, ``_other`` the second, for ``pairs_chart``."""
    with _of_one(season, selection, rounds) as (store, asked):
        curves = (in_store(store, benchmark), in_store(store, other))
        return out(sides.two_benchmarks(store, *curves, asked, level), "table")


@bounded
def agreed_months(
    season: Season,
    agreement: int,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return what an agreement counts, month by month; ``agreement``: its number."""
    with asking(season, selection, **rounds) as (store, asked):
        table = kept(store, asked.player)
        rows = table[table["agreement"] == agreement]
        if rows.empty:
            there = ", ".join(map(str, table["agreement"])) or "none"
            raise CallError(f"No agreement {agreement!r} in the season file (there: {there}).")
        row = rows.iloc[0]
        of = Observed(store, benchmark, replace(asked, player=str(row["player"])))
        return out(going.over_time(of, row, level), "table")


@bounded
def block_days(
    season: Season,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    **rounds: Unpack[Rounds],
) -> pd.DataFrame:
    """Return each test day's middle miss against the pass mark, for ``block_chart``."""
    with _of_one(season, selection, rounds) as (store, asked):
        curve = in_store(store, benchmark)
        return out(block_series(mixed_blocks(store, curve, asked), level), "block_days")


def curves(fitted: Benchmark, base: str | Benchmark = "tour") -> pd.DataFrame:
    """Return a fitted curve with its band beside its base, for ``benchmark_curves``."""
    return out(curve_table(fitted, standard_of(base)), "table")


@bounded
def needed(rows: pd.DataFrame, level: float = BAND_LEVEL) -> pd.DataFrame:
    """Return the strokes needed by lie and distance; ``rows``: as ``sg.outcomes``."""
    return out(point_table(plain(rows), level), "table")


@contextmanager
def _of_one(
    season: Season, selection: Selection, rounds: Rounds
) -> Iterator[tuple[Store, Selection]]:
    """Give the season that is asked, open, and the rounds chosen of it, which are one player's."""
    with asking(season, selection, **rounds) as (store, asked):
        refuse_several(store, asked, "this table")
        yield store, asked


def _scored(season: Season, benchmark: str, selection: Selection, rounds: Rounds) -> pd.DataFrame:
    with _of_one(season, selection, rounds) as (store, asked):
        return scored(store, benchmark, asked)


__all__ = [
    "agreed_months",
    "before_after",
    "beside",
    "block_days",
    "break_even",
    "curves",
    "finish_shares",
    "grid",
    "miss_contours",
    "miss_points",
    "needed",
    "number_sheet",
    "proximity_medians",
    "proximity_points",
    "putting_curves",
    "putting_points",
    "season_halves",
    "wear_steps",
]


def __dir__() -> list[str]:
    return list(__all__)
