"""The season over time: strokes gained per round by part, smoothed, and whether it is a change.

Per round means per 18 holes; a short round counts for its holes only.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.stats import t as student_t

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.review.beside.grouping import from_day
from sgzone.review.where.cells import HOLES_PER_ROUND
from sgzone.scoring import round_sizes, round_sums
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED
from sgzone.stats.smooth import smooth
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE
from sgzone.stats.welch import welch
from sgzone.terms import DEFAULT_LEVEL, MIN_ROUNDS, PART_NAMES

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

TOTAL = "total"
ROLLING = 5
"""Rounds of the moving mean."""
LEAST_ROUNDS = 10
"""Fewer are not smoothed: a curve through them is mostly their own noise."""
CHANCE = 0.05

TREND_COLUMNS = (
    *("part", "date", "round", "holes", "shots", "gained_per_round", "rolling"),
    *("smoothed", "low", "high", "change", "change_low", "change_high", "p", "rounds", "verdict"),
)
BEFORE_AFTER_COLUMNS = (
    *("part", "before", "after", "difference", "low", "high", "rounds_before", "rounds_after"),
    *("shots_before", "shots_after", "p", "verdict"),
)


@bounded
def trend(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return one row per part and round in order of play, and of all parts together (``total``).

    ``gained_per_round``: strokes per 18 holes of that round. ``rolling``: the mean of the last 5
    rounds. ``smoothed``: lowess over the dates with its pointwise band at ``level``. The same on
    every row of a part: ``change`` (last less first smoothed value, strokes per round, with its
    interval), ``p`` (chance of a curve this far from level in random order, corrected for looking
    at several parts), ``rounds`` and ``verdict``. Under 10 rounds nothing is smoothed. One player.
    """
    sums = round_sums(store, benchmark, selection, by=["part"])
    return trend_table(sums, round_sizes(store, selection), level, seed)


@bounded
def trend_table(
    sums: pd.DataFrame, sizes: pd.DataFrame, level: float = DEFAULT_LEVEL, seed: int = SEED
) -> pd.DataFrame:
    """Return the trend of per-round sums; see ``trend``.

    ``sums``: part, round_key, n, total. ``sizes``: round_key, date, round, holes, in order of play.
    """
    grid = _grid(sums, sizes)
    if grid is None:
        return pd.DataFrame(columns=list(TREND_COLUMNS))
    parts, shots, total, weight = grid
    value = total / weight[:, None]
    out = {
        "gained_per_round": value,
        "rolling": _rolling(total, weight),
        **dict.fromkeys(("smoothed", "low", "high"), np.full_like(value, np.nan)),
    }
    whole = {
        name: np.full(len(parts), np.nan) for name in ("change", "change_low", "change_high", "p")
    }
    words = np.full(len(parts), NOT_ENOUGH_ROUNDS, dtype=object)
    if len(weight) >= LEAST_ROUNDS:
        days = np.asarray(pd.to_datetime(sizes["date"]).map(pd.Timestamp.toordinal), float)
        found = smooth(days - days[0], value, weight, level, seed=seed)
        out |= {"smoothed": found.value, "low": found.low, "high": found.high}
        whole |= {
            "change": found.change,
            "change_low": found.change_low,
            "change_high": found.change_high,
            "p": corrected(found.p),
        }
        words = np.where(whole["p"] < CHANCE, MORE_THAN_NOISE, WITHIN_NOISE).astype(object)
    n = len(weight)
    frame = pd.DataFrame({"part": np.repeat(np.array(parts, dtype=object), n)})
    for name in ("date", "round", "holes"):
        frame[name] = np.tile(sizes[name].to_numpy(), len(parts))
    frame["shots"] = shots.T.ravel().astype(int)
    frame = frame.assign(**{name: values.T.ravel() for name, values in out.items()})
    frame = frame.assign(**{name: np.repeat(values, n) for name, values in whole.items()})
    frame["rounds"], frame["verdict"] = n, np.repeat(words, n)
    return frame[list(TREND_COLUMNS)]


def season_ends(trend: pd.DataFrame) -> pd.DataFrame:
    """Return one row per part of a trend: the ends of its curve and what is the same on each row.

    Columns: part, first_value and last_value of the smoothed curve, the last rolling mean, shots of
    all rounds, then change, change_low, change_high, p, rounds, verdict.
    """
    parts = trend.groupby("part", sort=False)
    ends = parts.agg(
        first_value=("smoothed", "first"),
        last_value=("smoothed", "last"),
        rolling=("rolling", "last"),
        shots=("shots", "sum"),
    )
    whole = ["change", "change_low", "change_high", "p", "rounds", "verdict"]
    return ends.join(parts[whole].first()).reset_index()


@bounded
def before_after(
    store: Store,
    split_date: date,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return gained per round before ``split_date`` and from it on, by part and in total.

    ``difference``: after less before, strokes per round, with its interval over rounds (Welch's t).
    ``p``: two-sided, corrected for looking at several parts. One player.
    """
    sums = round_sums(store, benchmark, selection, by=["part"])
    return before_after_table(sums, round_sizes(store, selection), split_date, level)


@bounded
def before_after_table(
    sums: pd.DataFrame, sizes: pd.DataFrame, split_date: date, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return the comparison of two stretches from per-round sums; see ``before_after``."""
    grid = _grid(sums, sizes)
    if grid is None:
        return pd.DataFrame(columns=list(BEFORE_AFTER_COLUMNS))
    parts, shots, total, weight = grid
    after = from_day(sizes["date"], split_date)
    one, other = (_stretch(total[rows], weight[rows]) for rows in (~after, after))
    difference = other.mean - one.mean
    se, df = welch(one.variance, one.rounds - 1, other.variance, other.rounds - 1)
    half = student_t.ppf(0.5 + level / 2, df) * se
    p = np.asarray(2 * student_t.sf(np.abs(difference) / se, df))
    enough = min(one.rounds, other.rounds) >= MIN_ROUNDS
    p = corrected(p) if enough else np.full_like(p, np.nan)
    words = np.where(p < CHANCE, MORE_THAN_NOISE, WITHIN_NOISE).astype(object)
    return pd.DataFrame(
        {
            "part": parts,
            "before": one.mean,
            "after": other.mean,
            "difference": difference,
            "low": np.where(enough, difference - half, np.nan),
            "high": np.where(enough, difference + half, np.nan),
            "rounds_before": int(one.rounds),
            "rounds_after": int(other.rounds),
            "shots_before": shots[~after].sum(axis=0).astype(int),
            "shots_after": shots[after].sum(axis=0).astype(int),
            "p": p,
            "verdict": words if enough else NOT_ENOUGH_ROUNDS,
        },
        columns=list(BEFORE_AFTER_COLUMNS),
    )


def corrected(p: Floats) -> Floats:
    """Return p-values corrected for how many parts were looked at (Holm); NaN where unknown.

    The last one, the total, stands for itself: it is the first question and only one.
    statsmodels' function does the same and asks for a collection of garbage, ten times the price
    of everything else here.
    """
    known = np.isfinite(p)
    known[-1] = False
    out = p.copy()
    sizes, order = p[known], np.argsort(p[known])
    steps = sizes[order] * np.arange(len(order), 0, -1)
    sizes[order] = np.minimum(np.maximum.accumulate(steps), 1.0)
    out[known] = sizes
    return out


class _Stretch(NamedTuple):
    """Mean per round of each part, its variance, and the number of rounds."""

    mean: Floats
    variance: Floats
    rounds: float


def _stretch(total: Floats, weight: Floats) -> _Stretch:
    rounds = float(len(weight))
    if rounds < 2:
        blank = np.full(total.shape[1], np.nan)
        whole = total.sum(axis=0) / weight.sum() if rounds else blank
        return _Stretch(whole, blank, rounds)
    mean = total.sum(axis=0) / weight.sum()
    error = ((total - weight[:, None] * mean) ** 2).sum(axis=0)
    return _Stretch(mean, (rounds / (rounds - 1)) ** 2 * error / weight.sum() ** 2, rounds)


def _grid(
    sums: pd.DataFrame, sizes: pd.DataFrame
) -> tuple[list[str], Floats, Floats, Floats] | None:
    """Return the parts with ``total`` last, shots and sums (rounds, parts), and round weights.

    A round without a stroke of a part counts as 0 there. None where there is no stroke at all.
    """
    if not len(sums):
        return None
    table = sums.pivot_table(
        index="round_key", columns="part", values=["n", "total"], aggfunc="sum"
    )
    parts = [part for part in PART_NAMES if part in table["n"].columns]
    table = table.reindex(sizes["round_key"]).fillna(0.0)
    shots, total = (table[name][parts].to_numpy(float) for name in ("n", "total"))
    shots = np.column_stack([shots, shots.sum(axis=1)])
    total = np.column_stack([total, total.sum(axis=1)])
    weight = sizes["holes"].to_numpy(float) / HOLES_PER_ROUND
    return [*parts, TOTAL], shots, total, weight


def _rolling(total: Floats, weight: Floats) -> Floats:
    """Return the mean per 18 holes of the last rounds; NaN until there are enough."""
    sums = pd.DataFrame(total).rolling(ROLLING).sum().to_numpy()
    holes = pd.Series(weight).rolling(ROLLING).sum().to_numpy()
    rolled: Floats = sums / holes[:, None]
    return rolled
