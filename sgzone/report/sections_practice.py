"""The sections on what to agree and what to practise."""

from __future__ import annotations

import pandas as pd

from sgzone.practice.cautions import ASSUMPTIONS, CAUTIONS
from sgzone.practice.plan import Plan
from sgzone.report import words_deeper as words
from sgzone.report.charts_hours import hours_chart
from sgzone.report.gather import Review
from sgzone.report.parts import Figure, Key, Panel, Section, Show, Table, tabulate
from sgzone.terms import part_words
from sgzone.words.digits import interval_words

_PLAN = {
    "part": Show("part", words=part_words),
    "role": Show("role"),
    "shots": Show("shots", 0),
    "rounds": Show("rounds", 0),
    "shots_per_round": Show("shots per round", 1),
    "loss_per_round": Show("loss per round, strokes", 2, signed=True),
    "loss_interval": Show("interval", kind="num"),
    "said_share": Show("share of hours", kind="num"),
    "share_interval": Show("interval (90%)", kind="num"),
    "hours_per_week": Show("hours a week", 1),
    "p_first": Show("P(first)", 2),
    "said_by_loss": Show("by loss", kind="num"),
    "said_now": Show("now", kind="num"),
    "recoverable": Show("assumed recoverable share", 2),
    "rate_hours": Show("assumed rate, hours", 0),
}
_SPLITS = {
    "split": Show("split of the hours"),
    "strokes_per_round": Show("expected, strokes per round", 2, signed=True),
    "interval": Show("interval (90%)", kind="num"),
    "plan_lead": Show("the plan is better by", 2, signed=True),
    "lead_interval": Show("interval (90%)", kind="num"),
}
_WEEK = {
    "session": Show("session", 0),
    "minutes": Show("min", 0),
    "part": Show("part"),
    "balls": Show("balls", 0),
    "numbers": Show("numbers, in this order (pass mark)", kind="text"),
    "swings": Show("swings", kind="text"),
    "pass_mark": Show("pass mark", kind="text"),
}
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
    plan, units = review.plan, review.units
    if plan is None:
        return Section(*head, lead=(words.NO_PLAN,))
    known = plan.table["share_now"].notna().any()
    keys = [Key("dot", "recommended"), Key("open-ring", "in proportion to loss")]
    figure = Figure(
        panels=(
            Panel("hours", hours_chart(plan.table, units=units), words.hours_alt(plan, units)),
        ),
        caption=words.READ_HOURS + (words.READ_HOURS_NOW if known else ()),
        table=_plan_table(plan, units),
        keys=(*keys, Key("open", "now, by the log")) if known else tuple(keys),
    )
    splits = plan.alternatives.assign(
        interval=interval_words(plan.alternatives["low"], plan.alternatives["high"], 2),
        lead_interval=interval_words(
            plan.alternatives["lead_low"], plan.alternatives["lead_high"], 2
        ),
    )
    return Section(
        *head,
        words.plan_lead(plan, review.level, units, review.hours_from),
        (figure,),
        (
            tabulate(splits, _SPLITS, f"What each split may win back. {ASSUMPTIONS}"),
            tabulate(review.week, _WEEK, "The first week on one page"),
        ),
        (*filter(None, [review.load]), *CAUTIONS),
    )


def _plan_table(plan: Plan, units: str) -> Table:
    table = plan.table.merge(plan.detail[["part", "recoverable", "rate_hours"]], on="part")
    rows = table.assign(
        role=plan.roles,
        shots=plan.shots,
        rounds=plan.rounds,
        loss_interval=interval_words(table["low"], table["high"], 2),
        said_share=_fives(table["share"]),
        share_interval=[
            f"{low} to {high}"
            for low, high in zip(
                _fives(table["share_low"]), _fives(table["share_high"]), strict=True
            )
        ],
        said_by_loss=_fives(table["share_by_loss"]),
        said_now=_fives(table["share_now"]),
    )
    return tabulate(rows, _PLAN, f"The plan by part. {ASSUMPTIONS}", units)


def _fives(shares: pd.Series) -> list[str]:
    """Return shares to the nearest 5%: more digits would not be true."""
    return ["" if s != s else f"{5 * round(s * 20)}%" if s >= 0.025 else "under 5%" for s in shares]
