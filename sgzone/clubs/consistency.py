"""How alike a swing's strikes are: carry, launch, spin; and what about them is still open."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.clubs.shots import COURSE, GOOD_LIES, club_shots, with_carry
from sgzone.review.beside.groups import (
    COMPARE_COLUMNS,
    GAP,
    PRIOR,
    compare_table,
    compared_strokes,
)
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats import robust
from sgzone.stats.groups import needed_each
from sgzone.stats.verdict import NOT_WRITTEN
from sgzone.terms import DEFAULT_LEVEL

if TYPE_CHECKING:
    from sgzone.season.store import Store

_MEASURES = {"carry": "carry_yd", "launch_deg": "launch_deg", "spin_rpm": "spin_rpm"}
CONSISTENCY_COLUMNS = (
    *("source", "club", "swing"),
    *(
        f"{column}{end}"
        for column in _MEASURES.values()
        for end in ("", "_sd", "_sd_low", "_sd_high", "_shots")
    ),
)
QUESTIONS = ("face", "turf", "bounce")
"""What strokes are compared by, one question each."""


@bounded
def consistency(
    store: Store,
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    source: str = COURSE,
) -> pd.DataFrame:
    """Return mean and sd of carry, launch and spin per club and swing, with n, from good lies.

    Carries are in calm air on the level. The sd's interval is by chi-square. Columns:
    ``CONSISTENCY_COLUMNS`` (yards, degrees, rpm).
    """
    shots = with_carry(club_shots(store, selection, source))
    shots = shots[shots["lie"].isin(GOOD_LIES) & ~shots["inferred"]]
    keys = pd.MultiIndex.from_frame(shots[["club", "swing"]].drop_duplicates()).sort_values()
    if not len(keys):
        return pd.DataFrame(columns=list(CONSISTENCY_COLUMNS))
    table = keys.to_frame(index=False).assign(source=source)
    cell = keys.get_indexer(pd.MultiIndex.from_frame(shots[["club", "swing"]]))
    for name, column in _MEASURES.items():
        value = shots[name].to_numpy(float)
        seen = np.isfinite(value)
        n, variance = robust.variances(cell[seen], value[seen], len(keys))
        sd = np.sqrt(variance)
        some = np.where(n > 0, n, np.nan)
        table[column] = np.bincount(cell[seen], value[seen], len(keys)) / some
        table[f"{column}_sd"] = sd
        low, high = robust.sd_interval(sd, np.where(n > 1, n - 1, np.nan), level)
        table[f"{column}_sd_low"], table[f"{column}_sd_high"] = low, high
        table[f"{column}_shots"] = n.astype(int)
    return table[list(CONSISTENCY_COLUMNS)]


@bounded
def questions(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
) -> pd.DataFrame:
    """Return what is known of face, turf and bounce: one row per pair of conditions.

    Columns: ``question`` (of ``QUESTIONS``), then those of ``review.beside.groups.compare_table``,
    from the course at the same lie and distance. Where a condition is not written down the row says
    so, with the shots each that would settle a gap of 0.10 strokes.
    """
    tables = []
    for name in QUESTIONS:
        rows = compared_strokes(store, name, None, benchmark, selection)
        found = compare_table(rows, None, level)
        if not len(found):
            each = int(np.ceil(needed_each(PRIOR.sd**2, GAP)))
            none = dict.fromkeys(("shots_first", "shots_second", "alone", "of_shots", "unnamed"), 0)
            row = {**none, "verdict": NOT_WRITTEN, "shots_to_settle": each}
            found = pd.DataFrame([row], columns=list(COMPARE_COLUMNS))
        found.insert(0, "question", name)
        tables.append(found.astype(object))
    table = pd.concat(tables, ignore_index=True)
    return table.infer_objects()
