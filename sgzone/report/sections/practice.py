"""The sections on what to agree and what to practise."""

from __future__ import annotations

from sgzone.practice.plan import plan_table
from sgzone.report.asked import Review
from sgzone.report.charts.hours import hours_chart
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.words import practice as words
from sgzone.words.cautions import ASSUMPTIONS, CAUTIONS
from sgzone.words.tables import table_of


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
            Panel("hours", hours_chart(plan.table, units=units), words.hours_alt(plan, review.say)),
        ),
        caption=words.READ_HOURS + (words.READ_HOURS_NOW if known else ()),
        table=table_of(plan_table(plan), "practice", say, f"The plan by part. {ASSUMPTIONS}"),
        keys=(*keys, Key("open", "now, by the log")) if known else tuple(keys),
    )
    return Section(
        *head,
        words.plan_lead(plan, say, review.hours_from),
        (figure,),
        (
            table_of(
                plan.alternatives, "splits", say, f"What each split may win back. {ASSUMPTIONS}"
            ),
            table_of(review.week, "week_page", say, "The first week on one page"),
        ),
        (*words.load_note(review.load), *CAUTIONS),
    )
