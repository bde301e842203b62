"""What each factor costs the shots of a part, in every draw of rounds, and how far that can be off.

Factors are of the shots' loss per stroke of the part, in the two columns proximity and missed
green.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sgzone.review.why.notes import MIN_SPLIT
from sgzone.review.why.reference import ReferenceModel
from sgzone.review.why.shots import Shots
from sgzone.stats.resample import draw_interval
from sgzone.stats.split import (
    FIRST_SPREAD,
    SECOND_SPREAD,
    Misses,
    Reference,
    reference_scale,
    split,
)
from sgzone.terms import CAUSE_WORDS, FRINGE, HOLED

Floats = NDArray[np.float64]

FACTORS = tuple(CAUSE_WORDS)
DIRECTIONS, CAUSES, TOTAL = FACTORS[:4], FACTORS[:5], FACTORS[-1]
SPREADS = (DIRECTIONS[FIRST_SPREAD], DIRECTIONS[SECOND_SPREAD])

RATIO_OFF = (0.85, 1.15)
"""Times the ratio assumed: from these two comes how much a factor hangs on it."""
RATIO_SD = 0.15  # of ln(ratio), how far the one assumed may be from the player's benchmark
SHAPE_SD = 0.015  # strokes a shot that the shape of the misses may put into a spread
SURE_AT = 0.90
"""Level of the range that must be clear of 0 before a cause is sure, whatever level was asked."""


@dataclass(frozen=True, eq=False)
class Costs:
    """The factors of one part, the last of them the total.

    ``drawn``: (1 + draws, factors, 3), strokes per shot as proximity, missed green and their sum;
    the first draw is the rounds as played. ``besides``: (factors, 3), sd of what no draw of rounds
    tells. ``spread_by``: (shots,), times the benchmark's own spread, what its misses of the
    player's shape have; NaN without a split.
    """

    factors: tuple[str, ...]
    drawn: Floats
    besides: Floats
    spread_by: Floats
    rounds: int

    @property
    def value(self) -> Floats:
        """What each factor costs, (factors, 3)."""
        found: Floats = self.drawn[0]
        return found

    def range(self, level: float) -> tuple[Floats, Floats]:
        """Return low and high of every factor and column, (factors, 3) each."""
        return draw_interval(self.value, self.drawn[1:], self.rounds, level, self.besides)

    def sure(self, factor: str) -> bool:
        """Return whether a factor costs strokes for sure.

        Of a spread both together must: how they are shared out rests on the ratio assumed.
        """
        low, _ = self.range(SURE_AT)
        clear = bool(low[self.factors.index(factor), -1] > 0)
        return clear and (factor not in SPREADS or self._both_spread())

    def _both_spread(self) -> bool:
        at = [self.factors.index(name) for name in SPREADS]
        both = self.drawn[:, at, -1].sum(axis=1)
        low, _ = draw_interval(both[0], both[1:], self.rounds, SURE_AT, SHAPE_SD)
        return bool(low > 0)


def costs(
    shots: Shots, model: ReferenceModel, others: tuple[ReferenceModel, ...], weights: Floats
) -> Costs:
    """Return the costs of a part's shots.

    ``others``: the models at ``RATIO_OFF``. ``weights``: (1 + draws, rounds), how often each round
    counts, the first row all once.
    """
    n = weights @ _by_round(shots, np.ones((len(shots.lie), 1)))
    penalty = np.column_stack([np.zeros_like(shots.penalty), shots.penalty])
    found = {TOTAL: weights @ _by_round(shots, shots.loss + penalty) / n}
    besides: dict[str, Floats] = {}
    spread_by = np.full(len(shots.lie), np.nan)
    if shots.has_columns and shots.known.sum() >= MIN_SPLIT:
        split_up, spread_by = _directions(shots, model, weights)
        found = _split(shots, weights, n, split_up, penalty) | found
        narrow, wide = (_directions(shots, other, weights[:1])[0][0] for other in others)
        slope = _summed((wide - narrow) / n[0] / np.diff(np.log(RATIO_OFF)))
        shape = [SHAPE_SD if name in SPREADS else 0.0 for name in DIRECTIONS]
        off = np.hypot(RATIO_SD * slope, np.array(shape)[:, None])
        besides = dict(zip(DIRECTIONS, off, strict=True)) | {HOLED: _unseen(shots) / n[0]}
    return Costs(
        factors=tuple(found),
        drawn=_summed(np.stack(list(found.values()), axis=1)),
        besides=np.stack([besides.get(name, np.zeros(3)) for name in found]),
        spread_by=spread_by,
        rounds=shots.rounds,
    )


def _split(
    shots: Shots, weights: Floats, n: Floats, split_up: Floats, penalty: Floats
) -> dict[str, Floats]:
    """Return every factor but the total, (draws, 2) each."""

    def mean(values: Floats) -> Floats:
        found: Floats = weights @ _by_round(shots, values) / n
        return found

    holed = np.where(shots.known, shots.holed_out - shots.saved, 0.0)
    unknown = ~shots.known & ~shots.fringe
    found = dict(zip(DIRECTIONS, (split_up / n[:, :, None]).transpose(1, 0, 2), strict=True))
    found |= {
        "penalty": mean(penalty),
        HOLED: mean(np.column_stack([holed, np.zeros_like(holed)])),
        FRINGE: mean(np.where(shots.fringe[:, None], shots.loss, 0.0)),
        "direction_unknown": mean(np.where(unknown[:, None], shots.loss, 0.0)),
    }
    return found | {"rest": mean(shots.loss + penalty) - sum(found.values())}


def _unseen(shots: Shots) -> Floats:
    """Return the sd of the strokes that holed balls save where the player has none, (3,).

    Rounds drawn from rounds without one have none either; of those expected a Poisson number would
    have come.
    """
    expected = 0.0 if shots.saved.any() else float(shots.holed_out[shots.known].sum())
    return np.asarray(np.array([1.0, 0.0, 1.0]) * np.sqrt(expected))


def _summed(columns: Floats) -> Floats:
    """Return the two columns (..., 2) with their sum beside them, (..., 3)."""
    return np.concatenate([columns, columns.sum(axis=-1, keepdims=True)], axis=-1)


def _by_round(shots: Shots, values: Floats) -> Floats:
    """Return sums by round, (rounds, k), of values (n, k)."""
    found = np.zeros((shots.rounds, values.shape[1]))
    np.add.at(found, shots.round, values)
    return found


def _directions(shots: Shots, model: ReferenceModel, weights: Floats) -> tuple[Floats, Floats]:
    """Return the summed loss of the four direction factors, (draws, 4, 2), and ``spread_by``.

    The benchmark's misses are the player's own in shape, scaled until they are worth what the
    benchmark expects: a mishit or a tail that the model lacks is then nobody's loss.
    """
    total = np.zeros((len(weights), len(DIRECTIONS), 2))
    spread_by = np.full(len(shots.lie), np.nan)
    for group in split_groups(shots):
        scatter = model.scatter(shots.lie[group], shots.distance[group])
        misses = Misses(shots.depth[group], shots.side[group], shots.round[group])
        reference = Reference(
            scatter.mean_depth, scatter.sd_depth, np.zeros(len(group)), scatter.sd_side
        )
        count = weights @ np.bincount(misses.group, minlength=shots.rounds)
        wanted = weights @ np.bincount(misses.group, shots.target[group], shots.rounds)
        wanted = np.divide(wanted, count, out=np.full_like(wanted, np.nan), where=count > 0)
        scale = reference_scale(misses, reference, model.table, weights, wanted)
        parts = split(misses, reference, model.table, weights, scale)
        # a draw of rounds without one shot of the group has nothing to add for it
        total += np.where(count > 0, count, 0.0)[:, None, None] * np.nan_to_num(parts)
        spread_by[group] = scale[0]
    return total, spread_by


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
