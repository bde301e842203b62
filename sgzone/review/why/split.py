"""Why strokes go: an additive split of the loss of each part of the game off the green.

Loss is strokes against the benchmark, loss > 0 costs. Per part it is the sum of where the ball
tends and how it spreads in depth and to the sides, penalties, shots holed, shots from the fringe
or of unknown direction, and what these do not explain; every row comes in two columns, proximity
and missed green.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import for_costs
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.review.where.summary import summarise
from sgzone.review.why.costs import CAUSES, DIRECTIONS, RATIO_OFF, TOTAL, Costs, costs
from sgzone.review.why.notes import (
    MIN_RANK,
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
from sgzone.stats.resample import DRAWS, SEED, round_weights
from sgzone.stats.verdict import LOSS, SIDES
from sgzone.terms import DEFAULT_LEVEL, FRINGE, PART_NAMES, PARTS

if TYPE_CHECKING:
    from sgzone.season.store import Store

_Models = tuple[ReferenceModel, ReferenceModel, ReferenceModel]
"""At the ratio assumed, and at ``RATIO_OFF`` times it."""

COLUMNS = ("proximity", "missed_green", TOTAL)
FACTS = ("largest", "sure", *MISS_FACTS, *PART_FACTS, "lost")
"""What a note is made of: whether the factor is the part's largest cause, and surely a loss; where
shots tend and how they spread; what is known of the part; whether the summary calls it a loss."""
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
    proximity and missed_green to ``total``. Putts and recoveries have a total only. A largest cause
    is named where the summary of the same rounds calls the part a loss.

    Raises CallError for two players or more, or an unknown benchmark.
    """
    return why_and_strokes(store, benchmark, selection, level, ratio, seed)[0]


@bounded
def why_and_strokes(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    ratio: float = 1.0,
    seed: int = SEED,
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return what ``why`` does, and the scored strokes it is made of."""
    frame, chosen, holes = _read(store, benchmark, selection)
    losing = losing_parts(summarise(store, chosen, selection))
    table = why_table(frame, chosen, holes, losing=losing, level=level, ratio=ratio, seed=seed)
    return table, frame


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
    losing = losing_parts(summarise(store, chosen, selection))
    tables = [
        _table(frame, chosen, holes, losing, level, assumed, seed).assign(ratio=assumed.ratio_times)
        for assumed in (replace(ASSUMPTIONS, ratio_times=ratio * step) for step in RATIO_STEPS)
    ]
    return pd.concat(tables, ignore_index=True)


def losing_parts(summary: pd.DataFrame) -> frozenset[str]:
    """Return the parts that a summary by part calls a loss, probable or clear."""
    lost = [SIDES.get(verdict) == LOSS for verdict in summary["verdict"]]
    return frozenset(summary.loc[lost, "part"])


def largest_causes(table: pd.DataFrame) -> dict[str, str]:
    """Return the largest cause of each part of a table of ``why`` where one may be named."""
    return _named(table, table["largest"])


def sure_causes(table: pd.DataFrame) -> dict[str, str]:
    """Return the largest cause of each part where it surely costs strokes."""
    return _named(table, table["largest"] & table["sure"])


def _named(table: pd.DataFrame, where: pd.Series[bool]) -> dict[str, str]:
    named = table[where.astype(bool)]
    return dict(zip(named["part"], named["factor"], strict=True))


@bounded
def why_table(
    frame: pd.DataFrame,
    benchmark: Benchmark,
    holes: float,
    *,
    losing: Collection[str] = PART_NAMES,
    level: float = DEFAULT_LEVEL,
    ratio: float = 1.0,
    seed: int = SEED,
    assumptions: Assumptions = ASSUMPTIONS,
) -> pd.DataFrame:
    """Return the split of scored strokes (columns of ``scoring.gained.scored``).

    ``holes``: holes recorded in the rounds they come from, for the loss per round of 18.
    ``losing``: the parts that are a loss (``losing_parts``); of others no cause is named.
    """
    assumed = replace(assumptions, ratio_times=ratio)
    return _table(frame, benchmark, holes, losing, level, assumed, seed)


def _table(
    frame: pd.DataFrame,
    benchmark: Benchmark,
    holes: float,
    losing: Collection[str],
    level: float,
    assumptions: Assumptions,
    seed: int,
) -> pd.DataFrame:
    strokes = frame[frame["status"] == "scored"]
    models = _models(benchmark, _fit_off_green(strokes, assumptions))
    tables = []
    for part in PARTS:
        rows = strokes[strokes["part"] == part.name]
        if len(rows):
            table = _part_table(rows, models, level, seed, lost=part.name in losing)
            table.insert(0, "part", part.name)
            tables.append(table)
    if not tables:
        return pd.DataFrame(columns=list(WHY_COLUMNS))
    whole = pd.concat(tables, ignore_index=True)
    whole["loss_per_round"] = whole["loss_per_shot"] * whole["shots"] * 18 / holes
    return whole[list(WHY_COLUMNS)]


def _models(benchmark: Benchmark, assumptions: Assumptions) -> _Models:
    times = assumptions.ratio_times
    main, narrow, wide = (
        reference_model(benchmark, replace(assumptions, ratio_times=times * off))
        for off in (1.0, *RATIO_OFF)
    )
    return main, narrow, wide


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
            f"these rounds are of {len(players)} players ({', '.join(players)}), and causes are "
            "one player's. Choose one player."
        )
    return frame, chosen, float(round_sizes(store, selection)["holes"].sum())


def _fit_off_green(strokes: pd.DataFrame, assumptions: Assumptions) -> Assumptions:
    aimed = ~strokes["lie"].isin((*UNSPLIT_LIES, FRINGE)) & strokes["part"].isin(
        [p.name for p in PARTS]
    )
    rows = strokes[aimed & (strokes["end_distance_ft"] > 0)]
    ends = rows["end_lie"]
    return refitted(assumptions, rows["end_distance_ft"], missed_green(ends), ends == FRINGE)


def _part_table(
    rows: pd.DataFrame, models: _Models, level: float, seed: int, *, lost: bool
) -> pd.DataFrame:
    model, *others = models
    shots = part_shots(rows, model)
    weights = np.concatenate([np.ones((1, shots.rounds)), round_weights(shots.rounds, DRAWS, seed)])
    found = costs(shots, model, tuple(others), weights)
    low, high = found.range(level)
    table = pd.DataFrame(
        {
            "factor": np.repeat(found.factors, len(COLUMNS)),
            "column": list(COLUMNS) * len(found.factors),
            "loss_per_shot": found.value.ravel(),
            "low": low.ravel(),
            "high": high.ravel(),
            "shots": len(shots.lie),
        }
    )
    if not shots.has_columns:
        table = table[table["column"] == TOTAL].copy()
    return _with_facts(table, shots, model, found, level, lost=lost)


def _with_facts(
    table: pd.DataFrame,
    shots: Shots,
    model: ReferenceModel,
    found: Costs,
    level: float,
    *,
    lost: bool,
) -> pd.DataFrame:
    """Return a part's rows with the facts of their notes; those of a factor on its total alone."""
    table = table.assign(largest=False, sure=False, **dict.fromkeys(MISS_FACTS, np.nan))
    table = table.assign(**part_facts(shots), lost=lost)
    total = table["column"] == TOTAL
    if DIRECTIONS[0] not in found.factors:
        return table
    scatter = model.scatter(shots.lie, shots.distance).times(found.spread_by)
    for factor, facts in zip(DIRECTIONS, miss_facts(shots, scatter, level), strict=True):
        table.loc[total & (table["factor"] == factor), list(facts)] = list(facts.values())
    if lost and shots.known.sum() >= MIN_RANK:
        worst = table[total & table["factor"].isin(CAUSES)].nlargest(1, "loss_per_shot")
        if (worst["loss_per_shot"] > 0).all():
            table.loc[worst.index, "largest"] = True
            table.loc[worst.index, "sure"] = found.sure(worst["factor"].item())
    return table
