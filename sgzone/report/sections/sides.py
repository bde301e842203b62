"""The section that sets two seasons or two benchmarks side by side."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import for_costs
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.report.charts.sides import pairs_chart
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.review.beside.sides import two_benchmarks, two_seasons
from sgzone.scoring.gained import round_sizes
from sgzone.season.selection import Selection
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words import sides as words
from sgzone.words.digits import span
from sgzone.words.say import Say
from sgzone.words.tables import Table, table_of

if TYPE_CHECKING:
    from sgzone.season.store import Store

_SPAN = re.compile(r"(\d{4}-\d{2}-\d{2})?\.\.(\d{4}-\d{2}-\d{2})?")


@dataclass(frozen=True, slots=True)
class SideBySide:
    """``table``: as ``review.beside.sides``. ``names``: of both sides, the report's own first."""

    table: pd.DataFrame
    names: tuple[str, str]
    level: float
    seasons: bool


@bounded
def side_by_side(
    store: Store,
    curve: Benchmark,
    selection: Selection,
    other: str,
    level: float = DEFAULT_LEVEL,
) -> SideBySide:
    """Return the season beside ``other``: a benchmark's name, or days as ``SINCE..UNTIL``.

    Raises ``CallError`` for days that are none, for the report's own benchmark, and for two
    seasons that share a round.
    """
    days = _days(other)
    if days is not None:
        beside = replace(selection, since=days[0], until=days[1])
        table = two_seasons(store, curve, selection, beside, level)
        return SideBySide(
            table, (_played(store, selection), _played(store, beside)), level, seasons=True
        )
    second = for_costs(store, other, selection)
    if second.name == curve.name:
        raise CallError(f"the report is against {curve.name} already; choose another --against")
    table = two_benchmarks(store, curve, second, selection, level)
    return SideBySide(table, (curve.name, second.name), level, seasons=False)


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


def against_section(found: SideBySide, units: str = "yards") -> Section:
    """Return the two sides in one table and one paired chart."""
    title = f"{found.names[0]} beside {found.names[1]}"
    head = ("against", title[0].upper() + title[1:])
    table, say = found.table, Say(units, found.level)
    if not table["difference"].notna().any():
        return Section(*head, lead=(words.NO_DIFFERENCE,))
    lead = words.pairs_lead(table, found.names, say) if found.seasons else ()
    notes = words.COURSES if found.seasons else (words.SAME_STROKES,)
    figure = Figure(
        panels=(
            Panel(
                "pairs",
                pairs_chart(table, found.names, level=found.level, units=units),
                words.pairs_alt(table, found.names, say),
            ),
        ),
        caption=words.READ_PAIRS,
        table=_table(found, say),
        keys=(Key("dot", found.names[0]), Key("open-ring", found.names[1])),
    )
    return Section(*head, lead, (figure,), notes=notes)


def _table(found: SideBySide, say: Say) -> Table:
    names = {"first": found.names[0], "second": found.names[1]}
    rows = found.table.assign(part=found.table["part"].replace("total", "all parts"))
    return table_of(rows, "sides", say, "Side by side, by part", named=names)
