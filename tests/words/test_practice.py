"""Sentences of the practice plan and its goal: digits follow the interval that they show."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pandas as pd
import pytest

from sgzone.practice.goal import Goal, read_target
from sgzone.practice.plan import PLAN, TYPED
from sgzone.practice.settings import Settings
from sgzone.words.practice import HOURS_FROM, goal_lead, goal_notes, in_ten, plan_lead
from sgzone.words.say import Say

HOURS = [15.3, 3.5, 0.7, 2.4, 0.7, 5.1, 0.7, 0.7]
FOUND = Goal(
    target=read_target("amateur-80"),
    need=0.42,
    need_low=-0.04,
    need_high=0.85,
    score_now=81.2,
    score_low=80.3,
    score_high=82.4,
    most=1.58,
    least_hours=29.1,
    chance=0.31,
    table=pd.DataFrame({"part": Settings().parts, "hours_to_goal": HOURS}),
)


def _plan(value: float, low: float, high: float, *, typed: float | None = None) -> Any:
    ends = {"low": low, "high": high}
    rows = [{"split": PLAN, "strokes_per_round": value, **ends}]
    if typed is not None:
        rows.append({"split": TYPED, "strokes_per_round": typed, **ends})
    shares = [0.4, 0.3, 0.1, *[0.04] * 5]
    table = pd.DataFrame({"part": Settings().parts, "share": shares})
    return SimpleNamespace(
        hours=4.0, weeks=6, table=table, alternatives=pd.DataFrame(rows), no_loss=False
    )


def test_the_digits_of_a_90_percent_interval_follow_its_own_error() -> None:
    """A half-width of 0.5 is an error of 0.30 at 90%; as one of 80% it is 0.39, a digit less."""
    plan = _plan(1.234, 0.734, 1.734)
    split, said = plan_lead(plan, Say(level=0.80))
    assert split.endswith(
        "weeks: approach 100-150 yd 40%, wedge 50-100 yd 30% and pitch 30-50 yd 10%."
    )
    assert said.startswith("Worth about 1.23 (0.73 to 1.73) strokes a round (9 in 10), if these")
    assert "our split" not in said
    own = plan_lead(_plan(1.234, 0.734, 1.734, typed=0.9), Say())[1]
    assert own.endswith(" Your split: about 0.90 (0.73 to 1.73).")
    assert plan_lead(plan, Say(level=0.80)) == plan_lead(plan, Say(level=0.99))


def test_where_the_hours_come_from_is_said() -> None:
    plan = _plan(1.234, 0.734, 1.734)
    asked, log, example = (plan_lead(plan, Say(), name)[0] for name in HOURS_FROM)
    assert asked.startswith("4 hours a week for 6 weeks: approach")
    assert log.startswith("4 hours a week, as in the log's last weeks, for 6 weeks: approach")
    assert example.startswith("4 hours a week (an example: no practice log) for 6 weeks: approach")


def _block(weeks: float = 6, **own: Any) -> Any:
    plan = _plan(0.42, 0.2, 0.64)
    plan.hours, plan.weeks, plan.settings = 6.0, weeks, Settings(**own)
    return plan


def test_the_answer_comes_first_then_the_way_and_the_chance() -> None:
    plan = _block()
    assert goal_lead(FOUND, plan, Say()) == (
        "To play like amateur-80 you must gain 0.42 a round inside 150 yards (8 in 10: "
        "−0.04 to 0.85).",
        "At 6 hours a week for 6 weeks your chance to get there is about 3 in 10.",
    )
    assert goal_notes(FOUND, plan, Say()) == (
        "Worth about 0.42 (0.20 to 0.64) strokes a round (9 in 10), if these assumptions are "
        "right.",
        "There you play now like a golfer who averages 81 (8 in 10: 80 to 82).",
        "The cheapest way: about 29 hours of practice, if these assumptions are right.",
        "Most on approach 100-150 yd (15), putts 0-10 ft (5) and wedge 50-100 yd (4).",
    )


@pytest.mark.parametrize(
    ("target", "who"),
    [("tour", "the tour"), ("scratch", "scratch"), (78, "a golfer who averages 78")],
)
def test_who_is_played_like(target: str | float, who: str) -> None:
    found = replace(FOUND, target=read_target(target))
    assert goal_lead(found, _block(), Say())[0].startswith(f"To play like {who} you must gain")


def test_who_is_there_is_told_by_how_much_and_no_hours() -> None:
    found = replace(FOUND, need=-0.42, need_low=-0.85, need_high=0.04, least_hours=0.0)
    lead, chance = goal_lead(found, _block(), Say(level=0.95))
    assert len(goal_notes(found, _block(), Say())) == 2
    assert lead == (
        "You play like amateur-80 already: better by 0.42 a round inside 150 yards (95%: "
        "−0.04 to 0.85)."
    )
    assert chance.startswith("At 6 hours")


def test_what_is_out_of_reach_names_no_hours() -> None:
    none = FOUND.table.assign(hours_to_goal=np.nan)
    far = replace(FOUND, need=1.6, least_hours=np.nan, table=none)
    assert goal_notes(far, _block(), Say())[2] == (
        "That is out of reach by practice of these parts, if these assumptions are right. "
        "Practice without end would win back 1.58 a round."
    )
    long = replace(FOUND, need=1.57, least_hours=np.nan, table=none)
    said = goal_notes(long, _block(), Say())[2]
    assert said == "It would take more than 17,472 hours: out of reach."


@pytest.mark.parametrize(
    ("scale", "said"),
    [
        (0.03, "under an hour of practice, if"),
        (0.04, "about 1 hour of practice, if"),
        (0.3, "about 8.5 hours of practice, if"),
        (10, "about 290 hours of practice, if"),
    ],
)
def test_hours_are_as_exact_as_the_way_is_short(scale: float, said: str) -> None:
    table = FOUND.table.assign(hours_to_goal=FOUND.table["hours_to_goal"] * scale)
    found = replace(FOUND, table=table, least_hours=FOUND.least_hours * scale)
    assert said in goal_notes(found, _block(), Say())[2]


def test_parts_that_are_not_all_of_the_game_are_no_150_yards() -> None:
    own = _block(parts=("chip_0_30", "putt_0_10"), weeks=1)
    lead, chance = goal_lead(FOUND, own, Say())
    assert "a round in the parts planned for (8 in 10" in lead
    assert "for 1 week your" in chance


def test_without_a_score_none_is_told() -> None:
    assert len(goal_notes(replace(FOUND, score_now=np.nan), _block(), Say())) == 3


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        *((0.0, "under 1 in 10"), (0.049, "under 1 in 10"), (0.05, "about 1 in 10")),
        *((0.34, "about 3 in 10"), (0.95, "about 9 in 10"), (0.951, "over 9 in 10")),
    ],
)
def test_chances_are_in_ten(chance: float, said: str) -> None:
    assert in_ten(chance) == said
