"""What of a page goes on paper, and in which order: the player's sheet first, then the coach's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sgzone.report.page import Page, Place, Section
from sgzone.words import paper as words
from sgzone.words.tables import Table
from sgzone.words.week import READ_TICKS


def on_paper(page: Page) -> Page:
    """Return the page as it is printed: at most the player's sheet, then the coach's.

    Tables of the player's sections move to the coach, where the plain counts follow them; words
    for screens go, and of the numbers behind a chart only those the chart cannot show stay.
    """
    printed = [_printed(s) for s in page.sections if s.place is not Place.SCREEN]
    first = [s for s in printed if s.place is Place.PLAYER]
    rest = [replace(s, tables=tuple(_tables(s))) for s in printed if s.place is not Place.PLAYER]
    coach = sorted([*_in_numbers(first), *rest], key=lambda s: s.place)
    if first and coach:
        coach[0] = replace(coach[0], fresh=True)
    sheets = sorted([*coach, *_torn_off(first)], key=lambda s: s.place)
    return replace(
        page,
        sections=(*(_for_player(s) for s in first), *sheets),
        colophon=words.COLOPHON,
    )


def _printed(section: Section) -> Section:
    figures = tuple(
        replace(f, caption=tuple(c for c in f.caption if c not in words.SCREEN_ONLY))
        for f in section.figures
        if f.on_paper
    )
    return replace(section, figures=figures)


def _tables(section: Section) -> Iterator[Table]:
    """Yield the tables of a section that are printed, those behind its figures first."""
    yield from (f.table.only_short() for f in section.figures if f.in_numbers)
    yield from section.tables


def _in_numbers(first: list[Section]) -> Iterator[Section]:
    """Yield the player's sheet in numbers, where it has any, with the notes about them."""
    moved = [section for section in first if not section.stays]
    tables = tuple(table for section in moved for table in _tables(section))
    notes = tuple(note for section in moved if _noted_there(section) for note in section.notes)
    if tables:
        yield Section(
            tables=tables,
            notes=notes,
            id="numbers",
            title=words.IN_NUMBERS,
            place=Place.NUMBERS,
        )


def _noted_there(section: Section) -> bool:
    """Tell whether notes are about numbers that the coach has; cautions stay with the player."""
    return not section.cards and any(True for _ in _tables(section))


def _torn_off(first: list[Section]) -> Iterator[Section]:
    """Yield the sheets to tear off: they go to the range alone, so their cautions go with them."""
    for section in first:
        if section.cards:
            yield Section(
                lead=(READ_TICKS,),
                cards=section.cards,
                notes=section.notes,
                fresh=True,
                id="week",
                title=words.FOR_THE_RANGE,
                place=Place.RANGE,
            )


def _for_player(section: Section) -> Section:
    if section.stays:
        return section
    bare = section.tables and not section.figures
    lead = (*section.lead, words.ON_THE_NEXT) if bare else section.lead
    notes = () if _noted_there(section) else section.notes
    return replace(section, lead=lead, tables=(), over_cards=(), cards=(), notes=notes)
