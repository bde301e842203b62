"""What a report asks once for several answers gives each the same as alone."""

from __future__ import annotations

from datetime import date

import pandas as pd

from sgzone.practice.sessions import week_plan
from sgzone.report.asked import gather
from sgzone.review.where.measuring import check_measuring
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.season.selection import Selection
from sgzone.season.store import Store
from sgzone.words.say import Say
from sgzone.words.week import week_page

CHOSEN = Selection(since=date(2026, 8, 1))
LEVEL = "amateur-90"


def test_measuring_and_the_week_are_those_of_their_own_verbs(store: Store) -> None:
    review = gather(store, LEVEL, CHOSEN)
    by = ["part", TOTAL]
    alone = check_measuring(store, summarise(store, LEVEL, CHOSEN, by), LEVEL, CHOSEN, by)
    found = review.measuring
    assert found is not None
    assert (found.words, found.checked, found.disagree) == (
        alone.words,
        alone.checked,
        alone.disagree,
    )
    assert found.checked > 0
    pd.testing.assert_frame_equal(found.heaping, alone.heaping)
    assert review.plan is not None
    week = week_page(week_plan(store, review.plan, LEVEL, CHOSEN), Say())
    pd.testing.assert_frame_equal(review.week, week)
    other = week_plan(store, review.plan, LEVEL)  # from the starts of the whole season
    assert not week_page(other, Say()).equals(week)
