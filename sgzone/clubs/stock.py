"""Stock carries: how far each swing carries, how it scatters, and where the ladder has holes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.clubs.shots import (
    COURSE,
    GOOD_LIES,
    club_shots,
    stock_balls,
    stock_swings,
    with_carry,
)
from sgzone.clubs.spreads import swing_spreads
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats import robust
from sgzone.terms import DEFAULT_LEVEL
from sgzone.units import FT_PER_YD

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

GAP_YD = 12.0
"""A step of the ladder wider than this is marked; the user's setting."""
COVER_YD = 3.0
"""Two stock swings closer than this overlap; a number farther from every one is not covered."""
FEW = 5
"""Under this many shots a swing has the pooled spread only, and is listed but not drawn."""
FACTS = ("pooled", "inferred")
"""What a note is made of, beside the shots: whether the spread is that of the other swings, and
whether finishes stand for carries that nobody wrote down."""

MOST_SHOWN = 42
"""Swings that one page shows: 14 clubs, the most that a bag holds, by 3 swings."""

STOCK_COLUMNS = (
    *("source", "club", "swing", "carry_yd", "low", "high", "meant_yd", "shots"),
    *("depth_sd_ft", "depth_sd_low_ft", "depth_sd_high_ft", "side_sd_ft"),
    *("side_sd_low_ft", "side_sd_high_ft", "raw_depth_sd_ft", "spread_shots", "mishit_share"),
    *("release_yd", "release_sd_yd", "release_shots", "gap_yd", "gap_low", "gap_high", "step"),
    *FACTS,
)
WIDE_GAP, OVERLAP, NOT_APART = "wide gap", "overlap", "not shown to be apart"


@dataclass(frozen=True, slots=True)
class Stocks:
    """The player's swings, arrays of shape (swings,), by carry; yards in calm air on the level.

    ``carry``: median; ``meant``: median carry meant, NaN where not written down; ``n``: carries;
    ``inferred``: from finishes.
    """

    swings: pd.MultiIndex
    carry: Floats
    meant: Floats
    n: Floats
    inferred: NDArray[np.bool_]


def stocks(shots: pd.DataFrame) -> Stocks:
    """Return the median carry of every club and swing that has one, shortest first."""
    balls = with_carry(stock_balls(stock_swings(shots)))
    balls = balls[balls["carry"].notna()]
    cells = balls.groupby(["club", "swing"])
    table = cells.agg(
        carry=("carry", "median"),
        meant=("meant", "median"),
        n=("carry", "size"),
        inferred=("inferred", "first"),
    )
    table = table.sort_values("carry", kind="stable")
    swings = pd.MultiIndex.from_tuples(list(table.index), names=["club", "swing"])
    return Stocks(
        swings,
        table["carry"].to_numpy(float),
        table["meant"].to_numpy(float),
        table["n"].to_numpy(float),
        table["inferred"].to_numpy(bool),
    )


@bounded
def clubs(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    source: str = COURSE,
    gap_yd: float = GAP_YD,
) -> pd.DataFrame:
    """Return the ladder of stock swings, shortest first, one row per club and swing.

    ``carry_yd``: median carry with its interval, ``meant_yd`` what was meant. Spreads at that
    carry, feet, adjusted for few shots, with their intervals; ``raw_depth_sd_ft`` beside.
    ``release_yd``: how far the ball runs. ``gap_yd``: to the next longer swing, with its interval;
    ``step`` marks gaps wider than ``gap_yd`` and overlaps. ``source``: course, test or range balls;
    never mixed. ``benchmark`` only lends a spread where the player has few shots. Columns:
    ``STOCK_COLUMNS``.
    """
    curve = in_store(store, benchmark)
    shots = club_shots(store, selection, source)
    run = shots if source == COURSE else club_shots(store, selection, COURSE)
    return stock_table(shots, run, curve, level, gap_yd)


def often_hit(ladder: pd.DataFrame) -> pd.DataFrame:
    """Return the swings of a ladder with shots enough to be drawn.

    A step to a swing that is left out is blank: it is no step of what is drawn.
    """
    few = ladder["shots"] < FEW
    to_few = few.shift(-1, fill_value=False)
    return ladder.assign(step=ladder["step"].mask(to_few, ""))[~few].reset_index(drop=True)


def most_played(ladder: pd.DataFrame, most: int = MOST_SHOWN) -> pd.DataFrame:
    """Return the rows of the ladder with most shots, at most so many, in their own order."""
    kept = ladder["shots"].sort_values(ascending=False, kind="stable").index[:most]
    return ladder[ladder.index.isin(kept)].reset_index(drop=True)


@bounded
def stock_table(
    shots: pd.DataFrame,
    run: pd.DataFrame,
    benchmark: Benchmark,
    level: float = DEFAULT_LEVEL,
    gap_yd: float = GAP_YD,
) -> pd.DataFrame:
    """Return the ladder of ``shots`` (``club_shots``); ``run``: course shots, for the release."""
    stock = stocks(shots)
    if not len(stock.carry):
        return pd.DataFrame(columns=list(STOCK_COLUMNS))
    spread = swing_spreads(shots, stock.swings, stock.carry, "fairway", benchmark)
    feet = stock.carry * FT_PER_YD
    sd_yd = spread.depth_sd * stock.carry
    low, high = robust.median_interval(stock.carry, sd_yd, stock.n, spread.df, level)
    release = releases(run, stock.swings)
    table = stock.swings.to_frame(index=False)
    table.insert(0, "source", str(shots["source"].iloc[0]))
    table = table.assign(
        carry_yd=stock.carry,
        low=low,
        high=high,
        meant_yd=stock.meant,
        shots=stock.n.astype(int),
        raw_depth_sd_ft=_raw_sd(shots, stock.swings) * feet,
        spread_shots=spread.n.astype(int),
        mishit_share=spread.mishits,
        **release,
    )
    for name, sd in (("depth", spread.depth_sd), ("side", spread.side_sd)):
        ends = robust.sd_interval(sd, spread.df, level)
        table[f"{name}_sd_ft"] = sd * feet
        table[f"{name}_sd_low_ft"], table[f"{name}_sd_high_ft"] = (end * feet for end in ends)
    table = table.assign(**_steps(stock, sd_yd, level, gap_yd))
    table = table.assign(pooled=spread.n < FEW, inferred=stock.inferred)
    return table[list(STOCK_COLUMNS)]


def releases(run: pd.DataFrame, swings: pd.MultiIndex) -> dict[str, NDArray[np.generic]]:
    """Return how far the ball runs after it lands, yards, by swing, from course shots.

    ``release_yd``: median, ``release_sd_yd``, ``release_shots``; NaN where no carry was recorded.
    """
    rows = run[run["carry_yd"].notna() & run["depth_ft"].notna()]
    cell = swings.get_indexer(pd.MultiIndex.from_frame(rows[["club", "swing"]]))
    rows, cell = rows[cell >= 0], cell[cell >= 0]
    value = (rows["target_yd"] + rows["depth_ft"] / FT_PER_YD - rows["carry_yd"]).to_numpy(float)
    n, variance = robust.variances(cell, value, len(swings))
    return {
        "release_yd": robust.medians(cell, value, len(swings)),
        "release_sd_yd": np.sqrt(variance),
        "release_shots": n.astype(int),
    }


def _raw_sd(shots: pd.DataFrame, swings: pd.MultiIndex) -> Floats:
    rows = shots[
        shots["lie"].isin(GOOD_LIES) & shots["depth_ft"].notna() & shots["side_ft"].notna()
    ]
    cell = swings.get_indexer(pd.MultiIndex.from_frame(rows[["club", "swing"]]))
    rows, cell = rows[cell >= 0], cell[cell >= 0]
    share = (rows["depth_ft"] / rows["target_yd"] / FT_PER_YD).to_numpy(float)
    sd: Floats = np.sqrt(robust.variances(cell, share, len(swings))[1])
    return sd


def _steps(
    stock: Stocks, sd_yd: Floats, level: float, gap_yd: float
) -> dict[str, NDArray[np.generic]]:
    """Return each step to the next longer swing, its interval and its mark."""
    gap = np.append(np.diff(stock.carry), np.nan)
    variance = np.pi / 2 * sd_yd**2 / stock.n
    se = np.sqrt(variance + np.append(variance[1:], np.nan))
    half = robust.normal_half(level) * se
    words = np.select(
        [np.isnan(gap), gap > gap_yd, gap < COVER_YD, gap < half],
        ["", WIDE_GAP, OVERLAP, NOT_APART],
        "",
    )
    return {
        "gap_yd": gap,
        "gap_low": gap - half,
        "gap_high": gap + half,
        "step": words.astype(object),
    }
