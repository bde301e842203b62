"""Two seasons, or one season against two benchmarks, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from scipy.special import stdtrit

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.scoring.gained import round_sizes
from sgzone.season.selection import Selection
from sgzone.stats.cluster import welch
from sgzone.terms import DEFAULT_LEVEL, PART_NAMES

if TYPE_CHECKING:
    from sgzone.season.store import Store

_VALUES = ("shots", "rounds", "gained_per_round", "low_per_round", "high_per_round")
AGAINST_COLUMNS = (
    "part",
    *_VALUES,
    *(f"{name}_other" for name in _VALUES),
    *("difference", "difference_low", "difference_high", "joint_low", "joint_high"),
)
JOINT = 0.05
"""How often the ranges of all parts at once may leave out a truth; the total is one by itself."""


@bounded
def two_benchmarks(
    store: Store,
    curve: Benchmark,
    other: Benchmark,
    selection: Selection,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return one row per part and ``total``, ``AGAINST_COLUMNS``: the same strokes, two curves.

    ``difference``: gained per round against ``curve`` less that against ``other``. It has no
    interval: both rest on the same strokes, so it tells the curves apart and not the player.
    """
    table = _joined(*(_parts(store, c, selection, level) for c in (curve, other)))
    nothing = np.full(len(table), np.nan)
    return _with_difference(table, nothing, nothing)


@bounded
def two_seasons(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    other: Selection,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return one row per part and ``total``, ``AGAINST_COLUMNS``: two sets of rounds, one curve.

    ``difference``: gained per round in ``selection`` less that in ``other``, with Welch's interval
    from the round-based ones; missing where either has too few shots. ``joint_low`` and
    ``joint_high``: the same, wide enough for all parts at once in 95 seasons of 100 (Bonferroni),
    the total's for itself. Raises ``CallError`` where the two share a round: their difference would
    have no such interval.
    """
    sizes = [round_sizes(store, chosen) for chosen in (selection, other)]
    shared = set(sizes[0]["round_key"]) & set(sizes[1]["round_key"])
    if shared:
        raise CallError(
            f"the two spans share {len(shared)} rounds, so they cannot be compared. Choose the "
            "first with --since and --until so that they do not overlap."
        )
    table = _joined(*(_parts(store, curve, chosen, level) for chosen in (selection, other)))
    halves = [
        (table[f"high_per_round{end}"] - table[f"low_per_round{end}"]).to_numpy(float) / 2
        for end in ("", "_other")
    ]
    rounds = (len(sizes[0]), len(sizes[1]))
    half = _welch(*halves, rounds=rounds, level=level)
    chance = joint_chance(table["part"], np.isfinite(half))
    return _with_difference(table, half, _welch(*halves, rounds=rounds, level=level, chance=chance))


def joint_chance(parts: pd.Series, known: np.ndarray) -> np.ndarray:
    """Return how often the range of each part may miss for all to be right at once.

    ``known``: which rows have a range; the total is one question by itself.
    """
    whole = (parts == TOTAL).to_numpy()
    return np.where(whole, JOINT, JOINT / max(int((known & ~whole).sum()), 1))


def _welch(
    half: np.ndarray,
    half_other: np.ndarray,
    *,
    rounds: Sequence[int],
    level: float,
    chance: np.ndarray | None = None,
) -> np.ndarray:
    """Return the half width of the difference of two means from their own half widths at ``level``.

    ``chance``: how often the range of each may miss; None: as ``level`` says.
    """
    if min(rounds) < 2:
        return np.full(len(half), np.nan)
    df = [count - 1.0 for count in rounds]
    squares = [
        (h / stdtrit(f, 0.5 + level / 2)) ** 2 for h, f in zip((half, half_other), df, strict=True)
    ]
    se, joint = welch(squares[0], df[0], squares[1], df[1])
    miss = np.full(len(half), 1 - level) if chance is None else chance
    width: np.ndarray = -stdtrit(joint, miss / 2) * se
    return width


def _parts(store: Store, curve: Benchmark, selection: Selection, level: float) -> pd.DataFrame:
    table = summarise(store, curve, selection, ["part", TOTAL], level)
    return table.loc[table["shots"] > 0, ["part", *_VALUES]]


def _joined(first: pd.DataFrame, second: pd.DataFrame) -> pd.DataFrame:
    both = first.merge(second, on="part", how="outer", suffixes=("", "_other"))
    counts = [f"{name}{end}" for name in ("shots", "rounds") for end in ("", "_other")]
    both[counts] = both[counts].fillna(0).astype(int)
    order = {part: place for place, part in enumerate((*PART_NAMES, TOTAL))}
    places = both["part"].map(order).sort_values(kind="stable").index
    return both.loc[places].reset_index(drop=True)


def _with_difference(table: pd.DataFrame, half: np.ndarray, joint: np.ndarray) -> pd.DataFrame:
    gap = table["gained_per_round"] - table["gained_per_round_other"]
    whole = table.assign(
        difference=gap,
        difference_low=gap - half,
        difference_high=gap + half,
        joint_low=gap - joint,
        joint_high=gap + joint,
    )
    return whole[list(AGAINST_COLUMNS)]
