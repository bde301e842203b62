"""What each part loses per round, and how sure that is: the ground a plan stands on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import for_costs
from sgzone.review.where.cells import OF_LIES, gather, posterior_of
from sgzone.scoring import round_sizes, round_sums
from sgzone.season.selection import Selection

if TYPE_CHECKING:
    import pandas as pd

    from sgzone.season.store import Store

Floats = NDArray[np.float64]

Played: TypeAlias = "tuple[pd.DataFrame, pd.DataFrame]"

HOLES_PER_ROUND = 18


@dataclass(frozen=True, slots=True)
class Losses:
    """Loss per 18 holes of each part, adjusted for few shots; > 0 costs strokes.

    ``shots``, ``rounds``: n of each part. ``shots_per_round``: per 18 holes recorded. ``draws``:
    (draws, parts), what the loss may be; not floored. A part without a shot has loss 0.
    """

    parts: tuple[str, ...]
    shots: NDArray[np.int64]
    rounds: NDArray[np.int64]
    shots_per_round: Floats
    mean: Floats
    low: Floats
    high: Floats
    draws: Floats

    @property
    def floored(self) -> Floats:
        """The draws without gains: a part that gains strokes has nothing to win back."""
        return np.maximum(self.draws, 0.0)


def by_part(store: Store, curve: str | Benchmark, selection: Selection) -> pd.DataFrame:
    """Return the sums that losses are worked out from."""
    return round_sums(store, curve, selection, by=["part"], of_lies=OF_LIES)


def part_losses(
    store: Store,
    benchmark: str | Benchmark,
    selection: Selection,
    parts: Sequence[str],
    *,
    level: float,
    draws: int,
    seed: int,
    played: Played | None = None,
) -> Losses:
    """Return the losses of one player's parts against a benchmark.

    ``low``/``high``: interval of the adjusted loss at ``level``, strokes per 18 holes. ``played``:
    as ``by_part`` and ``round_sizes`` of the selection, where they are known. Raises ``CallError``
    against the player's own curve.
    """
    curve = for_costs(store, benchmark, selection)
    sums, sizes = played or (by_part(store, curve, selection), round_sizes(store, selection))
    count = len(parts)
    shots, rounds = np.zeros(count, np.int64), np.zeros(count, np.int64)
    per_round, mean, low, high = (np.zeros(count) for _ in range(4))
    drawn = np.zeros((draws, count))
    cells = gather(sums, sizes, ["part"])
    scored, posterior = posterior_of(cells, np.flatnonzero(cells.shots > 0))
    if len(scored):
        names = cells.keys["part"].to_numpy()[scored]
        whole = float(sizes["holes"].sum()) / HOLES_PER_ROUND
        theta = posterior.draw(draws, np.random.default_rng(seed))
        ends = posterior.quantile(0.5 - level / 2), posterior.quantile(0.5 + level / 2)
        for place, part in enumerate(parts):
            at = np.flatnonzero(names == part)
            if not len(at):
                continue
            cell, own = scored[at[0]], at[0]
            shots[place], rounds[place] = cells.shots[cell], cells.rounds[cell]
            rate = per_round[place] = cells.shots[cell] / whole
            mean[place] = -posterior.mean[own] * rate
            low[place], high[place] = -ends[1][own] * rate, -ends[0][own] * rate
            drawn[:, place] = -theta[:, own] * rate
    return Losses(tuple(parts), shots, rounds, per_round, mean, low, high, drawn)
