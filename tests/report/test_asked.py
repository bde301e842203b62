"""What a report asks once for several answers gives each the same as alone, and only if wanted."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from sgzone.practice.sessions import week_plan
from sgzone.report import asked as module
from sgzone.report.asked import knowing
from sgzone.report.player import player_report
from sgzone.report.squad import team_report
from sgzone.review.where.measuring import check_measuring
from sgzone.review.where.summary import TOTAL, summarise
from sgzone.season.selection import Selection
from sgzone.season.store import Store
from sgzone.words.say import Say
from sgzone.words.week import week_page
from tests.report.seasons import ask
from tests.report.squads import ask_all, squad

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
    week = week_page(week_plan(store, asked.plan, LEVEL, CHOSEN), Say())
    pd.testing.assert_frame_equal(asked.week, week)
    other = week_plan(store, asked.plan, LEVEL)  # from the starts of the whole season
    assert not week_page(other, Say()).equals(week)


@pytest.fixture
def scorings(monkeypatch: pytest.MonkeyPatch) -> list[Selection]:
    """The selections whose strokes a report has had scored."""
    seen: list[Selection] = []
    scored = module.scored

    def noted(*given: object) -> pd.DataFrame:
        seen.append(given[2])
        return scored(*given)

    monkeypatch.setattr(module, "scored", noted)
    return seen


@pytest.mark.long
def test_nothing_is_asked_before_it_is_wanted_and_strokes_are_scored_once(
    store: Store, scorings: list[Selection]
) -> None:
    asked = ask(store, selection=Selection(since=date(2026, 9, 1)))
    assert asked.rounds > 0
    assert asked.total is not None
    assert scorings == []
    player_report(asked)
    assert scorings == [asked.selection]
    assert asked.parts is asked.parts


@pytest.mark.long
def test_a_squad_s_strokes_are_scored_once_for_all(
    tmp_path: Path, scorings: list[Selection]
) -> None:
    with squad(tmp_path, ["Ada Low", "Bo Day"], 5) as store:
        asked = ask_all(store)
        team_report(asked)
        assert scorings == [asked.selection]
        (first, second) = asked.members
        alone = ask(store, selection=Selection("Ada Low"))
        assert len(first.strokes) + len(second.strokes) == len(asked.strokes)
        pd.testing.assert_frame_equal(first.parts, alone.parts.drop(columns="measuring"))
        pd.testing.assert_frame_equal(first.counts, alone.counts)
        assert (first.rounds, first.holes, first.days) == (alone.rounds, alone.holes, alone.days)


def test_what_is_known_is_not_asked(store: Store, scorings: list[Selection]) -> None:
    asked = ask(store)
    known = knowing(asked, strokes=asked.strokes.head(0))
    assert known.points.empty
    assert not asked.points.empty
    assert len(scorings) == 1
