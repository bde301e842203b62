"""What of a page goes on paper, and in which order: the player's sheet first, then the coach's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sgzone.report.page import Page, Section
from sgzone.words import paper as words
from sgzone.words.tables import Table

PLAYER_SECTIONS = ("agree", "where", "practice")
"""What stands on the first sheet, under the summary, in the order of the page."""
FINE_PRINT = ("method", "sources", "cautions")
"""What closes a report, in smaller type."""

_IN_PRINT = ("where", "against")
"""Sections whose figure's numbers are printed too, as the short table.

A chart on paper has no tooltips. The other figures show their numbers, or more of them than a
sheet can hold, which the screen and the export have.
"""
_SESSIONS = "practice"
"""The section whose tables, after the first, are the last sheet: to tear off."""


def on_paper(page: Page) -> Page:
    """Return the page as it is printed: at most the player's sheet, then the coach's.

    Tables of the player's sections move to the coach, where the plain counts follow them; words
    for screens go, and of the numbers behind a chart only those the chart cannot show stay.
    """
    first = [s for s in page.sections if s.id in PLAYER_SECTIONS]
    rest = [s for s in page.sections if s.id not in PLAYER_SECTIONS]
    numbers = tuple(table for section in first for table in _tables(section))
    where = tuple(note for section in first if section.id == "where" for note in section.notes)
    rest.sort(key=lambda section: section.id != "counts")
    coach = [replace(_printed(s), tables=tuple(_tables(s))) for s in rest]
    if numbers:
        coach = [Section("numbers", words.IN_NUMBERS, tables=numbers, notes=where), *coach]
    if first and coach:
        coach[0] = replace(coach[0], fresh=True)
    for section in first:
        if section.id == _SESSIONS and len(section.tables) > 1:
            # Torn off, the sheet goes to the range alone: its cautions go with it.
            sheet = Section(
                "week", words.FOR_THE_RANGE, tables=section.tables[1:], notes=section.notes
            )
            coach.append(replace(sheet, fresh=True))
            coach.sort(key=lambda section: section.id == "cautions")  # they go along with it
    return replace(
        page,
        sections=(*(_for_player(s) for s in first), *coach),
        colophon=words.COLOPHON,
    )


def _for_player(section: Section) -> Section:
    notes = () if section.id == "where" else section.notes
    bare = section.tables and not section.figures and section.id != _SESSIONS
    lead = (*section.lead, words.ON_THE_NEXT) if bare else section.lead
    return replace(_printed(section), lead=lead, tables=(), notes=notes)


def _printed(section: Section) -> Section:
    figures = tuple(
        replace(f, caption=tuple(c for c in f.caption if c not in words.SCREEN_ONLY))
        for f in section.figures
        if f.on_paper
    )
    return replace(section, figures=figures)


def _tables(section: Section) -> Iterator[Table]:
    """Yield the tables of a section that are printed, those behind its figures first."""
    if section.id in _IN_PRINT:
        for figure in section.figures:
            yield figure.table.only_short()
    yield from section.tables[:1] if section.id == _SESSIONS else section.tables
