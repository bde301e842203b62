"""Cells of strokes: per-round sums in, estimates with their intervals and verdicts out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.review.where.enough import MARGIN, margin
from sgzone.stats import cluster, shrink, verdict
from sgzone.terms import BANDS

ROUND_KEYS = ("player", "event", "course", "month")
"""Keys that hold for a whole round: a cell is judged over the rounds of its own value."""

HOLES_PER_ROUND = 18

DESIGN_SPREAD = (0.05, 0.05, 0.10, 0.05)
"""Prior sd, in strokes per shot, of what putting, rough, sand and the last 30 yards off the green
do."""
ODD_CELL = 0.5
"""How likely it is that one of a player's cells is unlike the rest of the game."""
CELLS_AT_A_TIME = 512
"""Cells whose posteriors are held in memory at once, more where one player has more."""
OF_LIES = ("green", "rough", "sand")
"""Lies whose share of a cell's strokes tells what the cell leans on."""
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

    ``sums``: the keys, player, round_key, n, total, squares, unscored, unvalued and the counts of
    ``OF_LIES`` (``round_sums``).
    ``sizes``: player, round_key, holes (``round_sizes``). A missing key is a cell of its own.
    No keys: one cell per player of all strokes.
    """
    by = list(dict.fromkeys(["player", *keys]))
    met = _Met(
        round=pd.Index(sizes["round_key"]).get_indexer(sums["round_key"]),
        player=pd.factorize(sizes["player"])[0],
        weight=sizes["holes"].to_numpy(float) / HOLES_PER_ROUND,
    )
    runs = _numbered_by(sums, met, by)
    first = runs.first
    shots, unscored, unvalued, *lies = (
        runs.sums(sums[name]) for name in ("n", "unscored", "unvalued", *OF_LIES)
    )
    at, round_, (n, total, squares) = _by_round(sums, met, runs.of_rows(len(sums)))
    shares = {lie: own / np.maximum(shots, 1) for lie, own in zip(OF_LIES, lies, strict=True)}
    whole = _in_words(sums[[*keys]].iloc[first].reset_index(drop=True))
    return Cells(
        keys=whole,
        cell=at,
        n=n,
        total=total,
        squares=squares,
        weight=met.weight[round_],
        shots=shots,
        unscored=unscored,
        unvalued=unvalued,
        rounds=np.bincount(at, minlength=len(first)),
        over=_rounds_judged(sums, met, first, by),
        player=met.player[met.round[first]],
        putts=shares["green"],
        design=_design(shares, whole),
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

    Cells of one player lean on each other, never on another player's. ``held_back``: the other
    cells alone would have given a word that the cell's own strokes speak against.
    """
    count = len(cells.keys)
    values = np.full((3, count), np.nan)
    words = np.full(count, verdict.NOT_SETTLED, dtype=object)
    too_small = margin(cells.putts)
    for block in _blocks(cells):
        chosen, posterior = posterior_of(cells, block)
        values[0, chosen] = posterior.mean
        values[1, chosen] = posterior.quantile(0.5 - level / 2)
        values[2, chosen] = posterior.quantile(0.5 + level / 2)
        words[chosen] = shrink.verdicts(posterior, too_small[chosen])
    with np.errstate(invalid="ignore"):
        own = cluster.sums(cells.cell, cells.total, count) / cells.shots
    held = shrink.held_back(words, own)
    words[held] = verdict.NOT_SETTLED
    names = ("shrunk_per_shot", "shrunk_low", "shrunk_high")
    return pd.DataFrame(
        {**dict(zip(names, values, strict=True)), "verdict": words, "held_back": held}
    )


def _blocks(cells: Cells) -> Iterator[cluster.Ints]:
    """Yield the cells with a shot, whole players at a time, so that memory stays bounded."""
    scored = np.flatnonzero(cells.shots > 0)
    scored = scored[np.argsort(cells.player[scored], kind="stable")]
    player = cells.player[scored]
    first = np.flatnonzero(np.append(True, player[1:] != player[:-1]))[: len(scored)]
    block = first // CELLS_AT_A_TIME
    cuts = first[1:][block[1:] != block[:-1]]
    yield from np.split(scored, cuts)


def posterior_of(cells: Cells, chosen: cluster.Ints) -> tuple[cluster.Ints, shrink.Posterior]:
    """Return those of the chosen cells that a posterior can be had of, and their posterior.

    A player of whom no chosen cell has two strokes has no variance, and so none. ``chosen``: cells
    with a shot, of any number of players.
    """
    rows, cell = _rows_of(cells, chosen)
    n, total, squares = cells.n[rows], cells.total[rows], cells.squares[rows]
    noise = shrink.observation_noise(
        cell, n, total, squares, len(chosen), _numbered(cells.player[chosen])
    )
    shots = cells.shots[chosen]
    mean = cluster.sums(cell, total, len(chosen)) / shots
    variance = shrink.cell_variances(shots, cells.rounds[chosen], noise)
    known = np.isfinite(variance)
    kept = chosen[known]
    design = cells.design[kept]
    # Putts differ less than other strokes do, by about as much as their margin is smaller.
    scale = margin(cells.putts[kept]) / MARGIN
    spread = DESIGN_SPREAD[: design.shape[1]]
    group = _numbered(cells.player[kept])
    return kept, shrink.shrink(mean[known], variance[known], design, spread, scale, group, ODD_CELL)


def _numbered(player: cluster.Ints) -> cluster.Ints:
    """Return the players' numbers 0, 1, ... without a gap."""
    return np.unique(player, return_inverse=True)[1]


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


@dataclass(frozen=True, slots=True)
class _Met:
    """``round``: place of each row's round among all rounds; ``player`` (a number) and ``weight``:
    of each of these."""

    round: cluster.Ints
    player: cluster.Ints
    weight: Floats


@dataclass(frozen=True, slots=True)
class _Runs:
    """Rows of one cell that follow each other, which rows in order mostly do.

    ``start``: first row of each run; ``cell``: its cell; ``first``: first row of each cell.
    """

    start: cluster.Ints
    cell: cluster.Ints
    first: cluster.Ints

    def of_rows(self, rows: int) -> cluster.Ints:
        """Return the cell of each row."""
        return np.repeat(self.cell, np.diff(self.start, append=rows))

    def sums(self, counts: pd.Series[int]) -> Floats:
        """Return the sum of a column of counts in each cell."""
        whole = np.add.reduceat(counts.to_numpy(), self.start)
        return cluster.sums(self.cell, whole, len(self.first))


def _numbered_by(sums: pd.DataFrame, met: _Met, by: Sequence[str]) -> _Runs:
    """Return the cells of the rows, numbered as they come.

    Player by player through the rounds: comparing names on every row would take longer than all
    the rest. Numbered anew after each key, so that no number grows beyond what an integer holds.
    """
    codes = [
        met.player[met.round]
        if name == "player"
        else pd.factorize(sums[name], use_na_sentinel=False)[0]
        for name in by
    ]
    begins = np.zeros(len(sums), bool)
    begins[:1] = True
    for own in codes:
        begins[1:] |= own[1:] != own[:-1]
    run = np.flatnonzero(begins)
    number = np.zeros(len(run), np.int64)
    for own in codes:
        number = pd.factorize(number * (int(own.max(initial=0)) + 1) + own[run])[0]
    # where the largest number so far grows, a cell is seen for the first time
    new = np.flatnonzero(np.diff(np.maximum.accumulate(number), prepend=-1))
    return _Runs(run, number, run[new])


def _in_words(keys: pd.DataFrame) -> pd.DataFrame:
    return keys.astype(dict.fromkeys(keys.select_dtypes("category"), "str"))


def _by_round(
    sums: pd.DataFrame, met: _Met, cell: cluster.Ints
) -> tuple[cluster.Ints, cluster.Ints, list[Floats]]:
    """Return cell, round, and n, total and squares of each cell and round with a scored stroke.

    Cells rising, and the rounds of each.
    """
    scored = sums["n"].to_numpy() > 0
    kept = slice(None) if scored.all() else scored
    at, round_ = cell[kept], met.round[kept]
    values = [sums[name].to_numpy(float)[kept] for name in ("n", "total", "squares")]
    place = at * len(met.weight) + round_
    if (place[1:] <= place[:-1]).any():  # not in order, or a cell and round on several rows
        order = np.argsort(place, kind="stable")
        start = np.flatnonzero(np.diff(place[order], prepend=-1))
        at, round_ = at[order][start], round_[order][start]
        values = [np.add.reduceat(value[order], start) for value in values]
    return at, round_, values


def _design(shares: dict[str, Floats], keys: pd.DataFrame) -> Floats:
    places = [name for name in _PLACES if name in keys.columns]
    if not places:
        return shares["green"][:, None]
    short = keys[places].isin(_SHORT).any(axis=1).to_numpy(float)
    return np.column_stack([*shares.values(), short])


def _rounds_judged(
    sums: pd.DataFrame, met: _Met, first: cluster.Ints, by: Sequence[str]
) -> cluster.RoundTotals:
    """Return, per cell, the rounds it is judged over.

    Those of the player, or of the player at that course, event or month where that is a key.
    """
    shared = [name for name in ROUND_KEYS if name in by]
    rounds = np.arange(len(met.weight))
    group, of = met.player, met.player[met.round[first]]
    if shared != ["player"]:
        place = _numbered_by(sums, met, shared).of_rows(len(sums))
        group, rounds = np.divmod(np.unique(place * len(rounds) + met.round), len(rounds))
        of = place[first]
    weight, count = met.weight[rounds], int(group.max(initial=-1)) + 1
    return cluster.RoundTotals(
        np.bincount(group, minlength=count)[of],
        cluster.sums(group, weight, count)[of],
        cluster.sums(group, weight**2, count)[of],
    )
