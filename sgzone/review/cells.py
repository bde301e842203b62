"""Cells of strokes: per-round sums in, estimates with their intervals and verdicts out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.review.enough import MARGIN, margin
from sgzone.stats import cluster, shrink, verdict
from sgzone.terms import BANDS

ROUND_KEYS = ("player", "event", "course", "month")
"""Keys that hold for a whole round: a cell is judged over the rounds of its own value."""

HOLES_PER_ROUND = 18

DESIGN_SPREAD = (0.05, 0.05, 0.10, 0.05)
"""Prior sd, in strokes per shot, of what putting, rough, sand and the last 30 yards off the green
do."""
_PLACES = ("part", "band", "lie")
_SHORT = {"chip_0_30", *(b.name for b in BANDS if not b.on_green and b.high_ft <= 90)}

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Cells:
    """Cells and what each round put into them.

    ``keys``: one row per cell, the key columns. ``cell`` (rising), ``n``, ``total``, ``squares``:
    per cell and round with a scored stroke; ``weight``: holes / 18 of that round. ``shots``,
    ``unscored``, ``unvalued`` (those of them with a known end), ``rounds``: per cell. ``over``:
    the rounds each cell is judged over. ``player``: code per cell. ``putts``: share of putts per
    cell. ``design``: (cells, 4), shares of putts, rough and sand, and whether short; putts only,
    (cells, 1), where the keys say nothing of the place.
    """

    keys: pd.DataFrame
    cell: cluster.Ints
    n: Floats
    total: Floats
    squares: Floats
    weight: Floats
    shots: Floats
    unscored: Floats
    unvalued: Floats
    rounds: cluster.Ints
    over: cluster.RoundTotals
    player: cluster.Ints
    putts: Floats
    design: Floats


def gather(sums: pd.DataFrame, sizes: pd.DataFrame, keys: Sequence[str]) -> Cells:
    """Return the cells of ``keys``.

    ``sums``: the keys, lie, player, round_key, n, total, squares, unscored, unvalued
    (``round_sums``).
    ``sizes``: player, round_key, holes (``round_sizes``). A missing key is a cell of its own.
    No keys: one cell per player of all strokes.
    """
    sums = sums.merge(sizes[["round_key", "holes"]], on="round_key")
    by = list(dict.fromkeys(["player", *keys]))
    cell = sums.groupby(by, dropna=False, observed=True, sort=False).ngroup().to_numpy()
    first = sums.loc[~pd.Series(cell).duplicated(), by].reset_index(drop=True)
    count = len(first)
    shots = cluster.sums(cell, sums["n"], count)
    rows = sums.groupby([cell, "round_key"], sort=True)[["n", "total", "squares"]].sum()
    rows = rows[rows["n"] > 0]
    at = rows.index.get_level_values(0).to_numpy(int)
    holes = sizes.set_index("round_key")["holes"]
    weight = holes.loc[rows.index.get_level_values(1)].to_numpy(float) / HOLES_PER_ROUND
    return Cells(
        keys=first[[*keys]],
        cell=at,
        n=rows["n"].to_numpy(float),
        total=rows["total"].to_numpy(float),
        squares=rows["squares"].to_numpy(float),
        weight=weight,
        shots=shots,
        unscored=cluster.sums(cell, sums["unscored"], count),
        unvalued=cluster.sums(cell, sums["unvalued"], count),
        rounds=np.bincount(at, minlength=count),
        over=_rounds_judged(sums, sizes, first, by),
        player=pd.factorize(first["player"])[0],
        putts=_share(cell, sums, "green", shots),
        design=_design(cell, sums, shots, first[[*keys]]),
    )


def estimates(cells: Cells, level: float) -> pd.DataFrame:
    """Return gained per shot and per round of each cell, with cluster-robust t intervals."""
    shot = cluster.per_unit(cells.cell, cells.n, cells.total, len(cells.keys), level)
    whole = cluster.per_round(cells.cell, cells.weight, cells.total, cells.over, level)
    some = cells.shots > 0
    return pd.DataFrame(
        {
            "gained_per_shot": shot.estimate,
            "low": shot.low,
            "high": shot.high,
            "gained_per_round": np.where(some, whole.estimate, np.nan),
            "low_per_round": np.where(some, whole.low, np.nan),
            "high_per_round": np.where(some, whole.high, np.nan),
        }
    )


def adjusted(cells: Cells, level: float) -> pd.DataFrame:
    """Return gained per shot adjusted for few shots, with interval and verdict, per cell.

    Cells of one player lean on each other, never on another player's.
    """
    count = len(cells.keys)
    values = np.full((3, count), np.nan)
    words = np.full(count, verdict.NOT_SETTLED, dtype=object)
    too_small = margin(cells.putts)
    for player in np.unique(cells.player):
        chosen = np.flatnonzero((cells.player == player) & (cells.shots > 0))
        posterior = posterior_of(cells, chosen)
        if posterior is None:
            continue
        values[0, chosen] = posterior.mean
        values[1, chosen] = posterior.quantile(0.5 - level / 2)
        values[2, chosen] = posterior.quantile(0.5 + level / 2)
        words[chosen] = verdict.verdicts(posterior, too_small[chosen])
    names = ("shrunk_per_shot", "shrunk_low", "shrunk_high")
    return pd.DataFrame({**dict(zip(names, values, strict=True)), "verdict": words})


def posterior_of(cells: Cells, chosen: cluster.Ints) -> shrink.Posterior | None:
    """Return the posterior of one player's cells; None where no variance can be had."""
    rows, cell = _rows_of(cells, chosen)
    n, total, squares = cells.n[rows], cells.total[rows], cells.squares[rows]
    noise = shrink.observation_noise(cell, n, total, squares, len(chosen))
    if not np.isfinite(noise.variance).all():
        return None
    shots = cells.shots[chosen]
    mean = cluster.sums(cell, total, len(chosen)) / shots
    variance = shrink.cell_variances(shots, cells.rounds[chosen], noise)
    design = cells.design[chosen]
    # Putts differ less than other strokes do, by about as much as their margin is smaller.
    scale = margin(cells.putts[chosen]) / MARGIN
    return shrink.shrink(mean, variance, design, DESIGN_SPREAD[: design.shape[1]], scale)


def _rows_of(cells: Cells, chosen: cluster.Ints) -> tuple[cluster.Ints, cluster.Ints]:
    """Return the rows of the chosen cells, and for each its place among the chosen.

    By bisection, as the rows are in the order of the cells: looking at every row for every player
    would take a federation's file time in the square of its players.
    """
    first, last = (np.searchsorted(cells.cell, chosen, side) for side in ("left", "right"))
    count = last - first
    place = np.repeat(np.arange(len(chosen)), count)
    step = np.arange(len(place)) - np.repeat(np.cumsum(count) - count, count)
    return first[place] + step, place


def _share(cell: cluster.Ints, sums: pd.DataFrame, lie: str, shots: Floats) -> Floats:
    """Return the share of each cell's scored strokes that start from ``lie``."""
    of_lie = cluster.sums(cell, sums["n"].where(sums["lie"] == lie, 0), len(shots))
    return of_lie / np.maximum(shots, 1)


def _design(cell: cluster.Ints, sums: pd.DataFrame, shots: Floats, keys: pd.DataFrame) -> Floats:
    putts, rough, sand = (_share(cell, sums, lie, shots) for lie in ("green", "rough", "sand"))
    places = [name for name in _PLACES if name in keys.columns]
    if not places:
        return putts[:, None]
    short = keys[places].isin(_SHORT).any(axis=1).to_numpy(float)
    return np.column_stack([putts, rough, sand, short])


def _rounds_judged(
    sums: pd.DataFrame, sizes: pd.DataFrame, first: pd.DataFrame, by: Sequence[str]
) -> cluster.RoundTotals:
    """Return, per cell, the rounds it is judged over.

    Those of the player, or of the player at that course, event or month where that is a key.
    """
    shared = [name for name in ROUND_KEYS if name in by]
    rounds = sizes[["player", "round_key", "holes"]]
    if shared != ["player"]:
        rounds = sums[[*shared, "round_key", "holes"]].drop_duplicates()
    weight = rounds["holes"] / HOLES_PER_ROUND
    table = rounds[shared].assign(rounds=1, weight=weight, square=weight**2)
    table = table.groupby(shared, dropna=False, observed=True).sum().reset_index()
    found = first[shared].merge(table, on=shared, how="left")
    return cluster.RoundTotals(
        found["rounds"].to_numpy(int),
        found["weight"].to_numpy(float),
        found["square"].to_numpy(float),
    )
