"""Sentences about what to practise."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from sgzone.practice.goal import MOST_HOURS, Goal, Target
from sgzone.practice.log import BASELINE_WEEKS, Load
from sgzone.practice.plan import PLAN, PRIORITY, SHARE_LEVEL, TYPED, Plan, plan_table
from sgzone.practice.settings import Settings
from sgzone.practice.shares import NO_BETTER
from sgzone.practice.test_blocks import GAIN
from sgzone.practice.whatif import WhatIf
from sgzone.terms import CAUSE_WORDS, MIN_ROUNDS, MIN_SHOTS
from sgzone.words.cautions import ASSUMPTIONS
from sgzone.words.digits import (
    count,
    decimals,
    estimate,
    listed,
    number,
    rows,
    standard_error,
    thousands,
)
from sgzone.words.say import Say, Words

HOURS_TITLE = "The share of the practice hours by part: now, and suggested"
RETURNS_TITLE = "What more hours of a part would win back, if the assumptions hold"
BLOCKS_TITLE = "Test blocks: each day's middle miss against the pass mark"
NEXT = "Next: the first week's sessions, --week; the whole sheet, sgzone report plan.pdf."
_FEW_HOURS, _MANY_HOURS = 10, 100
"""Hours in all below which halves of one are told, and from which only tens are."""
_MOST_TOLD = 3
"""Parts whose share is told in the sentence."""
_MOST_NAMED = 3
"""Parts whose hours are told in the sentence; the table has them all."""


def planned(plan: Plan) -> str:
    """Return what was planned for."""
    return f"{plan.hours:g} hours a week for {plan.weeks:g} weeks. {ASSUMPTIONS}"


READ_RETURNS = (
    "Line: strokes a round won back; band: its range (9 in 10). Dashed: beyond the log's hours.",
)
NO_BLOCKS = "There are no test blocks of mixed numbers."


def read_blocks(say: Say) -> Words:
    """Return how to read the chart of test blocks."""
    return (
        f"Dot: a day's middle miss, times the pass mark; line: its range ({say.chances}).",
        "Under the orange line (1) the middle ball passes. The scale doubles at every step.",
    )


READ_HOURS = "Dot: the suggested share of the hours; pale line: its range (9 in 10)."
READ_HOURS_NOW = "Ring: the share now, by the practice log. At the end: now, then suggested."
READ_HOURS_ALONE = "No practice log: the share now is not known, and not drawn."


def read_hours(plan: Plan) -> Words:
    """Return how to read the chart of hours, and whether those of now are known."""
    known = plan.table["share_now"].notna().any()
    return (READ_HOURS, READ_HOURS_NOW if known else READ_HOURS_ALONE)


_NEEDS = (
    f"A plan needs {MIN_SHOTS} shots of one part and {MIN_ROUNDS} rounds. "
    "Until then, share the hours equally."
)
NO_PLAN = f"Too few strokes to plan from. {_NEEDS}"


NO_LOSS = "No part loses strokes to this level: the hours are split equally."
NONE_SHOWN = (
    "No part loses strokes to this level on balance: the shares follow what the losses may still "
    "be."
)
NO_BASELINE = (
    "No practice log, so no baseline: start low, well under these hours, and build up over weeks."
)
READ_WEEK = "The first week. In brackets: how near a ball must finish to pass."
SPLITS = "What each split could be worth (estimate)"


HOURS_FROM = {
    "asked": "{hours:g} hours a week for {weeks:g} weeks",
    "log": "{hours:g} hours a week, as in the log's last weeks, for {weeks:g} weeks",
    "example": "{hours:g} hours a week (an example: no practice log) for {weeks:g} weeks",
}


def plan_page(plan: Plan, *, detail: bool = False) -> pd.DataFrame:
    """Return the plan by part as a person reads it: columns of the answer ``hours``.

    ``detail``: with what one hour more brings, and the shares at half and double the rate.
    """
    table = plan_table(plan, detail=detail)
    tied = table["tied"].sum() > 1
    page = table.assign(
        why=[_reason(row, tied=tied) for row in rows(table)],
        gained_per_round=-table["loss_per_round"],
        low=-table["high"],
        high=-table["low"],
    )
    return page.drop(columns=["why", "share_now"]) if detail else page


def _reason(row: Any, *, tied: bool) -> str:
    """Return what a share rests on: the loss, and whether another part may be as large."""
    loss = row.loss_per_round
    size = f"{'loses' if loss > 0 else 'gains'} {number(abs(loss), 2)} a round"
    if row.tied and tied:
        return f"{size}, toss-up"
    return size if row.role == PRIORITY else f"keep up: {size}"


def plan_lead(plan: Plan, say: Say, hours_from: str = "asked") -> Words:
    """Return the plan in sentences: the split of the hours, and what it may be worth.

    ``hours_from``: where the hours come from, a key of ``HOURS_FROM``.
    """
    hours = HOURS_FROM[hours_from].format(hours=plan.hours, weeks=plan.weeks)
    if plan.no_loss:
        return (f"{hours}: equal shares. {NO_LOSS}",)
    most = plan.table.nlargest(_MOST_TOLD, "share")
    split = listed([f"{say.part(row.part)} {five(row.share)}" for row in rows(most)])
    said = f"Worth about {_worth(plan, PLAN)} strokes a round (9 in 10), if these assumptions are "
    own = (plan.alternatives["split"] == TYPED).any()
    yours = f" Your split: about {_worth(plan, TYPED)}." if own else ""
    return (f"{hours}: {split}.", f"{said}right.{yours}")


def _worth(plan: Plan, split: str) -> str:
    """Return what a split of the hours may be worth, with its range."""
    row = plan.alternatives[plan.alternatives["split"] == split].iloc[0]
    value, low, high = (float(row[name]) for name in ("strokes_per_round", "low", "high"))
    return estimate(value, low, high, SHARE_LEVEL)


def five(share: float) -> str:
    """Return a share as the table has it, to the nearest 5%."""
    return f"{5 * math.floor(20 * share + 0.5) or 'under 5'}%"


def split_words(plan: Plan, say: Say) -> Words:
    """Return what is too close to call in a plan, and which splits are no worse or better."""
    if plan.no_loss:
        return (NO_LOSS,)
    said = []
    tied = [say.part(part) for part in plan.table.loc[plan.table["tied"], "part"]]
    if plan.none_shown:
        said.append(NONE_SHOWN)
    elif len(tied) > 1:
        said.append(f"Toss-up for first: {listed(tied)}.")
    if plan.no_better:
        said.append("Hours in proportion to the losses would do as well.")
    return (*said, *_limits(plan))


def _limits(plan: Plan) -> Words:
    """Return in a sentence what the user's own limits cost, where that is worth a word."""
    if plan.limits_cost < NO_BETTER:
        return ()
    return (
        f"Your own limits on the hours cost {plan.limits_cost:.2f} strokes a round. Without them "
        "the plan would win back that much more.",
    )


def too_thin(plan: Plan) -> str:
    """Return why there is no plan, where the strokes are too few for one."""
    return (
        f"Too few strokes to plan from ({count(sum(plan.shots), 'shot')}, "
        f"{count(max(plan.rounds), 'round')}). {_NEEDS}"
    )


def assumed(against: str) -> str:
    """Return what losses are to, that practice is assumed to pay, and where that can be changed."""
    return (
        f"Losses are to {against}. How fast practice pays is assumed (--wide), not known; "
        "--settings changes it."
    )


def goal_lead(goal: Goal, plan: Plan, say: Say) -> Words:
    """Return what the target asks, and the chance that the block's hours bring it."""
    return (_asked(goal, plan, say), _chance(goal, plan.hours, plan.weeks))


def goal_notes(goal: Goal, plan: Plan, say: Say) -> Words:
    """Return what goes under the table of a plan with a target: its worth, the score, the way."""
    return (plan_lead(plan, say)[-1], *_score(goal, say), *_way(goal, say))


def in_ten(chance: float) -> str:
    """Return a chance as a coach says it.

    >>> in_ten(0.31), in_ten(0.02), in_ten(0.99)
    ('about 3 in 10', 'under 1 in 10', 'over 9 in 10')
    """
    if chance < 0.05:
        return "under 1 in 10"
    return "over 9 in 10" if chance > 0.95 else f"about {min(max(round(10 * chance), 1), 9)} in 10"


def _asked(goal: Goal, plan: Plan, say: Say) -> str:
    """Return the strokes a round to gain, with their range."""
    where = f"inside {say.zone}"
    if plan.settings.parts != Settings().parts:
        where = "in the parts planned for"
    ends = goal.need_low, goal.need_high
    if goal.there:
        ends = -goal.need_high, -goal.need_low
    places = decimals(standard_error(*ends, say.level))
    low, high = (number(end, places) for end in ends)
    size, sure = number(abs(goal.need), places), _sure(say)
    ranged = f"{size} a round {where} ({sure}: {low} to {high})"
    who = _who(goal.target)
    if goal.there:
        return f"You play like {who} already: better by {ranged}."
    return f"To play like {who} you must gain {ranged}."


def _score(goal: Goal, say: Say) -> Words:
    """Return the score that these parts are worth now; nothing where there is none."""
    if goal.score_now != goal.score_now:
        return ()
    scores = (goal.score_now, goal.score_low, goal.score_high)
    now, best, worst = (f"{score:.0f}" for score in scores)
    return (
        f"There you play now like a golfer who averages {now} ({_sure(say)}: {best} to {worst}).",
    )


def _way(goal: Goal, say: Say) -> Words:
    if goal.there:
        return ()
    if goal.need >= goal.most:
        return (
            "That is out of reach by practice of these parts, if these assumptions are right. "
            f"Practice without end would win back {goal.most:.2f} a round.",
        )
    if goal.out_of_reach:
        return (f"It would take more than {thousands(MOST_HOURS)} hours: out of reach.",)
    total = goal.least_hours
    if total < 1:
        return ("The cheapest way: under an hour of practice, if these assumptions are right.",)
    most = goal.table.nlargest(_MOST_NAMED, "hours_to_goal")
    hours = {say.part(row.part): _hours(row.hours_to_goal, total) for row in rows(most)}
    named = [f"{part} ({some})" for part, some in hours.items() if some != "0"]
    whole = _hours(total, total)
    return (
        f"The cheapest way: about {whole} hour{'' if whole == '1' else 's'} of practice, if these "
        "assumptions are right.",
        f"Most on {listed(named)}.",
    )


def _hours(hours: float, total: float) -> str:
    """Return hours as exact as the whole way is worth: tens of a long one, halves of a short."""
    if total < _FEW_HOURS:
        return f"{round(2 * hours) / 2:g}"
    return thousands(round(hours, -1 if total >= _MANY_HOURS else 0))


def _chance(goal: Goal, hours: float, weeks: float) -> str:
    """Return the chance of the block in a sentence."""
    block = f"{hours:g} hours a week for {weeks:g} week{'' if weeks == 1 else 's'}"
    return f"At {block} your chance to get there is {in_ten(goal.chance)}."


def _who(target: Target) -> str:
    if target.name:
        return "the tour" if target.name == "tour" else target.name
    return f"a golfer who averages {target.score:g}"


def _sure(say: Say) -> str:
    tenths = round(10 * say.level, 9)
    return f"{tenths:g} in 10" if tenths == round(tenths) else say.sure


def load_note(load: Load) -> Words:
    """Return the sentence about a jump in practice load, where there is one or no baseline."""
    if load.usual_hours is None:
        return (NO_BASELINE,)
    jumps = []
    if load.jumps_in_hours:
        jumps.append(f"{load.usual_hours:.1f} h to {load.hours:.1f} h a week")
    if load.jumps_in_balls:
        jumps.append(f"{load.usual_balls:.0f} to {load.balls:.0f} balls a week")
    if not jumps:
        return ()
    return (
        f"From {' and from '.join(jumps)} is a jump (log's last {BASELINE_WEEKS} weeks): step up "
        "over a few weeks.",
    )


def worth(found: WhatIf, against: str, say: Say) -> Words:
    """Return what one change would be worth."""
    now, then = (say.length(feet, "ft", 1) for feet in (found.median_now_ft, found.median_then_ft))
    return (
        f"{say.part(found.part)}, {CAUSE_WORDS[found.factor]} {found.change:+.0%}: "
        f"worth {found.strokes_per_round:+.2f} strokes per round ({say.sure}: "
        f"{found.low:+.2f} to {found.high:+.2f}) against {against}. It rests on {found.shots} of "
        f"{found.shots_in_part} shots in {found.rounds} rounds.",
        f"It would show as a median finish of {then} instead of {now}. Shots without direction are "
        f"taken as unchanged. {ASSUMPTIONS}",
    )


def blocks_title(against: str) -> str:
    """Return what the table of test blocks is."""
    return f"Test blocks of mixed numbers, {against}"


def blocks_notes(rounds: float) -> Words:
    """Return how to read the change of test blocks; ``rounds``: what the course would need."""
    known = rounds == rounds
    return (
        "Change < 0: misses got smaller, from the first half of the test days to the second. A day "
        "counts as one.",
        f"The course tells far later. {GAIN:.1f} strokes a round would take about {rounds:.0f} "
        "rounds before and as many after to show there."
        if known
        else "The course tells far later: too few rounds to say how many it would take.",
        ASSUMPTIONS,
    )


def hours_alt(plan: Plan, say: Say) -> str:
    """Return the chart of hours in words."""
    said = [
        f"{say.parts[row.part]} {five(row.share)} ({five(row.share_low)} to {five(row.share_high)}"
        + (f"; now {five(row.share_now)})" if row.share_now == row.share_now else ")")
        for row in rows(plan.table)
    ]
    return f"Suggested share of the practice hours: {'; '.join(said)}."
