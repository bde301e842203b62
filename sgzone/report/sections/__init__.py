"""The chapters of a report in their order: a new one is a file here and a line below."""

from sgzone.report.asked import BLOCK, Asked
from sgzone.report.page import Place
from sgzone.report.sections import (
    agree,
    agreed,
    clubs,
    counts,
    grid,
    method,
    misses,
    plays_like,
    practice,
    proximity,
    sides,
    strokes,
    trend,
    where,
    why,
)
from sgzone.report.sections.chapter import Chapter

PLAYER, FINE, SCREEN = Place.PLAYER, Place.FINE, Place.SCREEN

FINE_PRINT = (
    Chapter("method", "How it was worked out", method.section, method.tables, FINE, always=True),
    Chapter("sources", "Sources", method.sources, method.source_tables, FINE, always=True),
    Chapter("cautions", "Cautions", method.cautions, place=Place.CLOSING, always=True),
)
"""What closes every report."""
_EARLY = ("where", "counts", "practice", "agree")
CHAPTERS = (
    Chapter("where", "Where strokes go", where.section, where.tables, PLAYER),
    Chapter("practice", "Practice hours", practice.section, practice.tables, PLAYER, opens=BLOCK),
    Chapter("agree", "Three things to agree", agree.section, place=PLAYER),
    Chapter("agreed", "How agreements go", agreed.section, agreed.tables, SCREEN),
    Chapter("standards", "The standard you play to", plays_like.section, plays_like.tables, SCREEN),
    Chapter("against", "Side by side", sides.section, sides.tables, always=True),
    Chapter("grid", "By lie and distance", grid.section, grid.tables),
    Chapter("proximity", "Proximity against break-even", proximity.section, proximity.tables),
    Chapter("why", "Why", why.section, why.tables),
    Chapter("misses", "Where the ball finishes", misses.section, misses.tables),
    Chapter("counts", "Plain counts", counts.section, counts.tables, Place.NUMBERS),
    Chapter("clubs", "Clubs and numbers", clubs.section, clubs.tables),
    Chapter("trend", "Over the season", trend.section, trend.tables),
    Chapter("strokes", "Stroke by stroke", strokes.section, place=SCREEN),
    *FINE_PRINT,
)


def in_order(asked: Asked) -> list[Chapter]:
    """Return the chapters as they follow each other: first what its kind of report opens with.

    With too few rounds for a verdict, first what can be said already.
    """
    if asked.early:
        return sorted(CHAPTERS, key=lambda c: (*_EARLY, c.id).index(c.id))
    return sorted(CHAPTERS, key=lambda chapter: chapter.opens != asked.kind)
