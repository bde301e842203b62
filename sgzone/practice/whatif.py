"""What an improvement would be worth: the split of why, with one cause made smaller."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.errors import CallError, did_you_mean
from sgzone.review.why.costs import split_groups
from sgzone.review.why.reference import ReferenceModel
from sgzone.review.why.shots import Shots
from sgzone.review.why.split import shots_of_part
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats import cluster
from sgzone.stats.split import debias
from sgzone.terms import DEFAULT_LEVEL, PARTS

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

FACTORS = ("long_short_bias", "long_short_spread", "left_right_bias", "left_right_spread")
SPLIT_PARTS = tuple(
    part.name for part in PARTS if "green" not in part.lies and "recovery" not in part.lies
)
MIN_KNOWN = 30
_FORM = re.compile(r"\s*(\w+)\s+(\w+)\s+([+-]?\d+(?:\.\d+)?)\s*%\s*")


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The worth of one change, per round of 18 holes.

    ``strokes_per_round`` > 0: strokes won, with its interval; ``median_now_ft`` and
    ``median_then_ft``: the median finish that would show it; ``shots``: n with direction of the
    part's ``shots_in_part``.
    """

    part: str
    factor: str
    change: float
    strokes_per_round: float
    low: float
    high: float
    median_now_ft: float
    median_then_ft: float
    shots: int
    shots_in_part: int
    rounds: int


def parse_change(text: str) -> tuple[str, str, float]:
    """Return part, factor and change (-0.2) of a text such as
    ``wedge_50_100 long_short_spread -20%``; raises ``CallError`` with what is possible."""
    found = _FORM.fullmatch(text)
    if not found:
        raise CallError(
            f'"{text}" is no change; write part, cause and percent, such as '
            '"wedge_50_100 long_short_spread -20%"'
        )
    part, factor, percent = found[1], found[2], float(found[3])
    if part not in SPLIT_PARTS:
        raise CallError(
            f'no split of "{part}".{did_you_mean(part, SPLIT_PARTS)} The parts are '
            f"{', '.join(SPLIT_PARTS)}."
        )
    if factor not in FACTORS:
        hint = did_you_mean(factor, FACTORS)
        raise CallError(f'no cause "{factor}".{hint} The causes are {", ".join(FACTORS)}.')
    if not -100 <= percent <= 100 or percent == 0:
        raise CallError(f"{percent:g}%: give a change from -100% to 100%, other than 0")
    return part, factor, percent / 100


@bounded
def what_if(
    store: Store,
    text: str,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> WhatIf:
    """Return what a change of one cause of one part would be worth per round.

    The player's own misses are moved: a spread is scaled about its mean, a bias towards the
    benchmark's own mean.
    The interval is of the sampled strokes (clustered by round), not of the change coming true.
    Raises ``CallError`` for a text that says no change or a part with under 30 known directions.
    """
    part, factor, change = parse_change(text)
    shots, model, rounds = shots_of_part(store, benchmark, selection, part)
    known = 0 if shots is None else int(shots.known.sum())
    if shots is None or known < MIN_KNOWN:
        raise CallError(
            f"{part}: {known} strokes with direction and {MIN_KNOWN} are needed; write depth_ft "
            "and side_ft on the card"
        )
    now, then = _radii(shots, model, factor, change)
    won = np.zeros(len(shots.lie))
    won[shots.known] = model.table(now).sum(axis=0) - model.table(then).sum(axis=0)
    weight = np.bincount(shots.round, minlength=shots.rounds).astype(float)
    total = np.bincount(shots.round, won, minlength=shots.rounds)
    mean = cluster.per_unit(np.zeros(shots.rounds, np.int64), weight, total, 1, level)
    rate = len(shots.lie) / rounds
    return WhatIf(
        part=part,
        factor=factor,
        change=change,
        strokes_per_round=float(mean.estimate[0]) * rate,
        low=float(mean.low[0]) * rate,
        high=float(mean.high[0]) * rate,
        median_now_ft=float(np.median(now)),
        median_then_ft=float(np.median(then)),
        shots=known,
        shots_in_part=len(shots.lie),
        rounds=shots.rounds,
    )


def _radii(
    shots: Shots, model: ReferenceModel, factor: str, change: float
) -> tuple[Floats, Floats]:
    """Return the finishes of the known strokes now and after the change, feet, in row order."""
    depth, side = shots.depth.copy(), shots.side.copy()
    for group in split_groups(shots):
        scatter = model.scatter(shots.lie[group], shots.distance[group])
        if factor.startswith("long_short"):
            moved = _moved((depth[group] - scatter.mean_depth) / scatter.sd_depth, factor, change)
            depth[group] = scatter.mean_depth + scatter.sd_depth * moved
        else:
            side[group] = scatter.sd_side * _moved(side[group] / scatter.sd_side, factor, change)
    known = shots.known
    return (
        np.hypot(shots.depth[known], shots.side[known]),
        np.hypot(depth[known], side[known]),
    )


def _moved(u: Floats, factor: str, change: float) -> Floats:
    mean = u.mean()
    if factor.endswith("bias"):
        # Without its sampling noise, as in the split: noise cannot be practised away.
        kept, _ = debias(np.array([mean]), np.array([u.var()]), np.array([float(len(u))]))
        shifted: Floats = u + change * kept[0]
        return shifted
    scaled: Floats = mean + (1 + change) * (u - mean)
    return scaled
