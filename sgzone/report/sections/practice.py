"""What to practise: the hours by part, and the first week."""

from __future__ import annotations

from dataclasses import replace

from sgzone.practice.log import planned_load
from sgzone.practice.plan import Plan
from sgzone.report.asked import Asked, Tables, hours_to_plan
from sgzone.report.charts.hours import hours_chart
from sgzone.report.page import Figure, Key, Panel, Section
from sgzone.report.sections.early import next_to_write
from sgzone.words import practice as words
from sgzone.words.cautions import ASSUMPTIONS, CAUTIONS
from sgzone.words.say import Say
from sgzone.words.tables import table_of
from sgzone.words.week import READ_ORDER, session_cards


def section(asked: Asked) -> Section:
    """Return the plan with every assumption and caution, and the first week to tear off."""
    if asked.early:
        return next_to_write(asked)
    made, plan, say = hours(asked), asked.plan, asked.say
    if plan is None:
        return made
    splits = table_of(plan.alternatives, "splits", say, words.SPLITS)
    cards = session_cards(asked.sessions, say)
    over = (words.READ_WEEK, READ_ORDER) if cards else ()
    return replace(made, tables=(splits,), over_cards=over, cards=cards)


def hours(asked: Asked) -> Section:
    """Return the share of the hours each part deserves, with the cautions."""
    if asked.plan is None:
        return Section((words.NO_PLAN,))
    planned, source = hours_to_plan(asked.log, asked.hours)
    return Section(
        words.plan_lead(asked.plan, asked.say, source),
        (_figure(asked.plan, asked.say),),
        notes=(
            *words.split_words(asked.plan, asked.say),
            *words.load_note(planned_load(asked.log, planned)),
            *CAUTIONS,
        ),
    )


def _figure(plan: Plan, say: Say) -> Figure:
    chart = hours_chart(plan.table, units=say.units)
    return Figure(
        panels=(Panel("hours", chart, words.hours_alt(plan, say)),),
        caption=words.read_hours(plan),
        table=table_of(words.plan_page(plan), "hours", say, f"The plan by part. {ASSUMPTIONS}"),
        keys=keys(plan),
    )


def keys(plan: Plan) -> tuple[Key, ...]:
    """Return what the marks of the hours are."""
    known = plan.table["share_now"].notna().any()
    now = (Key("ink-ring", "now, by the log"),) if known else ()
    return (*now, Key("dot", "suggested"), Key("span", "its range"))


def tables(asked: Asked) -> Tables:
    """Return what is exported."""
    if asked.plan is None:
        return {}
    plan = asked.plan
    return {
        "": plan.table,
        "splits": plan.alternatives,
        "detail": plan.detail,
        "week": asked.week,
    }
