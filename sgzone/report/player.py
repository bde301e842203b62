"""A player's report, of a season or of the last weeks: a page and the tables behind it."""

from __future__ import annotations

from dataclasses import dataclass

from sgzone.report.asked import BLOCK, Asked, Tables
from sgzone.report.charts.chosen.sums import as_played
from sgzone.report.page import Page, Place
from sgzone.report.sections import in_order
from sgzone.report.strokes.packed import Strokes, packed
from sgzone.words import method as method_words
from sgzone.words import plays_like, sides
from sgzone.words import season as words


@dataclass(frozen=True, slots=True)
class Report:
    """A page, and the tables behind it unrounded, by section id or section id and a word."""

    page: Page
    tables: Tables


def player_report(asked: Asked) -> Report:
    """Return the report of one player, as ``asked.of_player`` gives it.

    A section without data says so in one sentence. Raises ``CallError`` as ``side_by_side``.
    """
    _ = asked.sides  # first: what cannot be set beside is refused before the long work
    shown = [(chapter, chapter.section(asked)) for chapter in in_order(asked)]
    tables: Tables = {}
    for chapter, section in shown:
        if section is not None:
            tables |= chapter.exported(asked)
    block = asked.kind == BLOCK
    sections = tuple(section for _, section in shown if section is not None)
    title = (words.block_title if block else words.title)(asked.player, asked.say)
    first, last = asked.days or (None, None)
    page = Page(
        title=title,
        subtitle=words.subtitle(first, last, asked.rounds, asked.holes, asked.curve.name),
        summary=(
            *summary_of(asked),
            *_against(asked),
            *_nearest(asked),
            *(_block_note(asked) if block else ()),
        ),
        sections=sections,
        colophon=method_words.COLOPHON,
        strokes=_strokes(asked),
        opened=max(3, sum(section.place is Place.PLAYER for section in sections)),
    )
    return Report(page, tables)


def _strokes(asked: Asked) -> Strokes | None:
    """Return what the page can be asked about; None without a stroke that has a value."""
    parts = asked.parts[asked.parts["shots"] > 0]
    if parts.empty:
        return None
    chart = as_played(parts, units=asked.say.units)
    notes = asked.notes if asked.with_notes else None
    return packed(asked.strokes, asked.sizes, asked.say, chart, notes)


def summary_of(asked: Asked) -> tuple[str, ...]:
    """Return the player's season in sentences."""
    if asked.total is None:
        return (words.NO_ROUNDS,)
    against = asked.curve.name
    return tuple(words.season(asked.total, asked.parts, asked.rounds, against, asked.say))


def _against(asked: Asked) -> tuple[str, ...]:
    """Return the line of what is set beside; nothing where that was not asked."""
    found = asked.sides
    if found is None or asked.total is None:
        return ()
    return sides.beside_line(found.table, found.names, asked.say, seasons=found.seasons)


def _nearest(asked: Asked) -> tuple[str, ...]:
    """Return the nearest standard: why the page is against it, or what it shows where all lose."""
    if asked.chosen is not None:
        return plays_like.nearest(asked.chosen, asked.say)
    return plays_like.beside(asked.beside, asked.say) if asked.beside is not None else ()


def _block_note(asked: Asked) -> tuple[str, ...]:
    """Return what so few weeks can say; nothing without rounds."""
    if asked.days is None:
        return ()
    first, last = asked.days
    return (words.block_note(asked.rounds, max(1.0, ((last - first).days + 1) / 7)),)
