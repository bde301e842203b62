"""Sentences about the way to a goal."""

from __future__ import annotations

from sgzone.practice.goal import MOST_HOURS, Goal, Target
from sgzone.practice.plan import Plan
from sgzone.practice.settings import Settings
from sgzone.words.digits import decimals, listed, number, rows, standard_error, thousands
from sgzone.words.say import Say, Words

_FEW_HOURS, _MANY_HOURS = 10, 100
"""Hours in all below which halves of one are told, and from which only tens are."""
_MOST_NAMED = 4
"""Parts whose hours are told in the sentence; the table has them all."""


def goal_words(goal: Goal, plan: Plan, say: Say) -> Words:
    """Return what the target asks, the cheapest way there and the chance of the block's hours."""
    return (*_asked(goal, plan, say), *_way(goal, say), _chance(goal, plan.hours, plan.weeks))


def in_ten(chance: float) -> str:
    """Return a chance as a coach says it.

    >>> in_ten(0.31), in_ten(0.02), in_ten(0.99)
    ('about 3 in 10', 'under 1 in 10', 'over 9 in 10')
    """
    if chance < 0.05:
        return "under 1 in 10"
    return "over 9 in 10" if chance > 0.95 else f"about {min(max(round(10 * chance), 1), 9)} in 10"


def _asked(goal: Goal, plan: Plan, say: Say) -> Words:
    """Return the strokes to gain, and the score that these parts are worth now."""
    where = f"inside {say.zone}"
    if plan.settings.parts != Settings().parts:
        where = "in the parts planned for"
    ends = goal.need_low, goal.need_high
    if goal.there:
        ends = -goal.need_high, -goal.need_low
    places = decimals(standard_error(*ends, say.level))
    low, high = (number(end, places) for end in ends)
    size, sure = number(abs(goal.need), places), _sure(say)
    ranged = f"{size} strokes a round {where} ({sure}: {low} to {high})"
    who = _who(goal.target)
    lead = f"To play like {who} you must gain {ranged}."
    if goal.there:
        lead = f"You play like {who} already: better by {ranged}."
    if goal.score_now != goal.score_now:
        return (lead,)
    scores = (goal.score_now, goal.score_low, goal.score_high)
    now, best, worst = (f"{score:.0f}" for score in scores)
    score = f"You play there now like a golfer who averages {now} ({sure}: {best} to {worst})."
    return (lead, score)


def _way(goal: Goal, say: Say) -> Words:
    if goal.there:
        return ()
    if goal.need >= goal.most:
        return (
            "That is out of reach by practice of these parts, if the assumptions are right: "
            f"without end it would win back {goal.most:.2f} a round.",
        )
    if goal.out_of_reach:
        return (f"It would take more than {thousands(MOST_HOURS)} hours: out of reach.",)
    total = goal.least_hours
    if total < 1:
        return ("The cheapest way is under an hour of practice, if the assumptions are right.",)
    most = goal.table.nlargest(_MOST_NAMED, "hours_to_goal")
    hours = {say.part(row.part): _hours(row.hours_to_goal, total) for row in rows(most)}
    named = [f"{part} {some}" for part, some in hours.items() if some != "0"]
    return (
        f"The cheapest way is about {_hours(total, total)} hours of practice, if the assumptions "
        f"are right. Most of them: {listed(named)}.",
    )


def _hours(hours: float, total: float) -> str:
    """Return hours as exact as the whole way is worth: tens of a long one, halves of a short."""
    if total < _FEW_HOURS:
        return f"{round(2 * hours) / 2:g}"
    return thousands(round(hours, -1 if total >= _MANY_HOURS else 0))


def _chance(goal: Goal, hours: float, weeks: float) -> str:
    """Return the chance of the block in a sentence."""
    block = f"{hours:g} hours a week for {weeks:g} week{'' if weeks == 1 else 's'}"
    return f"At {block} the chance to be there is {in_ten(goal.chance)}."


def _who(target: Target) -> str:
    if target.name:
        return "the tour" if target.name == "tour" else target.name
    return f"a golfer who averages {target.score:g}"


def _sure(say: Say) -> str:
    tenths = round(10 * say.level, 9)
    return f"{tenths:g} in 10" if tenths == round(tenths) else say.sure
