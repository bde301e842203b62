"""The kinds of report: a season, the last weeks, a squad; each a page and its tables."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.saved import in_store
from sgzone.bounds import bounded
from sgzone.errors import CallError
from sgzone.report.asked import BLOCK_WEEKS, Review, gather, of_one_player
from sgzone.report.page import Page
from sgzone.report.sections.agree import agree_section
from sgzone.report.sections.clubs import clubs_section
from sgzone.report.sections.counts import counts_section
from sgzone.report.sections.grid import grid_section
from sgzone.report.sections.method import cautions_section, method_section, sources_section
from sgzone.report.sections.misses import miss_section
from sgzone.report.sections.practice import practice_section
from sgzone.report.sections.proximity import proximity_section
from sgzone.report.sections.sides import SideBySide, against_section, side_by_side
from sgzone.report.sections.trend import trend_section
from sgzone.report.sections.where import where_section
from sgzone.report.sections.why import why_section
from sgzone.scoring.gained import round_sizes
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.terms import DEFAULT_LEVEL
from sgzone.units import Units
from sgzone.words import method as method_words
from sgzone.words import season as season_words
from sgzone.words.notes import noted, options

if TYPE_CHECKING:
    from sgzone.season.store import Store

REPORT_KINDS = ("season", "block", "team")
_AFTER = "where"  # the section that two sides follow
_FIRST_IN_BLOCK = "practice"

Tables = dict[str, pd.DataFrame]


@dataclass(frozen=True, slots=True)
class Report:
    """A page, and the tables behind it unrounded, by section id or section id and a word."""

    page: Page
    tables: Tables


@bounded
def player_report(
    store: Store,
    benchmark: str | Benchmark = "tour",
    selection: Selection = EVERYTHING,
    level: float = DEFAULT_LEVEL,
    units: Units = "yards",
    *,
    kind: str = "season",
    against: str | None = None,
    hours: float | None = None,
    weeks: float = BLOCK_WEEKS,
) -> Report:
    """Return the report of one player. ``kind``: ``season`` or ``block``, the last weeks.

    ``hours`` a week and ``weeks`` of the plan: as ``gather`` takes them.

    A block without a first day is the last six weeks of the data. ``against``: see
    ``against.side_by_side``. Raises ``CallError`` as ``gather`` and ``side_by_side`` do.
    """
    curve = in_store(store, benchmark)
    if kind == "block":
        selection = last_weeks(store, selection)
    found = None
    if against is not None:  # first: what cannot be set beside is refused before the long work
        selection = of_one_player(store, selection)
        found = side_by_side(store, curve, selection, against, level)
    review = gather(store, curve, selection, level, units, hours=hours, weeks=weeks)
    page, tables = build(review), tables_of(review)
    if kind == "block":
        page = _block_page(page, review)
    if found is not None:
        page = with_sides(page, found, units)
        tables["against"] = found.table
    shown = {section.id for section in page.sections}
    return Report(page, {k: t for k, t in tables.items() if k.split("-")[0] in shown and len(t)})


@bounded
def last_weeks(store: Store, selection: Selection, weeks: float = BLOCK_WEEKS) -> Selection:
    """Return the selection from its first day, or else its last ``weeks`` weeks of rounds."""
    if selection.since is not None:
        return selection
    days = round_sizes(store, selection)["date"]
    if not len(days):
        return selection
    return replace(selection, since=days.max().date() - timedelta(weeks=weeks, days=-1))


def _block_page(page: Page, review: Review) -> Page:
    """Return the page with the practice plan first."""
    summary = page.summary
    if review.first is not None and review.last is not None:
        weeks = max(1.0, ((review.last - review.first).days + 1) / 7)
        summary = (*summary, season_words.block_note(review.rounds, weeks))
    sections = sorted(page.sections, key=lambda section: section.id != _FIRST_IN_BLOCK)
    return replace(
        page,
        title=season_words.block_title(review.player, review.say),
        summary=summary,
        sections=tuple(sections),
    )


def with_sides(page: Page, found: SideBySide, units: Units = "yards") -> Page:
    """Return the page with two sides after where strokes go, or at its head without that."""
    sections = list(page.sections)
    place = next((k + 1 for k, s in enumerate(sections) if s.id == _AFTER), 0)
    sections.insert(place, against_section(found, units))
    return replace(page, sections=tuple(sections))


def tables_of(review: Review) -> Tables:
    """Return the tables behind the sections of a player's report."""
    tables = {
        "where": noted(review.parts, "summary"),
        "grid": noted(review.grid, "summary"),
        "proximity": review.medians,
        "proximity-strokes": review.points.drop(columns="round_key", errors="ignore"),
        "proximity-break-even": review.break_even,
        "why": noted(review.why, "why", review.say),
        "why-putts": review.putt_points,
        "why-putts-benchmark": review.putts,
        "misses": review.misses,
        "misses-strokes": review.miss_points,
        "misses-contours": review.miss_contours,
        "counts": noted(review.counts, "counts"),
        "clubs": noted(review.ladder, "clubs"),
        "clubs-cover": review.cover,
        "clubs-numbers": options(review.numbers),
        "practice-week": review.week,
        "trend": review.trend,
        "method": pd.DataFrame(method_words.VERDICTS, columns=["words", "mean"]),
        "sources": review.sources,
    }
    if review.plan is not None:
        tables["practice"] = review.plan.table
        tables["practice-splits"] = review.plan.alternatives
        tables["practice-detail"] = review.plan.detail
    return tables


def check_report_kind(kind: str) -> None:
    """Raise ``CallError`` for a kind of report that there is not."""
    if kind not in REPORT_KINDS:
        raise CallError(f'no kind of report "{kind}"; choose of {", ".join(REPORT_KINDS)}')


def build(review: Review) -> Page:
    """Return the page of a review; a section without data says so in one sentence."""
    summary = [season_words.NO_ROUNDS]
    if review.total is not None:
        summary = season_words.season(
            review.total,
            review.parts,
            review.rounds,
            review.against,
            review.say,
        )
    return Page(
        title=season_words.title(review.player, review.say),
        subtitle=season_words.subtitle(
            review.first, review.last, review.rounds, review.holes, review.against
        ),
        summary=tuple(summary),
        sections=(
            *(make(review) for make in RESULTS if review.rounds),
            method_section(review),
            sources_section(review),
            cautions_section(),
        ),
        colophon=method_words.COLOPHON,
    )


RESULTS = (
    agree_section,
    where_section,
    grid_section,
    proximity_section,
    why_section,
    miss_section,
    counts_section,
    clubs_section,
    practice_section,
    trend_section,
)
"""What a report shows of a player with rounds, in order."""
