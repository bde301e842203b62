"""What the card says beside strokes: only where it was asked for, and only on a screen."""

from __future__ import annotations

from sgzone.report.asked import Asked
from sgzone.report.page import Place, Section
from sgzone.words.rounds import notes as words
from sgzone.words.tables import table_of

ID = "notes"
"""Of the section, and of the table that is exported."""


def section(asked: Asked) -> Section:
    """Return the newest notes as a table."""
    rows = words.newest(asked.notes, asked.say)
    tables = (table_of(rows, "card_notes", asked.say, "Notes, the newest first"),)
    return Section(
        words.lead(asked.notes),
        tables=tables if len(rows) else (),
        id=ID,
        title="What the card says",
        place=Place.SCREEN,
    )
