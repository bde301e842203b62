"""By lie and distance."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.charts import grid, putt_grid
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.terms import NOT_ENOUGH
from sgzone.words import grid as grid_words
from sgzone.words import where as where_words
from sgzone.words.notes import noted
from sgzone.words.tables import table_of


def grid_section(review: Review) -> Section:
    """Return gained per shot by lie and distance, off the green and on it."""
    head = ("grid", "By lie and distance")
    table, level, units = review.grid[review.grid["shots"] > 0], review.level, review.units
    if table.empty:
        return Section(*head, lead=(grid_words.NO_GRID,))
    lead, notes = grid_words.grid_lead(table, review.say), grid_words.grid_notes(table)
    said = "Strokes gained by lie and distance"
    rows = table_of(noted(table, "summary"), "summary", review.say, said, keys=("band", "lie"))
    if (table["verdict"] == NOT_ENOUGH).all():
        return Section(*head, lead, tables=(rows,), notes=notes)
    putts = table["lie"] == "green"
    panels = []
    if (~putts).any():
        alt = grid_words.grid_alt(table[~putts], "off the green by lie and distance", review.say)
        panels.append(
            Panel("grid-off-green", grid(table, level=level, units=units), alt, "Off the green")
        )
    if putts.any():
        alt = grid_words.grid_alt(table[putts], "putts by distance", review.say)
        panels.append(
            Panel("grid-putts", putt_grid(table, level=level, units=units), alt, "On the green")
        )
    figure = Figure(
        panels=tuple(panels),
        caption=grid_words.READ_GRID + where_words.marked(table["basis"]),
        table=rows,
        keys=(
            Key("loss-tint", "lost"),
            Key("gain-tint", "gained"),
            Key("faint", "too few shots"),
        ),
    )
    return Section(*head, lead, (figure,), notes=notes)
