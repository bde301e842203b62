"""The questions of the package as callers ask them: the rooms' answers with their notes in words.

Inside the package answers carry facts; whoever is outside wants a ``note``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import wraps
from inspect import signature
from typing import TYPE_CHECKING, ParamSpec

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.bounds import bounded
from sgzone.clubs import number, sheet, stock
from sgzone.review.beside import field
from sgzone.review.beside.groups import compare_table, compared_strokes
from sgzone.review.where import counts as plain_counts
from sgzone.review.where import plays_like as standards
from sgzone.review.where import summary
from sgzone.review.why import split
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words.notes import noted, options
from sgzone.words.plays_like import reasoned
from sgzone.words.say import Say

if TYPE_CHECKING:
    from sgzone.season.store import Store

P = ParamSpec("P")


def _noted(answer: str, ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    """Return the question ``ask`` with notes in words, lengths in yards and feet."""
    takes = signature(ask)

    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        level = takes.bind(*given, **named).arguments.get("level", DEFAULT_LEVEL)
        return noted(ask(*given, **named), answer, Say(level=level))

    return asked


summarise = _noted("summary", summary.summarise)
counts = _noted("counts", plain_counts.counts)
why = _noted("why", split.why)
field_strength = _noted("field", field.field_strength)
clubs = _noted("clubs", stock.clubs)


@wraps(standards.plays_like)
def plays_like(
    store: Store, selection: Selection = EVERYTHING, level: float = DEFAULT_LEVEL
) -> pd.DataFrame:
    return reasoned(standards.plays_like(store, selection, level))


@bounded
def compare(
    store: Store,
    by: str | Sequence[str],
    at: float | None = None,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    *,
    split_date: date | None = None,
    lie: str | None = None,
    part: str | None = None,
    groups: Sequence[str] | None = None,
    units: str = "yards",
) -> pd.DataFrame:
    """Return one row per two groups of strokes: the second less the first, strokes per shot.

    ``by``: columns of ``review.beside.grouping.COMPARE_BY``, crossed; ``date`` takes ``split_date``
    (the first day of the second group). ``at``: the number, yards; shots within 10 yd of it,
    effective number where it is written down. Without it shots of every distance, compared inside
    steps of 10 yd. ``lie`` or ``part`` narrow the strokes; without them all off the green but
    blocked ones. ``groups``: as in ``review.beside.groups.compare_table``, whose columns these are,
    with ``note`` in place of the facts. ``units`` of the lengths in the notes: yards or metric.
    Raises ``CallError`` for unknown words.
    """
    rows = compared_strokes(
        store, by, at, benchmark, selection, split_date=split_date, lie=lie, part=part
    )
    return noted(compare_table(rows, at, level, groups), "compare", Say(units, level))


def _played(ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        return options(ask(*given, **named))

    return asked


plan_number = _played(number.plan_number)
number_sheet = _played(sheet.number_sheet)
