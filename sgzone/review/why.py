"""Why strokes go: an additive split of the loss of each part of the game off the green.

Loss is strokes against the benchmark, loss > 0 costs. Per part it is the sum of where the ball
tends and how it spreads in depth and to the sides, penalties, shots of unknown direction and
what these do not explain; every row comes in two columns, proximity and missed green.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from statsmodels.stats.proportion import proportions_ztest

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks import benchmark as named_benchmark
from sgzone.errors import CallError
from sgzone.review.reference import (
    ASSUMPTIONS,
    UNSPLIT_LIES,
    Assumptions,
    ReferenceModel,
    putts_from,
    reference_model,
    refitted,
)
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED, draw_interval, round_weights
from sgzone.stats.split import Misses, Reference, split
from sgzone.terms import DEFAULT_LEVEL, HOLED, PARTS

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

DIRECTIONS = ("long_short_bias", "long_short_spread", "left_right_bias", "left_right_spread")
CAUSES = (*DIRECTIONS, "penalty")
TOTAL = "total"
FACTORS = (*CAUSES, "direction_unknown", "rest", TOTAL)
COLUMNS = ("proximity", "missed_green", TOTAL)
WHY_COLUMNS = (
    *("part", "factor", "column", "loss_per_shot", "low", "high", "loss_per_round", "shots"),
    "note",
)

MIN_SPLIT = 30
MIN_RANK = 80
DRAWS = 400
MIXED = 0.05
"""P below which the shots with and without direction miss the green at different rates."""
RATIO_STEPS = (0.8, 1.0, 1.2)

LARGEST = "largest cause"
UNSURE = "its interval reaches 0"


def why(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    ratio: float = 1.0,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return the split of every part with strokes, one row per part, factor and column.

    ``loss_per_shot`` with ``low`` and ``high`` at ``level`` and ``loss_per_round`` are strokes;
    ``shots`` are the part's scored strokes. ``ratio`` multiplies the assumed side : depth ratio
    of the benchmark's scatter. Factors add up to ``total`` in every column, and the columns
    proximity and missed_green to ``total``. Putts and recoveries have a total only.

    Raises CallError for two players or more, or an unknown benchmark.
    """
    frame, chosen, holes = _read(store, benchmark, selection)
    return why_table(frame, chosen, holes, level=level, ratio=ratio, seed=seed)


def why_sensitivity(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    ratio: float = 1.0,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return the rows of ``why`` at 0.8, 1 and 1.2 times ``ratio``, told apart by ``ratio``."""
    frame, chosen, holes = _read(store, benchmark, selection)
    tables = [
        why_table(frame, chosen, holes, level=level, ratio=ratio * step, seed=seed).assign(
            ratio=ratio * step
        )
        for step in RATIO_STEPS
    ]
    return pd.concat(tables, ignore_index=True)


def largest_causes(table: pd.DataFrame) -> dict[str, str]:
    """Return the largest cause of each part of a table of ``why`` that has enough shots to rank."""
    named = table[table["note"].str.startswith(LARGEST)]
    return dict(zip(named["part"], named["factor"], strict=True))


def why_table(
    frame: pd.DataFrame,
    benchmark: Benchmark,
    holes: float,
    *,
    level: float = DEFAULT_LEVEL,
    ratio: float = 1.0,
    seed: int = SEED,
    assumptions: Assumptions = ASSUMPTIONS,
) -> pd.DataFrame:
    """Return the split of scored strokes (columns of ``scoring.gained.scored``).

    ``holes``: holes recorded in the rounds they come from, for the loss per round of 18.
    """
    strokes = frame[frame["status"] == "scored"]
    fitted = _fit_off_green(strokes, replace(assumptions, ratio_times=ratio))
    model = reference_model(benchmark, fitted)
    tables = []
    for part in PARTS:
        rows = strokes[strokes["part"] == part.name]
        if len(rows):
            table = _part_table(rows, model, level, seed)
            table.insert(0, "part", part.name)
            tables.append(table)
    if not tables:
        return pd.DataFrame(columns=list(WHY_COLUMNS))
    whole = pd.concat(tables, ignore_index=True)
    whole["loss_per_round"] = whole["loss_per_shot"] * whole["shots"] * 18 / holes
    return whole[list(WHY_COLUMNS)]


def missed_green(end_lie: pd.Series[str]) -> Bools:
    """Return which strokes ended neither on the green nor in the hole."""
    return ~end_lie.isin(["green", HOLED]).to_numpy(bool)


def _read(
    store: Store, benchmark: str | Benchmark, selection: Selection
) -> tuple[pd.DataFrame, Benchmark, float]:
    chosen = named_benchmark(benchmark) if isinstance(benchmark, str) else benchmark
    frame = scored(store, chosen, selection)
    players = sorted(frame["player"].unique())
    if len(players) > 1:
        raise CallError(
            f"these rounds are of {len(players)} players ({', '.join(players)}) and the causes of "
            "one player's losses cannot be read off two players' strokes; choose one player"
        )
    return frame, chosen, float(round_sizes(store, selection)["holes"].sum())


def _fit_off_green(strokes: pd.DataFrame, assumptions: Assumptions) -> Assumptions:
    aimed = ~strokes["lie"].isin(UNSPLIT_LIES) & strokes["part"].isin([p.name for p in PARTS])
    rows = strokes[aimed & (strokes["end_distance_ft"] > 0)]
    return refitted(assumptions, rows["end_distance_ft"], missed_green(rows["end_lie"]))


@dataclass(frozen=True, slots=True)
class _Shots:
    """The strokes of one part as arrays of shape (n,); losses (n, 2) by column, less penalties."""

    lie: NDArray[np.object_]
    distance: Floats
    depth: Floats
    side: Floats
    known: Bools  # direction recorded
    off: Bools
    loss: Floats
    penalty: Floats
    round: NDArray[np.intp]

    @property
    def rounds(self) -> int:
        return int(self.round.max()) + 1


def _part_table(rows: pd.DataFrame, model: ReferenceModel, level: float, seed: int) -> pd.DataFrame:
    shots = _shots(rows, model)
    draws = round_weights(shots.rounds, DRAWS, seed)
    weights = np.concatenate([np.ones((1, shots.rounds)), draws])
    cells = dict(_cells(shots, model, weights))
    names = list(cells)
    drawn = np.stack([cells[name] for name in names], axis=1)  # (draws, factors, 2)
    drawn = np.concatenate([drawn, drawn.sum(axis=2, keepdims=True)], axis=2)
    value = drawn[0]
    low, high = draw_interval(value, drawn[1:], shots.rounds, level)
    table = pd.DataFrame(
        {
            "factor": np.repeat(names, len(COLUMNS)),
            "column": list(COLUMNS) * len(names),
            "loss_per_shot": value.ravel(),
            "low": low.ravel(),
            "high": high.ravel(),
            "shots": len(shots.lie),
        }
    )
    if not _has_columns(shots):
        table = table[table["column"] == TOTAL].copy()
    table["note"] = _notes(shots)
    return _name_largest(table, shots)


def _shots(rows: pd.DataFrame, model: ReferenceModel) -> _Shots:
    def numbers(name: str) -> Floats:
        return rows[name].to_numpy(float)

    lie = rows["lie"].to_numpy(object)
    end, after = numbers("end_distance_ft"), numbers("expected_after")
    in_hole = (rows["end_lie"] == HOLED).to_numpy(bool)
    putts = np.where(in_hole, 0.0, putts_from(model.benchmark, end, model.assumptions))
    _, missed = model.columns(lie, numbers("distance_ft"))
    split_at_all = np.isfinite(missed) & np.isfinite(putts)
    putts, missed = np.where(split_at_all, putts, after), np.where(split_at_all, missed, 0.0)
    before = numbers("expected_before") - 1
    depth, side = numbers("depth_ft"), numbers("side_ft")
    unseen = np.isnan(depth) | np.isnan(side)
    # a holed ball's direction is known whether or not anybody wrote it down
    depth, side = (np.where(unseen & in_hole, 0.0, axis) for axis in (depth, side))
    return _Shots(
        lie=lie,
        distance=numbers("distance_ft"),
        depth=depth,
        side=side,
        known=split_at_all & ~(unseen & ~in_hole),
        off=missed_green(rows["end_lie"]),
        loss=np.column_stack([putts - (before - missed), after - putts - missed]),
        penalty=numbers("penalty"),
        round=np.unique(rows["round_key"].to_numpy(), return_inverse=True)[1],
    )


def _has_columns(shots: _Shots) -> bool:
    return not bool(np.isin(shots.lie, UNSPLIT_LIES).any())


def _cells(shots: _Shots, model: ReferenceModel, weights: Floats) -> Iterator[tuple[str, Floats]]:
    """Yield each factor with its loss per shot by draw and column, (draws, 2)."""
    n = weights @ _by_round(shots, np.ones((len(shots.lie), 1)))
    penalty = np.column_stack([np.zeros_like(shots.penalty), shots.penalty])
    total = weights @ _by_round(shots, shots.loss + penalty) / n
    if _has_columns(shots) and shots.known.sum() >= MIN_SPLIT:
        factors = _directions(shots, model, weights) / n[:, :, None]
        penalties = weights @ _by_round(shots, penalty) / n
        unknown = weights @ _by_round(shots, np.where(shots.known[:, None], 0.0, shots.loss)) / n
        yield from zip(DIRECTIONS, factors.transpose(1, 0, 2), strict=True)
        yield "penalty", penalties
        yield "direction_unknown", unknown
        yield "rest", total - factors.sum(axis=1) - penalties - unknown
    yield TOTAL, total


def _by_round(shots: _Shots, values: Floats) -> Floats:
    """Return sums by round, (rounds, k), of values (n, k)."""
    found = np.zeros((shots.rounds, values.shape[1]))
    np.add.at(found, shots.round, values)
    return found


def _directions(shots: _Shots, model: ReferenceModel, weights: Floats) -> Floats:
    """Return the summed loss of the four direction factors, (draws, 4, 2)."""
    total = np.zeros((len(weights), len(DIRECTIONS), 2))
    for group in _groups(shots):
        scatter = model.scatter(shots.lie[group], shots.distance[group])
        misses = Misses(shots.depth[group], shots.side[group], shots.round[group])
        reference = Reference(
            scatter.mean_depth, scatter.sd_depth, np.zeros(len(group)), scatter.sd_side
        )
        count = weights @ np.bincount(misses.group, minlength=shots.rounds)
        parts = split(misses, reference, model.table, weights)
        # a draw of rounds without one shot of the group has nothing to add for it
        total += np.where(count > 0, count, 0.0)[:, None, None] * np.nan_to_num(parts)
    return total


def _groups(shots: _Shots) -> list[NDArray[np.intp]]:
    """Return the rows to split together: by lie, lies of few shots joined to others.

    Joining is safe because bias and spread are measured in units of the benchmark's own scatter
    from that lie and distance.
    """
    lies, counts = np.unique(shots.lie[shots.known].astype(str), return_counts=True)
    large = lies[counts >= MIN_SPLIT]
    groups = [np.flatnonzero(shots.known & (shots.lie == lie)) for lie in large]
    others = np.flatnonzero(shots.known & ~np.isin(shots.lie.astype(str), large))
    if len(others) >= MIN_SPLIT or not groups:
        groups.append(others)
    elif len(others):
        most = int(np.argmax([len(group) for group in groups]))
        groups[most] = np.sort(np.append(groups[most], others))
    return groups


def _notes(shots: _Shots) -> str:
    """Return what to know about the part's numbers, in plain words; empty where nothing."""
    n, known = len(shots.lie), int(shots.known.sum())
    said = [] if shots.rounds > 1 else ["one round: no interval"]
    if not _has_columns(shots):
        return "; ".join(said)
    if known < n:
        said.append(f"direction known for {known} of {n} shots")
    if known < MIN_SPLIT:
        said.append(f"{MIN_SPLIT} with direction needed for a split")
    else:
        if known < MIN_RANK:
            said.append(f"{MIN_RANK} with direction needed to rank the causes")
        if known < n / 2:
            said.append("careful: direction missing for more than half")
        with_it, without = _off_shares(shots)
        if _differ(shots):
            said.append(
                f"careful: shots with direction missed the green {with_it:.0%} of the time, those "
                f"without {without:.0%}"
            )
    return "; ".join(said)


def _off_shares(shots: _Shots) -> tuple[float, float]:
    shares = [shots.off[at].mean() if at.any() else np.nan for at in (shots.known, ~shots.known)]
    return float(shares[0]), float(shares[1])


def _differ(shots: _Shots) -> bool:
    """Two-proportion test: do shots with and without direction miss the green at one rate?"""
    if shots.known.all() or not shots.known.any() or shots.off.all() or not shots.off.any():
        return False
    counts = [int(shots.off[at].sum()) for at in (shots.known, ~shots.known)]
    sizes = [int(at.sum()) for at in (shots.known, ~shots.known)]
    return bool(proportions_ztest(counts, sizes)[1] < MIXED)


def _name_largest(table: pd.DataFrame, shots: _Shots) -> pd.DataFrame:
    causes = table[table["factor"].isin(CAUSES) & (table["column"] == TOTAL)]
    if shots.known.sum() < MIN_RANK or causes.empty:
        return table
    largest = causes["loss_per_shot"].idxmax()
    if causes["loss_per_shot"].max() > 0:
        sure = causes.loc[[largest], "low"].gt(0).all()
        said = [LARGEST, *([] if sure else [UNSURE]), *filter(None, [_notes(shots)])]
        table.loc[[largest], "note"] = "; ".join(said)
    return table
