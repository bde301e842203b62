"""What a report asks once for several answers gives each the same as alone."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.practice.sessions import week_plan
from sgzone.practice.sheet import session_sheet
from sgzone.review.where.measuring import check_measuring
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.season.selection import Selection
from sgzone.season.store import Store
from tests.report.seasons import ask

CHOSEN = Selection(since=date(2026, 8, 1))
LEVEL = "amateur-90"


def test_measuring_and_the_week_are_those_of_their_own_verbs(store: Store) -> None:
    asked = ask(store, LEVEL, CHOSEN)
    by = ["part", TOTAL]
    alone = check_measuring(store, summarise(store, LEVEL, CHOSEN, by), LEVEL, CHOSEN, by)
    found = asked.measuring
    assert found is not None
    assert (found.words, found.checked, found.disagree) == (
        alone.words,
        alone.checked,
        alone.disagree,
    )
    assert found.checked > 0
    pd.testing.assert_frame_equal(found.heaping, alone.heaping)
    assert asked.plan is not None
    week = session_sheet(week_plan(store, asked.plan, LEVEL, CHOSEN), "yards")
    pd.testing.assert_frame_equal(asked.week, week)
    other = week_plan(store, asked.plan, LEVEL)  # from the starts of the whole season
    assert not session_sheet(other, "yards").equals(week)
