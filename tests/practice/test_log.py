"""The practice log: hours by part, the last weeks, and what counts as a jump."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.practice.log import hours_by_part, planned_load, practice_log, weekly_baseline
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import open_store
from sgzone.words.practice import load_note

LOG = """player,date,minutes,part,balls
Ada,2026-04-01,600,putt_0_10,500
Ada,2026-05-04,60,putt_0_10,80
Ada,2026-05-11,90,wedge_50_100,100
Ada,2026-05-18,30,putt_0_10,
Ada,2026-05-25,60,chip_0_30,60
Bea,2026-05-25,600,chip_0_30,900
"""
ADA = Selection(player="Ada")


@pytest.fixture
def store(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(LOG, encoding="utf-8")
    with open_store() as store:
        store.load(path)
        yield store


def test_hours_of_the_last_weeks_by_part(store):
    parts = ("putt_0_10", "wedge_50_100", "sand_0_50")
    assert hours_by_part(store, ADA, parts, 4).tolist() == [1.5, 1.5, 0.0]
    assert hours_by_part(store, ADA, parts, 9).tolist() == [11.5, 1.5, 0.0]
    assert hours_by_part(store, Selection(player="Nobody"), parts, 4) is None


def test_the_baseline_is_the_mean_of_four_weeks(store):
    assert weekly_baseline(practice_log(store, ADA)) == (1.0, 60.0)


def test_days_are_chosen_and_kinds_of_round_are_not(store):
    early = Selection(player="Ada", until=pd.Timestamp("2026-04-30").date(), event="competition")
    assert len(practice_log(store, early)) == 1
    assert len(practice_log(store, EVERYTHING)) == 6


def test_a_jump_is_a_quarter_more(store):
    log = practice_log(store, ADA)
    assert " ".join(load_note(planned_load(log, 1.25, 75))) == ""
    assert "From 1.0 h to 1.3 h a week is a jump" in " ".join(load_note(planned_load(log, 1.26)))
    assert "From 60 to 80 balls a week is a jump" in " ".join(load_note(planned_load(log, 1.0, 80)))
    both = " ".join(load_note(planned_load(log, 5, 300)))
    assert "1.0 h to 5.0 h a week" in both
    assert "60 to 300 balls a week" in both
    assert "step up over a few weeks" in both


def test_no_log_no_baseline_start_low(store):
    said = " ".join(load_note(planned_load(practice_log(store, Selection(player="Nobody")), 1)))
    assert "no baseline" in said
    assert "start low" in said
