"""Where the ball finishes around the hole."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.why import END_WORDS, one_map
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.terms import PART_NAMES
from sgzone.words import why as words
from sgzone.words.notes import as_gains
from sgzone.words.tables import table_of

_MAPS = 3


def section(asked: Asked) -> Section:
    """Return where balls finish around the hole, for the parts with most shots."""
    if asked.contours.empty:
        return Section((words.NO_MISSES,))
    most = set(asked.contours.drop_duplicates("group").nlargest(_MAPS, "shots")["group"])
    panels = tuple(_panel(asked, part) for part in PART_NAMES if part in most)
    happened = asked.misses[asked.misses["shots"] > 0]
    figure = Figure(
        panels=panels,
        caption=words.READ_MISS,
        table=table_of(as_gains(happened), "miss_costs", asked.say, words.MISSES_CAPTION),
        keys=(Key("dot", END_WORDS["green"]), Key("triangle", END_WORDS["missed"])),
        columns=2 if len(panels) > 1 else 1,
    )
    return Section(figures=(figure,), follows=True)


def _panel(asked: Asked, part: str) -> Panel:
    points, contours = (table[table["group"] == part] for table in (asked.finishes, asked.contours))
    chart = one_map(part, points, contours, None, asked.say.units, follows=True)
    return Panel(f"misses-{part}", chart, words.miss_alt(part, points, asked.say))


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    return {
        "": asked.misses,
        "strokes": asked.finishes.drop(columns="stroke"),
        "contours": asked.contours,
    }
