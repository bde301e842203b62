"""Where the ball finishes around the hole."""

from __future__ import annotations

from sgzone.report.asked import Review
from sgzone.report.charts.why import END_WORDS, one_map
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.terms import PART_NAMES
from sgzone.words import why as words
from sgzone.words.tables import table_of

_MAPS = 3


def miss_section(review: Review) -> Section:
    """Return where balls finish around the hole, for the parts with most shots."""
    head = ("misses", "Where the ball finishes")
    points, contours = review.miss_points, review.miss_contours
    if contours.empty:
        return Section(*head, lead=(words.NO_MISSES,))
    groups = contours.drop_duplicates("group").nlargest(_MAPS, "shots")["group"]
    panels = []
    for group in (name for name in PART_NAMES if name in set(groups)):
        own = points[points["group"] == group]
        chart = one_map(group, own, contours[contours["group"] == group], None, review.units)
        panels.append(Panel(f"misses-{group}", chart, words.miss_alt(group, own, review.say)))
    happened = review.misses[review.misses["shots"] > 0]
    figure = Figure(
        panels=tuple(panels),
        caption=words.READ_MISS,
        table=table_of(happened, "misses", review.say, "The miss that hurts"),
        keys=(Key("dot", END_WORDS["green"]), Key("triangle", END_WORDS["missed"])),
        columns=2 if len(panels) > 1 else 1,
    )
    return Section(*head, figures=(figure,))
