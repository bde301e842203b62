"""The plain counts."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.page import Section
from sgzone.review.where.counts import counts_by_band
from sgzone.words import counts as words
from sgzone.words.notes import noted
from sgzone.words.tables import table_of


def counts_section(review: Review) -> Section:
    """Return the plain counts as a table."""
    head = ("counts", "Plain counts")
    if review.counts.empty:
        return Section(*head, lead=(words.NO_COUNTS,))
    rows = review.counts[review.counts["n"] > 0]
    whole, by_band = rows[rows["band"].isna()], counts_by_band(rows)
    tables = [table_of(noted(whole, "counts"), "counts", review.say, "Per hole and round")]
    if len(by_band):
        said = "Strokes off the green, by distance"
        tables.append(table_of(by_band, "counts_by_band", review.say, said))
    return Section(*head, words.counts_lead(rows, review.say), tables=tuple(tables))
