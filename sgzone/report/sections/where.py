"""The sections of the report, in their order. Finished tables in, charts and sentences out."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.charts import by_part
from sgzone.report.page import Figure, Panel, Section
from sgzone.terms import NOT_ENOUGH
from sgzone.words import counts as counts_words
from sgzone.words import season as season_words
from sgzone.words import where as where_words
from sgzone.words.notes import noted
from sgzone.words.tables import table_of


def where_section(review: Review) -> Section:
    """Return strokes gained per round by part."""
    head = ("where", "Where strokes go")
    parts = review.parts[review.parts["shots"] > 0]
    if parts.empty:
        return Section(*head, lead=(season_words.no_parts(review.say),))
    table = table_of(
        noted(parts, "summary"), "summary", review.say, "Strokes gained by part", keys=("part",)
    )
    lead = where_words.parts_lead(parts, review.say)
    notes = where_words.leaning(parts, review.say) + counts_words.holes_note(review.endings)
    if review.total is not None:
        notes += counts_words.unscored(review.total)
    if review.measuring is not None:
        notes += counts_words.heaped(review.measuring.heaping)
    if (parts["verdict"] == NOT_ENOUGH).all():  # bars of single strokes would look like a finding
        return Section(*head, lead, tables=(table,), notes=notes)
    figure = Figure(
        panels=(
            Panel(
                "by-part",
                by_part(parts, level=review.level, units=review.units),
                where_words.parts_alt(parts, review.say),
            ),
        ),
        caption=where_words.read_parts(parts["verdict"]) + where_words.marked(parts["basis"]),
        table=table,
    )
    return Section(*head, lead, (figure,), notes=notes)
