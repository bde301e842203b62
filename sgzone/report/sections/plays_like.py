"""The standard each part plays to."""

from __future__ import annotations

from sgzone.report.asked import Asked, Tables
from sgzone.report.charts.plays_like import standards
from sgzone.report.page import Figure, Panel, Section
from sgzone.review.where.plays_like import named_standards
from sgzone.words import plays_like as words
from sgzone.words.tables import table_of


def section(asked: Asked) -> Section | None:
    """Return the range of average score of each part; None where no part has one."""
    found, say = asked.plays_like, asked.say
    if (found["refusal"] != "").all():
        return None
    shown = words.reasoned(found).assign(part=found["part"].map(words.names(say)))
    figure = Figure(
        panels=(
            Panel(
                "plays-like",
                standards(found, named_standards(), level=say.level, units=say.units),
                words.alt(found, say),
            ),
        ),
        caption=words.READ,
        table=table_of(shown, "plays_like", say, words.TITLE),
    )
    return Section(words.lead(found, say), (figure,), notes=words.notes(found, say))


def tables(asked: Asked) -> Tables:
    """Return what is exported: nothing where no part has a range."""
    found = asked.plays_like
    return {"": words.reasoned(found)} if found["score_low"].notna().any() else {}
