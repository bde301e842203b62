"""The rounds of a report beside other rounds, or beside another benchmark."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import for_costs
from sgzone.errors import CallError
from sgzone.review.beside.sides import two_benchmarks, two_seasons
from sgzone.scoring.gained import round_sizes
from sgzone.season.selection import Selection
from sgzone.words.digits import span

if TYPE_CHECKING:
    from sgzone.season.store import Store

_SPAN = re.compile(r"(\d{4}-\d{2}-\d{2})?\.\.(\d{4}-\d{2}-\d{2})?")


@dataclass(frozen=True, slots=True)
class SideBySide:
    """``table``: as ``review.beside.sides``. ``names``: of the two, the report's own first."""

    table: pd.DataFrame
    names: tuple[str, str]
    seasons: bool


def side_by_side(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    other: str,
    level: float,
) -> SideBySide:
    """Return the season beside ``other``: a benchmark's name, or days as ``SINCE..UNTIL``.

    Raises ``CallError`` for days that are none, for the report's own benchmark, and for two
    seasons that share a round.
    """
    days = _days(other)
    if days is not None:
        beside = replace(selection, since=days[0], until=days[1])
        table = two_seasons(store, curve, selection, beside, level)
        return SideBySide(table, (_played(store, selection), _played(store, beside)), seasons=True)
    second = for_costs(store, other, selection)
    if second.name == curve.name:
        raise CallError(f"the report is against {curve.name} already; choose another --against")
    table = two_benchmarks(store, curve, second, selection, level)
    return SideBySide(table, (curve.name, second.name), seasons=False)


def _days(text: str) -> tuple[date | None, date | None] | None:
    """Return the days of ``SINCE..UNTIL``, either open; None for a text without dots."""
    if ".." not in text or "/" in text:
        return None
    match = _SPAN.fullmatch(text.strip())
    try:
        if match is None or not any(match.groups()):
            raise ValueError
        since, until = (date.fromisoformat(day) if day else None for day in match.groups())
    except ValueError as wrong:
        raise CallError(
            f'"{text}" names no days; write --against 2025-04-01..2025-10-31'
        ) from wrong
    if since and until and since > until:
        raise CallError(
            f"--against {text}: {since} is after {until}, so no round is between them; swap the "
            "two."
        )
    return since, until


def _played(store: Store, selection: Selection) -> str:
    """Return the days on which the selection's rounds were played, in words."""
    days = round_sizes(store, selection)["date"]
    if not len(days):
        return "no rounds"
    return span(days.min().date(), days.max().date()).removeprefix("from ")
