"""The first sheet of a player with too few rounds for a verdict: what can be said already."""

from __future__ import annotations

from sgzone.report.asked import Asked
from sgzone.report.page import Section
from sgzone.review.early import still_needed, written_down
from sgzone.words.early import rounds as words
from sgzone.words.tables import Table, table_of


def round_table(asked: Asked) -> Table:
    """Return the rounds so far, a row each."""
    return table_of(asked.played, "rounds_so_far", asked.say, words.ROUNDS)


def next_to_write(asked: Asked) -> Section:
    """Return how many rounds and which columns bring the answers that are not there yet."""
    needed = words.needs(still_needed(asked.rounds, asked.plays_like))
    lacking = words.columns(written_down(asked.strokes))
    tables = [table_of(needed, "needs", asked.say, words.NEEDED)]
    if len(lacking):
        tables.append(table_of(lacking, "written_down", asked.say, words.COLUMNS))
    lead = words.what_next(asked.rounds)
    return Section(lead, tables=tuple(tables), stays=True, title=words.WRITE_DOWN)
