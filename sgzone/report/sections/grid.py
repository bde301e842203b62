"""By lie and distance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pandas as pd

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts import grid, putt_grid
from sgzone.report.charts.chosen.following import opened
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.stats.verdict import NOT_SETTLED
from sgzone.terms import NOT_ENOUGH
from sgzone.words import grid as words
from sgzone.words import where as where_words
from sgzone.words.notes import noted
from sgzone.words.say import Say
from sgzone.words.tables import table_of

KEYS = (
    Key("loss-tint", "lost"),
    Key("gain-tint", "gained"),
    Key("outline", NOT_SETTLED),
)


def section(asked: Asked) -> Section:
    """Return gained per shot by lie and distance, off the green and on it."""
    say, cells = asked.say, asked.grid[asked.grid["shots"] > 0]
    if cells.empty:
        return Section((words.NO_GRID,))
    lead, notes = words.grid_lead(cells, say), words.grid_notes(cells)
    rows, caption = noted(cells, "summary"), "Strokes gained by lie and distance"
    table = table_of(rows, "summary", say, caption, keys=("band", "lie"))
    table = replace(table, opens=tuple(opened(cells)))
    if (cells["verdict"] == NOT_ENOUGH).all():
        return Section(lead, tables=(table,), notes=notes)
    figure = Figure(
        panels=tuple(_panels(cells, say)),
        caption=words.READ_GRID + where_words.marked(cells["basis"]),
        table=table,
        keys=KEYS,
    )
    return Section(lead, (figure,), notes=notes)


def _panels(cells: pd.DataFrame, say: Say) -> Iterator[Panel]:
    putts = cells["lie"] == "green"
    if (~putts).any():
        alt = words.grid_alt(cells[~putts], "off the green by lie and distance", say)
        chart = grid(cells, level=say.level, units=say.units)
        yield Panel("grid-off-green", chart, alt, words.OFF_GREEN)
    if putts.any():
        alt = words.grid_alt(cells[putts], "putts by distance", say)
        chart = putt_grid(cells, level=say.level, units=say.units)
        yield Panel("grid-putts", chart, alt, words.ON_GREEN)


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {"": noted(asked.grid, "summary")}
