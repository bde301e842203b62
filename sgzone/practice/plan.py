"""What share of the practice hours each part deserves.

A part with h hours wins back c L (1 - exp(-h / tau)) strokes per round of its loss L. Loss, the
recoverable share c and the rate tau are all uncertain: the plan is the split that wins back most on
average over draws of the three. Assumptions, not promises.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.bounds import BOUNDS, bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.practice.curves import curve_table
from sgzone.practice.goal import Goal, gap_per_round, goal, read_target
from sgzone.practice.log import hours_by_part
from sgzone.practice.losses import Losses, Played, part_losses
from sgzone.practice.settings import Settings
from sgzone.practice.shares import (
    NO_BETTER,
    Drawn,
    Limits,
    best_hours,
    drawn,
    limits_cost,
    proportional,
)
from sgzone.review.where.plays_like import FAMILY
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED
from sgzone.stats.response import best_on_average, best_split, marginal
from sgzone.terms import DEFAULT_LEVEL, MIN_ROUNDS, MIN_SHOTS, NOT_ENOUGH

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

DRAWS = 4000
SHARE_LEVEL = 0.90
"""Level of the intervals of shares and of strokes to be won."""
TIED = 0.10
"""A part that comes first at least this often cannot be told from the first."""
PRIORITIES = 3
TOUR = FAMILY[0]
SPLIT_OFF = 0.005
"""How far from 1 the shares of a typed split may add up."""
PLAN_COLUMNS = (
    *("part", "shots_per_round", "loss_per_round", "low", "high", "share", "share_low"),
    *("share_high", "hours_per_week", "p_first", "tied", "share_by_loss", "share_equal"),
    *("share_now", "need_per_round", "hours_to_goal"),
)
ASSUMED_COLUMNS = ("recoverable", "rate_hours", "floor_hours", "ceiling_hours")
DETAIL_COLUMNS = (
    *("marginal", "marginal_low", "marginal_high", "share_half_rate", "share_double_rate"),
    *ASSUMED_COLUMNS,
)
PRIORITY, KEEP_UP = "priority", "keep up"
PLAN, BY_LOSS, EQUAL, TYPED, NOW = "plan", "by loss", "equal", "your split", "hours now"


@dataclass(frozen=True, slots=True, repr=False)
class Plan:
    """A finished plan.

    ``table``: one row per part, the columns of the answer ``practice``. ``alternatives``: split,
    strokes_per_round, low, high (90%), and the plan's lead over it. ``detail``: per part what an
    hour more brings, and what is assumed. ``roles``:
    priority or keep up, per part. ``shots``, ``rounds``: n per part. ``no_better``: whether the
    plan is no better than hours in proportion to loss. ``no_loss``: no part can be losing strokes,
    so the split is equal. ``none_shown``: none does on balance, but some may. ``thin``: too few
    strokes to plan from, so the split is equal. ``limits_cost``: strokes per round that the user's
    own floors, ceilings and largest change cost. ``curves``: what the hours of a part bring, for
    ``sg.charts.return_curves``. ``goal``: the way to the target, where one was given and there is a
    plan.
    """

    hours: float
    weeks: float
    table: pd.DataFrame
    alternatives: pd.DataFrame
    detail: pd.DataFrame
    roles: tuple[str, ...]
    shots: tuple[int, ...]
    rounds: tuple[int, ...]
    no_better: bool
    no_loss: bool
    none_shown: bool
    thin: bool
    limits_cost: float
    settings: Settings
    curves: pd.DataFrame
    goal: Goal | None = None

    def __repr__(self) -> str:
        return (
            f"<Plan of {self.hours:g} h a week for {self.weeks:g} weeks: {len(self.table)} parts>"
        )

    def _repr_html_(self) -> str:
        """Return its table as a notebook shows one, under what it is a plan of."""
        return f"<p>{escape(repr(self))}</p>{self.table.to_html(index=False)}"


@bounded
def practice_plan(
    store: Store,
    hours: float,
    weeks: float,
    benchmark: str | Benchmark = "tour",
    *,
    target: str | float | None = None,
    selection: Selection = EVERYTHING,
    settings: Settings | None = None,
    split: Mapping[str, float] | None = None,
    use_log: bool = True,
    level: float = DEFAULT_LEVEL,
    seed: int = SEED,
    played: Played | None = None,
) -> Plan:
    """Share out ``hours`` a week for ``weeks`` weeks over the parts of one player's game.

    ``target``: the level the player wants to reach, one of ``BENCHMARK_NAMES`` or an average score
    from 68.6 to 100; the plan then has a ``goal``, and losses are to the tour. ``split``: shares of
    1 per part to set beside the plan. ``use_log``: read the hours of the last ``weeks`` weeks of
    the practice log. ``played``: as ``part_losses``. Raises ``CallError`` for numbers out of
    range, another target, a target beside a benchmark other than the tour, a split that does not
    add up, and settings that cannot hold together.
    """
    settings = settings or Settings()
    if split is not None:
        _check_split(split, settings.parts)
    aim = None if target is None else read_target(target)
    if aim is not None and getattr(benchmark, "name", benchmark) != TOUR:
        raise CallError("with a target losses are against the tour; leave the benchmark out")
    losses = part_losses(
        store,
        benchmark,
        selection,
        settings.parts,
        level=level,
        draws=DRAWS,
        seed=seed,
        played=played,
    )
    now = hours_by_part(store, selection, settings.parts, weeks) if use_log else None
    plan = plan_from(losses, hours, weeks, settings, now=now, split=split, seed=seed)
    if aim is None or plan.thin:
        return plan
    gap = gap_per_round(store, selection, settings.parts)
    spent = plan.table["share"].to_numpy(float) * hours * weeks
    found = goal(losses, gap, aim, settings, spent, level=level, seed=seed)
    own = {name: found.table[name] for name in ("need_per_round", "hours_to_goal")}
    return replace(plan, table=plan.table.assign(**own), goal=found)


def _check_split(split: Mapping[str, float], parts: Sequence[str]) -> None:
    for part, share in split.items():
        if part not in parts:
            raise CallError(
                f'split: no part "{part}".{did_you_mean(part, parts)} The parts are '
                f"{', '.join(parts)}."
            )
        BOUNDS["share"].check(share, f"split of {part}")
    if abs(sum(split.values()) - 1) > SPLIT_OFF:
        raise CallError(f"the split adds up to {sum(split.values()):g}; its shares must add to 1")


@bounded
def plan_from(
    losses: Losses,
    hours: float,
    weeks: float,
    settings: Settings,
    *,
    now: Floats | None = None,
    split: Mapping[str, float] | None = None,
    seed: int = SEED,
) -> Plan:
    """Return the plan for known losses; ``now``: hours of each part in the log, or None."""
    budget = hours * weeks
    share_now = now / now.sum() if now is not None and now.sum() > 0 else None
    thin = is_thin(losses)
    if thin:
        losses = replace(losses, draws=np.zeros_like(losses.draws))
    draws = drawn(losses, settings, seed)
    plan, limits = best_hours(losses, settings, budget, draws, share_now)
    each = best_split(draws.gain, draws.scale, budget, *limits)
    by_loss = proportional(losses.mean)
    # What is best on average can lie beyond where most draws have their best.
    ends = np.quantile(each / budget, [0.5 - SHARE_LEVEL / 2, 0.5 + SHARE_LEVEL / 2], axis=0)
    first = _first(each)
    table = pd.DataFrame(
        {
            "part": list(losses.parts),
            "shots_per_round": losses.shots_per_round,
            "loss_per_round": losses.mean,
            "low": losses.low,
            "high": losses.high,
            "share": plan / budget,
            "share_low": np.minimum(ends[0], plan / budget),
            "share_high": np.maximum(ends[1], plan / budget),
            "hours_per_week": plan / weeks,
            "p_first": first,
            "tied": first >= TIED,
            "share_by_loss": by_loss,
            "share_equal": 1 / len(losses.parts),
            "share_now": np.nan if share_now is None else share_now,
            "need_per_round": np.nan,
            "hours_to_goal": np.nan,
        },
        columns=list(PLAN_COLUMNS),
    )
    equal = np.full(len(plan), budget / len(plan))
    splits: dict[str, Floats] = {PLAN: plan, BY_LOSS: by_loss * budget, EQUAL: equal}
    if split is not None:
        splits[TYPED] = np.array([split.get(part, 0.0) for part in losses.parts]) * budget
    if share_now is not None:
        splits[NOW] = share_now * budget
    alternatives = _alternatives(splits, draws)
    lead = alternatives.loc[alternatives["split"] == BY_LOSS, "plan_lead"].to_numpy(float)[0]
    return Plan(
        hours=hours,
        weeks=weeks,
        table=table,
        alternatives=alternatives,
        detail=_detail(losses, settings, plan, draws, budget, limits),
        roles=_roles(table, losses.shots),
        shots=tuple(int(n) for n in losses.shots),
        rounds=tuple(int(n) for n in losses.rounds),
        no_better=bool(lead < NO_BETTER),
        no_loss=not (thin or losses.floored.any()),
        none_shown=bool((losses.mean <= 0).all()),
        thin=thin,
        limits_cost=limits_cost(losses, settings, budget, draws, share_now, plan),
        settings=settings,
        curves=curve_table(losses.parts, draws.gain, draws.scale, plan, now, SHARE_LEVEL),
    )


def _first(hours: Floats) -> Floats:
    """Return how often each part gets the most hours; draws with several share their vote."""
    most = np.isclose(hours, hours.max(axis=1, keepdims=True), rtol=1e-6)
    votes: Floats = (most / most.sum(axis=1, keepdims=True)).mean(axis=0)
    return votes


def _alternatives(splits: Mapping[str, Floats], draws: Drawn) -> pd.DataFrame:
    won = {name: draws.won(np.asarray(hours)) for name, hours in splits.items()}
    tail = 0.5 - SHARE_LEVEL / 2
    rows = []
    for name, strokes in won.items():
        lead = won[PLAN] - strokes
        rows.append(
            {
                "split": name,
                "strokes_per_round": strokes.mean(),
                "low": np.quantile(strokes, tail),
                "high": np.quantile(strokes, 1 - tail),
                "plan_lead": lead.mean(),
                "lead_low": np.quantile(lead, tail),
                "lead_high": np.quantile(lead, 1 - tail),
            }
        )
    return pd.DataFrame(rows)


def plan_table(plan: Plan, *, detail: bool = False) -> pd.DataFrame:
    """Return the plan's table with each part's role, n and what is assumed of it.

    ``detail``: with what one hour more brings, and the shares at half and double the rate.
    """
    more = plan.detail if detail else plan.detail[["part", *ASSUMED_COLUMNS]]
    whole = plan.table.merge(more, on="part")
    return whole.assign(role=plan.roles, shots=plan.shots, rounds=plan.rounds)


def is_thin(losses: Losses) -> bool:
    """Return whether the strokes are too few to plan from: no part has the shots, or the rounds."""
    return bool(losses.shots.max() < MIN_SHOTS or losses.rounds.max() < MIN_ROUNDS)


def _detail(
    losses: Losses,
    settings: Settings,
    plan: Floats,
    draws: Drawn,
    budget: float,
    limits: Limits,
) -> pd.DataFrame:
    floor, ceiling = limits
    slope = marginal(draws.gain, draws.scale, plan)
    tail = 0.5 - SHARE_LEVEL / 2
    other = {
        f"share_{name}_rate": best_on_average(draws.gain, factor * draws.scale, budget, *limits)
        / budget
        for name, factor in (("half", 0.5), ("double", 2.0))
    }
    return pd.DataFrame(
        {
            "part": list(losses.parts),
            "marginal": slope.mean(axis=0),
            "marginal_low": np.quantile(slope, tail, axis=0),
            "marginal_high": np.quantile(slope, 1 - tail, axis=0),
            **other,
            "recoverable": settings.of("recoverable_by_part", settings.recoverable),
            "rate_hours": settings.of("rate_by_part", settings.rate_hours),
            "floor_hours": floor,
            "ceiling_hours": np.where(np.isfinite(ceiling), ceiling, np.nan),
        }
    )


def _roles(table: pd.DataFrame, shots: NDArray[np.int64]) -> tuple[str, ...]:
    losing = table[(table["loss_per_round"] > 0) & (shots >= MIN_SHOTS)]
    top = set(losing.nlargest(PRIORITIES, "share")["part"])
    return tuple(
        NOT_ENOUGH if n < MIN_SHOTS else PRIORITY if part in top else KEEP_UP
        for part, n in zip(table["part"], shots, strict=True)
    )
