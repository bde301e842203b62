"""Every agreement and how it goes, the newest open ones drawn."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.agreed import curve_of
from sgzone.report.page import Figure, Panel, Section
from sgzone.review.agreed.going import over_time
from sgzone.review.agreed.observed import Observed
from sgzone.words.agreed import chart as chart_words
from sgzone.words.agreed import going as words
from sgzone.words.tables import table_of

_MOST_DRAWN = 3


def section(asked: Asked) -> Section | None:
    """Return what was agreed on and how it goes; None where nothing was."""
    found, say = asked.agreements, asked.say
    if found.empty:
        return None
    shown = words.shown(found, say, whole=True).drop(columns="player")
    table = table_of(shown, "agreements", say, words.TITLE)
    panels = _panels(asked)
    lead, notes = words.lead(found), words.care(found, say)
    if not panels:
        return Section(lead, tables=(table,), notes=notes)
    figure = Figure(panels, caption=chart_words.READ, table=table)
    return Section(lead, (figure,), notes=notes)


def _panels(asked: Asked) -> tuple[Panel, ...]:
    found = asked.agreements
    drawn = found[found["closed"].isna() & found["unit"].notna()].tail(_MOST_DRAWN)
    # what was before an agreement may lie before the rounds of the report
    of = Observed(asked.store, asked.curve, replace(asked.selection, since=None))
    months = [(row, over_time(of, row, asked.say.level)) for _, row in drawn.iterrows()]
    return tuple(_panel(row, seen, asked) for row, seen in months if len(seen))


def _panel(row: pd.Series, months: pd.DataFrame, asked: Asked) -> Panel:
    chart = curve_of(row, months, units=asked.say.units)
    title = chart_words.title(row)
    return Panel(f"agreed-{row['agreement']}", chart, words.line(row, asked.say), title)


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {"": asked.agreements}
