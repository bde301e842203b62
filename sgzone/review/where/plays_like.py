"""The standard each part plays to, as a range of average score.

The named benchmarks are one family: expected strokes of the tour plus k times the gap to the
90-golfer. Against k the strokes gained of round g are A_g + k B_g, with A_g what was gained
against the tour and B_g the gap at the starts less the gap at the ends. So k = -sum A / sum B, and
its range is Fieller's, by round. The score that belongs to k is derived from two published anchors.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.tables import score_of, share_of_gap
from sgzone.bounds import bounded
from sgzone.scoring.gained import scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.stats.fieller import ratio_range
from sgzone.terms import BENCHMARK_NAMES, DEFAULT_LEVEL, OUTSIDE, PART_NAMES

if TYPE_CHECKING:
    from sgzone.season.store import Store

Floats = NDArray[np.float64]

TOTAL, OFF_GREEN, PUTTING = "total", "off_green", "putting"
FAMILY = ("tour", "amateur-90")
"""The two ends of the family: k = 0 and k = 1."""
LAST = "amateur-100"
MOST_HALF_WIDTH = 5.0
"""Strokes of score; a wider range says nothing that a coach could use."""
_PUTTS = tuple(name for name in PART_NAMES if name.startswith("putt"))
MEASURED_OFF = (0.9, 1.1)
"""Putts are told again with every distance so many times as long: they hang on it most."""

NEVER, FEW_ROUNDS, OPEN_RANGE, TOO_WIDE = "never", "few_rounds", "open", "too_wide"
BETTER, BEYOND = "better_than_tour", "beyond_amateur_100"
REFUSALS = (NEVER, FEW_ROUNDS, OPEN_RANGE, TOO_WIDE, BETTER, BEYOND)
"""Why there is no range of score, in the order they are looked for."""

FACTS = ("refusal", "rounds_needed", "score", "score_shorter", "score_longer")
"""What a reason and a picture are made of: scores of k, and of putts with other distances."""
COLUMNS = (*("part", "score_low", "score_high", "k", "rounds", "shots", "status"), *FACTS)


@dataclass(frozen=True, slots=True)
class Level:
    """Parts that are read together, and from how many rounds; none: never read."""

    name: str
    parts: tuple[str, ...]
    rounds: int | None

    @property
    def putts(self) -> bool:
        """Whether all of its strokes are putts."""
        return set(self.parts) <= set(_PUTTS)


_ROUNDS = {"approach_100_150": 20, "wedge_50_100": 40, "chip_0_30": 20, "putt_0_10": 20}
"""Part -> the rounds it is read from; the others never are."""
LEVELS = (
    Level(TOTAL, PART_NAMES, 20),
    Level(OFF_GREEN, tuple(name for name in PART_NAMES if name not in _PUTTS), 20),
    Level(PUTTING, _PUTTS, 20),
    *(Level(name, (name,), _ROUNDS.get(name)) for name in PART_NAMES),
)
"""What is read from how many rounds: with fewer its range is wider than ``MOST_HALF_WIDTH``."""


@bounded
def plays_like(
    store: Store, selection: Selection = EVERYTHING, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    """Return the standard each part plays to: one row per entry of ``LEVELS``, ``COLUMNS``.

    ``score_low``, ``score_high``: range of the average score of a player of that standard, strokes;
    NaN with a ``refusal``. ``k``: place in the family, 0 tour, 1 amateur-90. ``status``:
    ``derived``. ``score``: of k itself; ``score_shorter``, ``score_longer``: of putts, with every
    distance a tenth shorter and longer. Strokes of all chosen players count as one player's.
    """
    strokes = scored(store, FAMILY[0], selection)
    return plays_like_of(strokes[strokes["part"] != OUTSIDE], level)


def plays_like_of(strokes: pd.DataFrame, level: float) -> pd.DataFrame:
    """Return ``plays_like`` of strokes at hand, as ``scoring.scored`` against the tour."""
    usual = strokes.assign(**against_the_family(strokes, 1.0))
    putts = strokes[strokes["part"].isin(_PUTTS)]
    told = [putts.assign(**against_the_family(putts, factor)) for factor in MEASURED_OFF]
    rows = []
    for one in LEVELS:
        row = _row(one, usual, level)
        if one.putts and not row["refusal"]:
            row["score_shorter"], row["score_longer"] = (
                _row(one, table, level)["score"] for table in told
            )
        rows.append(row)
    return pd.DataFrame(rows, columns=list(COLUMNS))


def against_the_family(strokes: pd.DataFrame, factor: float) -> dict[str, Floats]:
    """Return per stroke A (``against_tour``) and B (``gap``), distances times ``factor``."""
    start, end = ((lie, f"{lie.replace('lie', '')}distance_ft") for lie in ("lie", "end_lie"))
    before, after = (
        [
            benchmark(name).expected(
                strokes[lie].to_numpy(object), strokes[feet].to_numpy(float) * factor
            )
            for name in FAMILY
        ]
        for lie, feet in (start, end)
    )
    spent = 1 + strokes["penalty"].to_numpy(float)
    gap = (before[1] - before[0]) - (after[1] - after[0])
    return {"against_tour": before[0] - after[0] - spent, "gap": gap}


def _row(one: Level, strokes: pd.DataFrame, level: float) -> dict[str, object]:
    chosen = strokes[strokes["part"].isin(one.parts) & strokes["against_tour"].notna()]
    sums = chosen.groupby("round_key")[["against_tour", "gap"]].sum()
    return _read(one, sums, len(chosen), level)


def total_of(sums: pd.DataFrame, shots: int, level: float) -> dict[str, object]:
    """Return the row of ``TOTAL`` from sums by round, ``against_tour`` and ``gap``."""
    return _read(LEVELS[0], sums, shots, level)


def _read(one: Level, sums: pd.DataFrame, shots: int, level: float) -> dict[str, object]:
    row: dict[str, object] = {
        "part": one.name,
        "score_low": np.nan,
        "score_high": np.nan,
        "k": np.nan,
        "rounds": len(sums),
        "shots": shots,
        "status": "derived",
        "refusal": "",
        "rounds_needed": one.rounds or 0,
        "score": np.nan,
        "score_shorter": np.nan,
        "score_longer": np.nan,
    }
    if one.rounds is None or len(sums) < one.rounds:
        return {**row, "refusal": NEVER if one.rounds is None else FEW_ROUNDS}
    k, low, high = ratio_range(-sums["against_tour"].to_numpy(), sums["gap"].to_numpy(), level)
    row |= {"k": k, "score": score_of(k), "refusal": _refusal(k, low, high)}
    ends = {} if row["refusal"] else {"score_low": score_of(low), "score_high": score_of(high)}
    return row | ends


def named_standards() -> pd.DataFrame:
    """Return the named benchmarks of the family, ``standard``, and the ``score`` of each."""
    scores = [score_of(share_of_gap(name)) for name in BENCHMARK_NAMES]
    return pd.DataFrame({"standard": BENCHMARK_NAMES, "score": scores})


def _refusal(k: float, low: float, high: float) -> str:
    if not np.isfinite([low, high]).all():
        return OPEN_RANGE
    if (score_of(high) - score_of(low)) / 2 > MOST_HALF_WIDTH:
        return TOO_WIDE
    if k < 0:
        return BETTER
    return BEYOND if k > share_of_gap(LAST) else ""
