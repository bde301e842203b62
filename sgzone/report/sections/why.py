"""Why strokes are lost: the causes of each part, and how many putts go in from where."""

from __future__ import annotations

import pandas as pd

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.why import cause_bars
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.report.sections.putts import putting_figures
from sgzone.terms import PART_NAMES
from sgzone.words import why as words
from sgzone.words.digits import count
from sgzone.words.notes import causes, noted
from sgzone.words.say import Say
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return the causes of each part that can be split, and how many putts go in from where."""
    parts, putts = _split(asked.why), putting_figures(asked)
    holed = words.holed_lines(asked.telling, asked.say)
    if not parts:
        return Section((words.NO_WHY, *holed), putts)
    panels = tuple(_panel(part, asked.why[asked.why["part"] == part], asked.say) for part in parts)
    figure = Figure(
        panels=panels,
        caption=words.READ_WHY,
        table=table_of(causes(asked.why, asked.say), "causes", asked.say, "Causes by part"),
        keys=(Key("loss", "distance left"), Key("loss-tint", "missed greens")),
        columns=2 if len(panels) > 1 else 1,
    )
    lead = (*words.why_lead(asked.why, asked.say), *holed)
    return Section(lead, (figure, *putts), notes=words.WHY_RESTS)


def _split(table: pd.DataFrame) -> list[str]:
    """Return the parts whose loss is split into causes."""
    split = set(table.loc[table["factor"] == "long_short_spread", "part"])
    return [part for part in PART_NAMES if part in split]


def _panel(part: str, rows: pd.DataFrame, say: Say) -> Panel:
    title = f"{say.parts[part]}, {count(int(rows['shots'].iloc[0]), 'shot')}"
    chart = cause_bars(rows, level=say.level, units=say.units)
    return Panel(f"why-{part}", chart, words.cause_alt(rows), title)


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    curve, points = asked.putting
    return {"": noted(asked.why, "why", asked.say), "putts": points, "putts-benchmark": curve}
