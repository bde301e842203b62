"""The plain counts."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.page import Section
from sgzone.review.where.counts import counts_by_band
from sgzone.words import counts as words
from sgzone.words.notes import noted
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return the plain counts as a table."""
    if asked.counts.empty:
        return Section((words.NO_COUNTS,))
    rows = asked.counts[asked.counts["n"] > 0]
    whole, by_band = rows[rows["band"].isna()], counts_by_band(rows)
    tables = [table_of(noted(whole, "counts"), "counts", asked.say, "Per hole and round")]
    if len(by_band):
        caption = "Strokes off the green, by distance"
        tables.append(table_of(by_band, "counts_by_band", asked.say, caption))
    return Section(words.counts_lead(rows, asked.say), tables=tuple(tables), stays=asked.early)


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {"": noted(asked.counts, "counts")}
