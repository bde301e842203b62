"""Why strokes go: an additive split of the loss of each part of the game off the green.

Loss is strokes against the benchmark, loss > 0 costs. Per part it is the sum of where the ball
tends and how it spreads in depth and to the sides, penalties, shots of unknown direction and
what these do not explain; every row comes in two columns, proximity and missed green.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import for_costs
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.review.why.notes import (
    MIN_RANK,
    MIN_SPLIT,
    MISS_FACTS,
    PART_FACTS,
    miss_facts,
    part_facts,
)
from sgzone.review.why.reference import (
    ASSUMPTIONS,
    UNSPLIT_LIES,
    Assumptions,
    ReferenceModel,
    reference_model,
    refitted,
)
from sgzone.review.why.shots import Shots, missed_green, part_shots
from sgzone.scoring.gained import round_sizes, scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import DRAWS, SEED, draw_interval, round_weights
from sgzone.stats.split import Misses, Reference, split
from sgzone.terms import CAUSE_WORDS, DEFAULT_LEVEL, PARTS

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

FACTORS = tuple(CAUSE_WORDS)
DIRECTIONS, CAUSES, TOTAL = FACTORS[:4], FACTORS[:5], FACTORS[-1]
COLUMNS = ("proximity", "missed_green", TOTAL)
FACTS = ("largest", "sure", *MISS_FACTS, *PART_FACTS)
"""What a note is made of: whether the factor is the part's largest cause, and surely a loss; where
shots tend and how they spread; what is known of the part."""
WHY_COLUMNS = (
    *("part", "factor", "column", "loss_per_shot", "low", "high", "loss_per_round", "shots"),
    *FACTS,
)

RATIO_STEPS = (0.8, 1.0, 1.2)


@bounded
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


@bounded
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
        _table(frame, chosen, holes, level, assumed, seed).assign(ratio=assumed.ratio_times)
        for assumed in (replace(ASSUMPTIONS, ratio_times=ratio * step) for step in RATIO_STEPS)
    ]
    return pd.concat(tables, ignore_index=True)


def largest_causes(table: pd.DataFrame) -> dict[str, str]:
    """Return the largest cause of each part of a table of ``why`` that has enough shots to rank."""
    named = table[table["largest"].astype(bool)]
    return dict(zip(named["part"], named["factor"], strict=True))


@bounded
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
    assumed = replace(assumptions, ratio_times=ratio)
    return _table(frame, benchmark, holes, level, assumed, seed)


def _table(
    frame: pd.DataFrame,
    benchmark: Benchmark,
    holes: float,
    level: float,
    assumptions: Assumptions,
    seed: int,
) -> pd.DataFrame:
    strokes = frame[frame["status"] == "scored"]
    fitted = _fit_off_green(strokes, assumptions)
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


def shots_of_part(
    store: Store, benchmark: str | Benchmark, selection: Selection, part: str
) -> tuple[Shots | None, ReferenceModel, float]:
    """Return one part's scored strokes as arrays, the reference model, and rounds of 18 holes.

    None for the strokes where the part has none. Raises as ``why``.
    """
    frame, chosen, holes = _read(store, benchmark, selection)
    strokes = frame[frame["status"] == "scored"]
    model = reference_model(chosen, _fit_off_green(strokes, ASSUMPTIONS))
    rows = strokes[strokes["part"] == part]
    return part_shots(rows, model) if len(rows) else None, model, holes / 18


def _read(
    store: Store, benchmark: str | Benchmark, selection: Selection
) -> tuple[pd.DataFrame, Benchmark, float]:
    chosen = for_costs(store, benchmark, selection)
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


def _part_table(rows: pd.DataFrame, model: ReferenceModel, level: float, seed: int) -> pd.DataFrame:
    shots = part_shots(rows, model)
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
    if not shots.has_columns:
        table = table[table["column"] == TOTAL].copy()
    return _with_facts(table, shots, model, level)


def _cells(shots: Shots, model: ReferenceModel, weights: Floats) -> Iterator[tuple[str, Floats]]:
    """Yield each factor with its loss per shot by draw and column, (draws, 2)."""
    n = weights @ _by_round(shots, np.ones((len(shots.lie), 1)))
    penalty = np.column_stack([np.zeros_like(shots.penalty), shots.penalty])
    total = weights @ _by_round(shots, shots.loss + penalty) / n
    if shots.has_columns and shots.known.sum() >= MIN_SPLIT:
        factors = _directions(shots, model, weights) / n[:, :, None]
        penalties = weights @ _by_round(shots, penalty) / n
        unknown = weights @ _by_round(shots, np.where(shots.known[:, None], 0.0, shots.loss)) / n
        yield from zip(DIRECTIONS, factors.transpose(1, 0, 2), strict=True)
        yield "penalty", penalties
        yield "direction_unknown", unknown
        yield "rest", total - factors.sum(axis=1) - penalties - unknown
    yield TOTAL, total


def _by_round(shots: Shots, values: Floats) -> Floats:
    """Return sums by round, (rounds, k), of values (n, k)."""
    found = np.zeros((shots.rounds, values.shape[1]))
    np.add.at(found, shots.round, values)
    return found


def _directions(shots: Shots, model: ReferenceModel, weights: Floats) -> Floats:
    """Return the summed loss of the four direction factors, (draws, 4, 2)."""
    total = np.zeros((len(weights), len(DIRECTIONS), 2))
    for group in split_groups(shots):
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


def split_groups(shots: Shots) -> list[NDArray[np.intp]]:
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


def _with_facts(
    table: pd.DataFrame, shots: Shots, model: ReferenceModel, level: float
) -> pd.DataFrame:
    """Return a part's rows with the facts of their notes; those of a factor on its total alone."""
    table = table.assign(largest=False, sure=False, **dict.fromkeys(MISS_FACTS, np.nan))
    table = table.assign(**part_facts(shots))
    total = table["column"] == TOTAL
    if DIRECTIONS[0] not in set(table["factor"]):
        return table
    scatter = model.scatter(shots.lie, shots.distance)
    for factor, facts in zip(DIRECTIONS, miss_facts(shots, scatter, level), strict=True):
        table.loc[total & (table["factor"] == factor), list(facts)] = list(facts.values())
    if shots.known.sum() >= MIN_RANK:
        worst = table[total & table["factor"].isin(CAUSES)].nlargest(1, "loss_per_shot")
        if (worst["loss_per_shot"] > 0).all():
            table.loc[worst.index, "largest"] = True
            table.loc[worst.index, "sure"] = worst["low"] > 0
    return table
