"""Numbers prepared beforehand: the best ways to play each number of a range."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.bounds import BOUNDS, bounded
from sgzone.clubs.green import Green, green_of
from sgzone.clubs.number import NUMBER_COLUMNS, number_table, player_swings
from sgzone.clubs.reach import FULL_MORE
from sgzone.clubs.shots import COURSE
from sgzone.errors import CallError
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.resample import SEED
from sgzone.terms import DEFAULT_LEVEL

if TYPE_CHECKING:
    from sgzone.season.store import Store

BEST_OF = 3
SHEET_COLUMNS = ("number_yd", "rank", *NUMBER_COLUMNS)
_MOST = 200


def numbers_of(low: float, high: float, step: float) -> list[float]:
    """Return the numbers from ``low`` to ``high`` in steps, both ends in; yards.

    Raises ``CallError`` for a range that runs backwards, holds more than 200 numbers or leaves
    those that are planned.
    """
    low, high = (BOUNDS["yards"].check(end) for end in (low, high))
    step = BOUNDS["step"].check(step)
    if high < low or (high - low) / step >= _MOST:
        raise CallError(
            f"from {low:.4g} to {high:.4g} in steps of {step:.4g} is no range of numbers. Write, "
            "for example, --from 60 --to 150 --step 5."
        )
    return [float(low + step * k) for k in range(int(np.floor((high - low) / step + 1e-9)) + 1)]


@bounded
def number_sheet(
    store: Store,
    numbers: Sequence[float],
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    green: Green | None = None,
    lie: str = "fairway",
    firmness: str | None = None,
    source: str = COURSE,
    full_more: float = FULL_MORE,
    seed: int = SEED,
) -> pd.DataFrame:
    """Return the best three swings for each number, yards: one row per number and swing.

    A swing stands with the better of stock and moved. Columns: ``SHEET_COLUMNS``; ``rank`` 1 is the
    best. A number without a swing near has one row with nothing
    in it. Otherwise as ``clubs.number.plan_number``.
    """
    swings, curve = player_swings(store, benchmark, selection, lie, firmness, source)
    on = green or green_of()
    tables = []
    for number in numbers:
        plan = number_table(swings, number, on, curve, level, seed, full_more)
        plan = plan.drop_duplicates(["club", "swing"]).head(BEST_OF)
        plan = plan if len(plan) else pd.DataFrame([{"club": None}], columns=list(NUMBER_COLUMNS))
        plan = plan.assign(number_yd=number, rank=np.arange(1, len(plan) + 1))
        tables.append(plan.astype(object))
    if not tables:
        return pd.DataFrame(columns=list(SHEET_COLUMNS))
    whole = pd.concat(tables, ignore_index=True).infer_objects()
    return whole[list(SHEET_COLUMNS)]
