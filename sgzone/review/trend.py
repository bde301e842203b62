"""The season over time: strokes gained per round by part, smoothed, and whether it is a change.

Per round means per 18 holes; a short round counts for its holes only.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.review.beside.grouping import from_day
from sgzone.review.where.cells import HOLES_PER_ROUND
from sgzone.scoring import round_sizes, round_sums
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.change import Change, changes, enough, halves
from sgzone.stats.resample import SEED
from sgzone.stats.smooth import smooth
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE
from sgzone.terms import DEFAULT_LEVEL, MIN_ROUNDS, PART_NAMES

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

TOTAL = "total"
ROLLING = 5
"""Rounds of the moving mean."""
LEAST_ROUNDS = 10
"""Fewer are not smoothed: a curve through them is mostly their own noise."""
LEAST_IN_SHORT, SHORT_SEASON = 4, 20
"""Rounds of a part that each half needs in a season of fewer rounds; in others ``MIN_ROUNDS``."""
BY_HALVES, BY_LINE = "halves", "line"
"""What shows a change: second half less first, or only the line from first round to last."""

OF_PART = (
    *("first_half", "second_half", "change", "change_low", "change_high", "joint_low"),
    *("joint_high", "drift", "drift_low", "drift_high", "p", "shown_by", "rounds", "verdict"),
)
"""What is the same on every row of a part."""
TREND_COLUMNS = (
    *("part", "date", "round", "holes", "shots", "gained_per_round", "rolling"),
    *("smoothed", "low", "high", *OF_PART),
)
HALVES_COLUMNS = ("part", "half", "start", "end", "split", "rounds", "mean", "low", "high")
BEFORE_AFTER_COLUMNS = (
    *("part", "before", "before_low", "before_high", "after", "after_low", "after_high"),
    *("difference", "low", "high", "joint_low", "joint_high", "rounds_before", "rounds_after"),
    *("shots_before", "shots_after", "p", "verdict"),
)


@bounded
def trend(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    *,
    curve: bool = True,
) -> pd.DataFrame:
    """Return one row per part and round in order of play, and of all parts together (``total``).

    ``gained_per_round``: strokes per 18 holes of that round. ``rolling``: the mean of the last 5
    rounds. ``smoothed``: lowess over the dates with its pointwise band at ``level``; missing
    without ``curve``, for statsmodels takes longer to load than the rest of the answer.

    The same on every row of a part, in strokes per round at the season's number of strokes:
    ``first_half`` and ``second_half`` of the rounds; ``change``, second less first, with its range
    for the part alone at ``level`` and, ``joint_low`` and ``joint_high``, the one that holds all
    parts at once in 95 seasons of 100; ``drift``, from first round to last along a straight line,
    with such a joint range. ``p``: how often luck moves some part as far, in the halves or along
    the line (the total: the whole game). ``shown_by``: ``halves`` or ``line`` where the verdict
    calls it a change. ``rounds`` and ``verdict``. Under 10 rounds nothing is judged. One player.
    """
    sums = round_sums(store, benchmark, selection, by=["part"])
    return trend_table(sums, round_sizes(store, selection), level, seed, curve=curve)


@bounded
def trend_table(
    sums: pd.DataFrame,
    sizes: pd.DataFrame,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    *,
    curve: bool = True,
) -> pd.DataFrame:
    """Return the trend of per-round sums; see ``trend``.

    ``sums``: part, round_key, n, total. ``sizes``: round_key, date, round, holes, in order of play.
    """
    grid = _grid(sums, sizes)
    if grid is None:
        return pd.DataFrame(columns=list(TREND_COLUMNS))
    value = grid.total / grid.weight[:, None]
    rounds, parts = value.shape
    out = {
        "gained_per_round": value,
        "rolling": _rolling(grid.total, grid.weight),
        **dict.fromkeys(("smoothed", "low", "high"), np.full_like(value, np.nan)),
    }
    if curve and rounds >= LEAST_ROUNDS:
        days = np.asarray(pd.to_datetime(sizes["date"]).map(pd.Timestamp.toordinal), float)
        found = smooth(days - days[0], value, grid.weight, level, seed=seed)
        out |= {"smoothed": found.value, "low": found.low, "high": found.high}
    frame = pd.DataFrame({"part": np.repeat(np.array(grid.parts, dtype=object), rounds)})
    for name in ("date", "round", "holes"):
        frame[name] = np.tile(sizes[name].to_numpy(), parts)
    frame["shots"] = grid.shots.T.ravel().astype(int)
    frame = frame.assign(**{name: values.T.ravel() for name, values in out.items()})
    whole = _over_the_season(grid, level, seed)
    frame = frame.assign(**{name: np.repeat(values, rounds) for name, values in whole.items()})
    return frame[list(TREND_COLUMNS)]


def _over_the_season(grid: _Grid, level: float, seed: int) -> dict[str, NDArray[Any]]:
    """Return ``OF_PART``, each of shape (parts,)."""
    rounds = len(grid.weight)
    cut = halves(rounds)
    asked = _asked(grid, cut) & (rounds >= LEAST_ROUNDS)
    found = _changes(grid, cut, asked, seed, line=True)
    rate, line = grid.rate, found.line
    change, drift = found.step.value * rate, line.value * rate
    alone = found.step.half_width(1 - level) * rate
    joint = found.step.half_width(found.alpha) * rate
    joint_line = line.half_width(found.alpha) * rate
    judged = {
        "change": change,
        "change_low": change - alone,
        "change_high": change + alone,
        "joint_low": change - joint,
        "joint_high": change + joint,
        "drift": drift,
        "drift_low": drift - joint_line,
        "drift_high": drift + joint_line,
    }
    shown = np.select([found.drifted, found.called], [BY_LINE, BY_HALVES], "")
    return {
        "first_half": found.first.value * rate,
        "second_half": found.second.value * rate,
        **{name: np.where(asked, values, np.nan) for name, values in judged.items()},
        "p": found.p,
        "shown_by": shown.astype(object),
        "rounds": np.full(len(rate), rounds),
        "verdict": _verdicts(found),
    }


@bounded
def season_halves(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return the two halves of the rounds that ``trend`` compares, two rows a part: see there.

    Columns: part, half (``first``, ``second``), start and end of its days, ``split``, where the
    halves meet: half way between the last round of one and the first of the other; rounds; mean
    (``first_half``, ``second_half`` of ``trend``) with its range at ``level``, missing where too
    few rounds are judged. One player.
    """
    sums = round_sums(store, benchmark, selection, by=["part"])
    return halves_table(sums, round_sizes(store, selection), level)


@bounded
def halves_table(
    sums: pd.DataFrame, sizes: pd.DataFrame, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return the halves of a season from per-round sums; see ``season_halves``."""
    grid = _grid(sums, sizes)
    if grid is None or len(grid.weight) < LEAST_IN_SHORT:
        return pd.DataFrame(columns=list(HALVES_COLUMNS))
    rounds = len(grid.weight)
    cut = halves(rounds)
    judged = _asked(grid, cut) & (rounds >= LEAST_ROUNDS)
    found = _changes(grid, cut, np.zeros_like(judged), SEED, line=False)
    dates = pd.to_datetime(sizes["date"]).reset_index(drop=True)
    split = dates[cut[0] - 1] + (dates[cut[1]] - dates[cut[0] - 1]) / 2
    days = {"first": (dates.iloc[0], split), "second": (split, dates.iloc[-1])}
    tables = []
    for half, fit in zip(days, (found.first, found.second), strict=True):
        mean = fit.value * grid.rate
        reach = np.where(judged, fit.half_width(1 - level) * grid.rate, np.nan)
        start, end = days[half]
        own = {"half": half, "start": start, "end": end, "split": split, "rounds": cut[0]}
        ends = {"mean": mean, "low": mean - reach, "high": mean + reach}
        tables.append(pd.DataFrame({"part": grid.parts, **own, **ends}))
    return pd.concat(tables, ignore_index=True)[list(HALVES_COLUMNS)]


def season_ends(trend: pd.DataFrame) -> pd.DataFrame:
    """Return one row per part of a trend: the ends of its curve and what is the same on each row.

    Columns: part, first_value and last_value of the smoothed curve, the last rolling mean, shots of
    all rounds, then ``OF_PART``.
    """
    parts = trend.groupby("part", sort=False)
    ends = parts.agg(
        first_value=("smoothed", "first"),
        last_value=("smoothed", "last"),
        rolling=("rolling", "last"),
        shots=("shots", "sum"),
    )
    return ends.join(parts[list(OF_PART)].first()).reset_index()


@bounded
def before_after(
    store: Store,
    split_date: date,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return gained per round before ``split_date`` and from it on, by part and in total.

    Strokes per round at the season's number of strokes of the part. ``difference``: after less
    before, with its range for the part alone at ``level`` and, ``joint_low`` and ``joint_high``,
    the one that holds all parts at once in 95 seasons of 100. ``p``: how often luck moves some part
    as far (the total: the whole game). One player.
    """
    sums = round_sums(store, benchmark, selection, by=["part"])
    return before_after_table(sums, round_sizes(store, selection), split_date, level, seed)


@bounded
def before_after_table(
    sums: pd.DataFrame,
    sizes: pd.DataFrame,
    split_date: date,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return the comparison of two stretches from per-round sums; see ``before_after``."""
    grid = _grid(sums, sizes)
    if grid is None:
        return pd.DataFrame(columns=list(BEFORE_AFTER_COLUMNS))
    after = from_day(sizes["date"], split_date)
    first = int((~after).sum())
    asked = _asked(grid, (first, first))
    found = _changes(grid, (first, first), asked, seed, line=False)
    rate = grid.rate
    before, later, difference = (
        fit.value * rate for fit in (found.first, found.second, found.step)
    )
    of_before, of_later, alone = (
        np.where(asked, fit.half_width(1 - level) * rate, np.nan)
        for fit in (found.first, found.second, found.step)
    )
    joint = found.step.half_width(found.alpha) * rate
    return pd.DataFrame(
        {
            "part": grid.parts,
            "before": before,
            "before_low": before - of_before,
            "before_high": before + of_before,
            "after": later,
            "after_low": later - of_later,
            "after_high": later + of_later,
            "difference": difference,
            "low": difference - alone,
            "high": difference + alone,
            "joint_low": difference - joint,
            "joint_high": difference + joint,
            "rounds_before": first,
            "rounds_after": len(after) - first,
            "shots_before": grid.shots[~after].sum(axis=0).astype(int),
            "shots_after": grid.shots[after].sum(axis=0).astype(int),
            "p": found.p,
            "verdict": _verdicts(found),
        },
        columns=list(BEFORE_AFTER_COLUMNS),
    )


def _asked(grid: _Grid, cut: tuple[int, int]) -> NDArray[np.bool_]:
    """Return which parts have rounds enough on both sides of the cut to be judged."""
    least = MIN_ROUNDS if len(grid.weight) >= SHORT_SEASON else LEAST_IN_SHORT
    return enough(grid.strokes, cut, least)


def _changes(
    grid: _Grid, cut: tuple[int, int], asked: NDArray[np.bool_], seed: int, *, line: bool
) -> Change:
    """Return what changed: parts are judged together; the total is one question by itself."""
    family = np.zeros(len(asked), int)
    family[-1] = 1
    rng = np.random.default_rng(seed)
    return changes(grid.total, grid.strokes, cut, asked, family, rng, line=line)


def _verdicts(found: Change) -> NDArray[np.object_]:
    words = np.select(
        [np.isnan(found.p), found.called], [NOT_ENOUGH_ROUNDS, MORE_THAN_NOISE], WITHIN_NOISE
    )
    return words.astype(object)


class _Grid(NamedTuple):
    """The season by round and part, ``total`` last.

    ``shots``, ``total``: counts and sums, (rounds, parts); ``weight``: (rounds,), holes of 18;
    ``strokes``: what the sums are divided by, strokes of a part, rounds of 18 holes of the total;
    ``rate``: (parts,), how much of that an average round of 18 holes has.
    """

    parts: list[str]
    shots: Floats
    total: Floats
    weight: Floats
    strokes: Floats
    rate: Floats


def _grid(sums: pd.DataFrame, sizes: pd.DataFrame) -> _Grid | None:
    """Return the season as arrays; None where there is no stroke at all."""
    if not len(sums):
        return None
    table = sums.pivot_table(
        index="round_key", columns="part", values=["n", "total"], aggfunc="sum"
    )
    parts = [part for part in PART_NAMES if part in table["n"].columns]
    table = table.reindex(sizes["round_key"]).fillna(0.0)
    shots, total = (table[name][parts].to_numpy(float) for name in ("n", "total"))
    weight = sizes["holes"].to_numpy(float) / HOLES_PER_ROUND
    strokes = np.column_stack([shots, weight])
    return _Grid(
        parts=[*parts, TOTAL],
        shots=np.column_stack([shots, shots.sum(axis=1)]),
        total=np.column_stack([total, total.sum(axis=1)]),
        weight=weight,
        strokes=strokes,
        rate=strokes.sum(axis=0) / weight.sum(),
    )


def _rolling(total: Floats, weight: Floats) -> Floats:
    """Return the mean per 18 holes of the last rounds; NaN until there are enough."""
    sums = pd.DataFrame(total).rolling(ROLLING).sum().to_numpy()
    holes = pd.Series(weight).rolling(ROLLING).sum().to_numpy()
    rolled: Floats = sums / holes[:, None]
    return rolled
