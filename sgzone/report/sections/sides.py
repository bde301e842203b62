"""Two seasons or two benchmarks side by side."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.beside import SideBySide
from sgzone.report.charts.sides import pairs_chart
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.words import sides as words
from sgzone.words.say import Say
from sgzone.words.tables import Table, table_of


def section(asked: Asked) -> Section | None:
    """Return the two sides in one table and one paired chart; None without a second side."""
    found, say = asked.sides, asked.say
    if found is None:
        return None
    table, names = found.table, found.names
    title = f"{names[0]} beside {names[1]}"
    title = title[0].upper() + title[1:]
    if not table["difference"].notna().any():
        return Section((words.NO_DIFFERENCE,), title=title)
    chart = pairs_chart(table, names, level=say.level, units=say.units)
    figure = Figure(
        panels=(Panel("pairs", chart, words.pairs_alt(table, names, say)),),
        caption=words.READ_PAIRS,
        table=_table(found, say),
        keys=(Key("dot", names[0]), Key("open-ring", names[1])),
        in_numbers=True,
    )
    lead = words.pairs_lead(table, names, say) if found.seasons else ()
    notes = words.COURSES if found.seasons else (words.SAME_STROKES,)
    return Section(lead, (figure,), notes=notes, title=title)


def _table(found: SideBySide, say: Say) -> Table:
    names = {"first": found.names[0], "second": found.names[1]}
    rows = found.table.assign(part=found.table["part"].replace("total", "all parts"))
    return table_of(rows, "sides", say, "Side by side, by part", named=names)


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {"": asked.sides.table} if asked.sides is not None else {}
