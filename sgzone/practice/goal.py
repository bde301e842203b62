"""The way to a goal: how far each part is from a level of play, and the hours that could get there.

The named benchmarks are one family, the expected strokes of the tour plus k times the gap to the
90-golfer. Where a part loses L strokes a round to the tour and that gap is B, it is L - k B from
the level of k. Practice wins back a share of the loss to the tour: a share of the distance to the
level itself, which is under 1, would never get there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks.tables import score_of, share_of_gap, share_of_score
from sgzone.bounds import BOUNDS
from sgzone.errors import CallError, did_you_mean
from sgzone.practice.losses import HOLES_PER_ROUND, Losses
from sgzone.practice.settings import Settings
from sgzone.practice.shares import best_hours, drawn
from sgzone.review.where.plays_like import FAMILY
from sgzone.scoring import round_sizes, round_sums
from sgzone.season.selection import Selection
from sgzone.terms import BENCHMARK_NAMES

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

MOST_HOURS = BOUNDS["hours"].high * BOUNDS["weeks"].high
"""No block is longer: what takes more hours is out of reach."""
_NEAR = 1e-3
"""Hours of the cheapest way, as a share of them, at which the search ends."""
GOAL_COLUMNS = ("part", "loss_per_round", "gap_per_round", "need_per_round", "hours_to_goal")


@dataclass(frozen=True, slots=True)
class Target:
    """A level of play: ``name`` in the family, empty where a score was given; its average
    ``score``; its place ``k`` in the family, 0 tour, 1 amateur-90."""

    name: str
    score: float
    k: float


@dataclass(frozen=True, slots=True)
class Goal:
    """What a target asks, strokes per 18 holes over all parts of the plan.

    ``need``, ``need_low``, ``need_high``: strokes to gain and their interval; 0 or less: there
    already. ``score_now``, ``score_low``, ``score_high``: average score of the level that these
    parts play to, NaN where no level differs from another on them. ``most``: what practice without
    end would win back on average. ``least_hours``: of the cheapest way, NaN where out of reach.
    ``chance``: that the plan's own hours get there. ``table``: one row per part, ``GOAL_COLUMNS``.
    """

    target: Target
    need: float
    need_low: float
    need_high: float
    score_now: float
    score_low: float
    score_high: float
    most: float
    least_hours: float
    chance: float
    table: pd.DataFrame

    @property
    def there(self) -> bool:
        """Whether these parts play to the target already, by the best estimate."""
        return self.need <= 0

    @property
    def out_of_reach(self) -> bool:
        """Whether no hours of practice get there on these assumptions."""
        return bool(np.isnan(self.least_hours))


def read_target(given: str | float) -> Target:
    """Return the level that a name of the family or an average score stands for.

    >>> read_target("amateur-90").k, round(read_target(82.5).k, 2)
    (1.0, 0.65)

    Raises ``CallError`` for anything else, with what to write.
    """
    if isinstance(given, str) and given in BENCHMARK_NAMES:
        k = share_of_gap(given)
        return Target(given, score_of(k), k)
    bound = BOUNDS["score"]
    try:
        score = bound.read(given) if isinstance(given, str) else bound.check(given)
    except CallError as wrong:
        hint = did_you_mean(str(given), BENCHMARK_NAMES)
        raise CallError(f"{wrong}; or a level: {', '.join(BENCHMARK_NAMES)}.{hint}") from None
    return Target("", score, share_of_score(score))


def gap_per_round(store: Store, selection: Selection, parts: Sequence[str]) -> Floats:
    """Return what amateur-90 would lose to the tour on each part's strokes, per 18 holes."""
    tour, last = (
        round_sums(store, name, selection, by=["part"]).groupby("part")["total"].sum()
        for name in FAMILY
    )
    holes = float(round_sizes(store, selection)["holes"].sum())
    gap = (last - tour).reindex(list(parts)).fillna(0.0).to_numpy(float)
    return gap * HOLES_PER_ROUND / holes if holes else gap


def goal(
    losses: Losses,
    gap: Floats,
    target: Target,
    settings: Settings,
    hours: Floats,
    *,
    level: float,
    seed: int,
) -> Goal:
    """Return what ``target`` asks of these parts, and the cheapest way there.

    ``losses``: to the tour; ``gap``: of each part, as from ``gap_per_round``; ``hours``: of each
    part in the whole block, whose chance is told. The cheapest way has the least hours in all whose
    best split wins the need on average over the draws of ``seed``.
    """
    draws = drawn(losses, settings, seed)
    needs = losses.mean - target.k * gap
    need = float(needs.sum())
    each = losses.draws.sum(axis=1) - target.k * gap.sum()
    low, high = np.quantile(each, [0.5 - level / 2, 0.5 + level / 2])
    most = float(draws.gain.sum(axis=1).mean())
    way = _cheapest(losses, settings, need, most, seed)
    table = pd.DataFrame(
        {
            "part": list(losses.parts),
            "loss_per_round": losses.mean,
            "gap_per_round": gap,
            "need_per_round": needs,
            "hours_to_goal": way,
        },
        columns=list(GOAL_COLUMNS),
    )
    now, best, worst = (_score(target, off, float(gap.sum())) for off in (need, low, high))
    return Goal(
        target=target,
        need=need,
        need_low=float(low),
        need_high=float(high),
        score_now=now,
        score_low=best,
        score_high=worst,
        most=most,
        least_hours=float(way.sum()),
        chance=float((draws.won(hours) >= each).mean()),
        table=table,
    )


def _score(target: Target, need: float, gap: float) -> float:
    """Return the average score that is ``need`` strokes a round from the target; NaN: no gap."""
    return score_of(target.k + need / gap) if gap > 0 else np.nan


def _cheapest(losses: Losses, settings: Settings, need: float, most: float, seed: int) -> Floats:
    """Return the hours of each part whose best split wins the need; NaN where none does.

    Ceilings and the largest change are of one block; a way may take several.
    """
    from scipy.optimize import brentq

    nothing = np.zeros(len(losses.parts))
    if need <= 0:
        return nothing
    free = replace(settings, largest_change=None, ceiling_by_part={})
    draws = drawn(losses, free, seed)

    def split(budget: float) -> Floats:
        return best_hours(losses, free, budget, draws, None)[0] if budget else nothing

    def short(budget: float) -> float:
        return float(draws.won(split(budget)).mean()) - need

    enough = 1.0
    while need < most and enough < MOST_HOURS and short(enough) < 0:
        enough = min(2 * enough, MOST_HOURS)
    if need >= most or short(enough) < 0:
        return np.full(len(losses.parts), np.nan)
    return split(brentq(short, 0.0, enough, xtol=_NEAR, rtol=_NEAR))
