"""The sections on causes, misses and the season over time."""

from __future__ import annotations

import pandas as pd

from sgzone.report.asked import Review
from sgzone.report.charts.why import cause_bars
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.report.sections.putts import putting_figures
from sgzone.terms import PART_NAMES
from sgzone.words import why as words
from sgzone.words.digits import count
from sgzone.words.notes import causes
from sgzone.words.tables import table_of


def why_section(review: Review) -> Section:
    """Return the causes of each part that can be split, and how many putts go in from where."""
    head, putts = ("why", "Why"), putting_figures(review)
    if not _split(review.why):
        return Section(*head, (words.NO_WHY,), putts)
    lead = words.why_lead(review.why, review.say)
    return Section(*head, lead, (_causes(review), *putts), notes=words.WHY_RESTS)


def _split(table: pd.DataFrame) -> list[str]:
    """Return the parts whose loss is split into causes."""
    split = set(table.loc[table["factor"] == "long_short_spread", "part"])
    return [part for part in PART_NAMES if part in split]


def _causes(review: Review) -> Figure:
    table, panels = review.why, []
    for part in _split(table):
        rows = table[table["part"] == part]
        title = f"{review.say.parts[part]}, {count(int(rows['shots'].iloc[0]), 'shot')}"
        chart = cause_bars(rows, level=review.level, units=review.units)
        panels.append(Panel(f"why-{part}", chart, words.cause_alt(rows), title))
    return Figure(
        panels=tuple(panels),
        caption=words.READ_WHY,
        table=table_of(causes(table, review.say), "causes", review.say, "Causes by part"),
        keys=(Key("loss", "proximity"), Key("loss-tint", "missed green")),
        columns=2 if len(panels) > 1 else 1,
    )
