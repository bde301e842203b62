"""The sections on what to agree and what to practise."""

from __future__ import annotations

from sgzone.practice.cautions import ASSUMPTIONS, CAUTIONS
from sgzone.practice.plan import plan_table
from sgzone.report import words_deeper as words
from sgzone.report.charts_hours import hours_chart
from sgzone.report.gather import Review
from sgzone.report.parts import Figure, Key, Panel, Section
from sgzone.words.tables import table_of

AGREE_LINES = 3


def agree_section(review: Review) -> Section:
    """Return what to agree on, with room to write."""
    lead = words.agree_lead(review.parts, review.why, review.plan, review.units)
    return Section(
        "agree",
        "Three things to agree",
        lead,
        notes=words.level_note(review.parts, review.units),
        lines=AGREE_LINES,
    )


def practice_section(review: Review) -> Section:
    """Return the share of the hours each part deserves, with every assumption and caution."""
    head = ("practice", "Practice hours")
    plan, units, say = review.plan, review.units, review.say
    if plan is None:
        return Section(*head, lead=(words.NO_PLAN,))
    known = plan.table["share_now"].notna().any()
    keys = [Key("dot", "recommended"), Key("open-ring", "in proportion to loss")]
    figure = Figure(
        panels=(
            Panel("hours", hours_chart(plan.table, units=units), words.hours_alt(plan, units)),
        ),
        caption=words.READ_HOURS + (words.READ_HOURS_NOW if known else ()),
        table=table_of(plan_table(plan), "practice", say, f"The plan by part. {ASSUMPTIONS}"),
        keys=(*keys, Key("open", "now, by the log")) if known else tuple(keys),
    )
    return Section(
        *head,
        words.plan_lead(plan, review.level, units, review.hours_from),
        (figure,),
        (
            table_of(
                plan.alternatives, "splits", say, f"What each split may win back. {ASSUMPTIONS}"
            ),
            table_of(review.week, "week_page", say, "The first week on one page"),
        ),
        (*filter(None, [review.load]), *CAUTIONS),
    )
