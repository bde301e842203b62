"""Why strokes are lost: the causes of each part, and how many putts go in from where."""

from __future__ import annotations

import pandas as pd

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.causes import main_causes_chart
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.report.sections.putts import putting_figures
from sgzone.review.why.putting import POINT_COLUMNS
from sgzone.stats.verdict import GAIN, LOSS, OPEN
from sgzone.terms import PART_NAMES
from sgzone.words import why as words
from sgzone.words.notes import causes, noted
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section:
    """Return the causes of each part that can be split, and how many putts go in from where."""
    parts, putts = _split(asked.why), putting_figures(asked)
    holed = words.holed_lines(asked.telling, asked.say)
    if not parts:
        return Section((words.NO_WHY, *holed), putts)
    main = words.main_causes(asked.why)
    chart = main_causes_chart(asked.why, level=asked.say.level, units=asked.say.units)
    figure = Figure(
        panels=(Panel("why-causes", chart, words.main_alt(main, asked.say)),),
        caption=words.READ_MAIN,
        table=table_of(causes(asked.why, asked.say), "causes", asked.say, "Causes by part"),
        keys=keys(main),
    )
    lead = (*words.why_lead(asked.why, asked.say), *holed)
    return Section(lead, (figure, *putts), notes=words.WHY_RESTS)


def _split(table: pd.DataFrame) -> list[str]:
    """Return the parts whose loss is split into causes."""
    split = set(table.loc[table["factor"] == "long_short_spread", "part"])
    return [part for part in PART_NAMES if part in split]


def keys(main: pd.DataFrame) -> tuple[Key, ...]:
    """Return what the colours of the bars mean; ``main``: as ``words.why.main_causes``."""
    sides = set(main.loc[main["folded"] == 0, "side"])
    words_of = {LOSS: "loses", GAIN: "gains", OPEN: words.LUCK}
    return tuple(Key(side, said) for side, said in words_of.items() if side in sides)


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    curve, points = asked.putting
    return {
        "": noted(asked.why, "why", asked.say),
        "putts": points[POINT_COLUMNS],
        "putts-benchmark": curve,
    }
