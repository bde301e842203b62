"""Where strokes go, part by part."""

from __future__ import annotations

from dataclasses import replace

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts import by_part
from sgzone.report.page import Figure, Panel, Section
from sgzone.report.sections.early import round_table
from sgzone.review.where.counts import hole_endings
from sgzone.terms import NOT_ENOUGH
from sgzone.words import counts as counts_words
from sgzone.words import season as season_words
from sgzone.words import where as words
from sgzone.words.notes import noted
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return strokes gained per round by part."""
    say, parts = asked.say, asked.parts[asked.parts["shots"] > 0]
    if parts.empty:
        return Section((season_words.no_parts(say),))
    rows, caption = noted(parts, "summary"), "Strokes gained by part"
    table = table_of(rows, "summary", say, caption, keys=("part",))
    table = replace(table, opens=tuple(f"part={part}" for part in parts["part"]))
    order, *careful = words.parts_lead(parts, say)  # the chart stands as high as it can
    notes = _notes(asked)
    if (parts["verdict"] == NOT_ENOUGH).all():  # bars of single strokes would look like a finding
        if not asked.early:
            return Section((order, *careful), tables=(table,), notes=notes)
        first = round_table(asked), table.only_short()
        return Section((order,), tables=first, notes=notes, stays=True)
    chart = by_part(parts, level=say.level, units=say.units)
    figure = Figure(
        panels=(Panel("by-part", chart, words.parts_alt(parts, say)),),
        caption=(*words.read_parts(parts["verdict"]), *careful, *words.marked(parts["basis"])),
        table=table,
        in_numbers=True,
    )
    return Section((order,), (figure,), notes=notes)


def _notes(asked: Asked) -> tuple[str, ...]:
    """Return how holes ended, which strokes have no value, and distances that look guessed."""
    notes = counts_words.holes_note(hole_endings(asked.store, asked.selection))
    if asked.total is not None:
        notes += counts_words.unscored(asked.total)
    if asked.measuring is not None:
        notes += counts_words.heaped(asked.measuring.heaping)
    return notes


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    first = {"rounds": asked.played} if asked.early else {}
    return {"": noted(asked.parts, "summary"), **first}
