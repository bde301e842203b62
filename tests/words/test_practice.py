"""Sentences of the practice plan: their digits follow the interval that they show."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pandas as pd

from sgzone.practice.plan import PLAN
from sgzone.words.practice import HOURS_FROM, plan_lead
from sgzone.words.say import Say


def _plan(value: float, low: float, high: float) -> Any:
    row = {"split": PLAN, "strokes_per_round": value, "low": low, "high": high}
    return SimpleNamespace(hours=4.0, weeks=6, alternatives=pd.DataFrame([row]), no_loss=True)


def test_the_digits_of_a_90_percent_interval_follow_its_own_error() -> None:
    """A half-width of 0.5 is an error of 0.30 at 90%; as one of 80% it is 0.39, a digit less."""
    plan = _plan(1.234, 0.734, 1.734)
    said = plan_lead(plan, Say(level=0.80))[0]
    assert "wins back 1.23 (0.73 to 1.73) strokes a round (90% in brackets)" in said
    assert plan_lead(plan, Say(level=0.80)) == plan_lead(plan, Say(level=0.99))


def test_where_the_hours_come_from_is_said() -> None:
    plan = _plan(1.234, 0.734, 1.734)
    asked, log, example = (plan_lead(plan, Say(), name)[0] for name in HOURS_FROM)
    assert asked.startswith("For 4 hours a week over 6 weeks. Assumptions, not promises:")
    assert log.startswith("For 4 hours a week, as in the practice log's last weeks, over 6 weeks.")
    assert example.startswith(
        "For 4 hours a week (an example: there is no practice log) over 6 weeks."
    )
