"""The page of a week, by value."""

from __future__ import annotations

import pandas as pd

from sgzone.practice.sessions import SHEET_COLUMNS
from sgzone.words.say import Say
from sgzone.words.week import (
    Target,
    read_numbers,
    session_cards,
    session_lengths,
    week_page,
)

NAN = float("nan")
WEEK = pd.DataFrame(
    [
        (1, 45, "wedge_50_100", 1, 72.0, "yd", "fairway", "54", "half", 2, 14.6, 10.0),
        (1, 45, "wedge_50_100", 2, 95.0, "yd", "fairway", "50", "full", 2, 16.2, 10.0),
        (1, 45, "wedge_50_100", 3, 64.0, "yd", "fairway", "54", "half", 2, 13.5, 10.0),
        (1, 45, "putt_0_10", 1, 4.0, "ft", "green", "", "", 2, NAN, 18.0),
        (1, 45, "putt_0_10", 2, 8.0, "ft", "green", "", "", 2, NAN, 11.0),
        (2, 30, "putt_30_up", 1, 110.0, "ft", "green", "putter", "", 2, NAN, NAN),
    ],
    columns=list(SHEET_COLUMNS),
)


def test_numbers_stand_in_their_order_with_their_marks():
    sheet = week_page(WEEK, Say())
    assert sheet["session"].tolist() == [1, 1, 2]
    assert sheet["numbers"].tolist() == ["72(15) 95(16) 64(14)", "4 8", "110"]
    assert sheet["swings"].tolist() == ["50 full: 95; 54 half: 64 to 72", "", "putter: 110"]
    assert sheet["balls"].tolist() == [6, 4, 2]
    assert sheet["part"].tolist()[0] == "wedge 50-100 yd"


def test_the_pass_mark_is_of_the_parts_own_balls():
    """Half of 6; 29 of 40 holed, so 2.9 of 4; none where the level has no model."""
    assert week_page(WEEK, Say())["pass_mark"].tolist() == ["3 of 6", "3 of 4", ""]
    many = pd.concat([WEEK.iloc[:2]] * 10)
    assert week_page(many, Say())["pass_mark"].tolist() == ["20 of 40"]


def test_a_session_is_one_card():
    first, second = session_cards(WEEK, Say())
    assert (first.heading, second.heading) == ("Session 1, 45 minutes", "Session 2, 30 minutes")
    wedges, putts = first.drills
    assert wedges.heading == "Wedge 50-100 yd: 6 balls"
    assert wedges.pass_mark == "Pass: 3 of 6 inside the number in brackets (ft)"
    assert wedges.targets == (Target("72", "15", 2), Target("95", "16", 2), Target("64", "14", 2))
    assert (putts.heading, putts.pass_mark) == ("Putts 0-10 ft: 4 balls", "Pass: 3 of 4 holed")
    assert putts.targets == (Target("4", "", 2), Target("8", "", 2))
    assert [drill.pass_mark for drill in second.drills] == [""]
    for card, (_, rows) in zip((first, second), WEEK.groupby("session"), strict=True):
        boxes = sum(target.balls for drill in card.drills for target in drill.targets)
        assert boxes == rows["balls"].sum()


def test_how_long_the_sessions_are():
    assert session_lengths(WEEK) == "2 sessions of 30 to 45 minutes"
    assert session_lengths(WEEK[WEEK["session"] == 1]) == "1 session of 45 minutes"
    assert session_lengths(WEEK.iloc[:0]) == "no sessions"


def test_in_metres():
    sheet = week_page(WEEK, Say("metric"))
    assert sheet["numbers"][0] == "66(4.5) 87(4.9) 59(4.1)"
    assert sheet["numbers"][1] == "1.2 2.4"
    drill = session_cards(WEEK, Say("metric"))[0].drills[0]
    assert drill.pass_mark == "Pass: 3 of 6 inside the number in brackets (m)"
    assert drill.targets[0] == Target("66", "4.5", 2)
    assert read_numbers(Say("metric")) == "All numbers: metres."
    assert "feet" in read_numbers(Say())


def test_an_empty_week_is_an_empty_page():
    assert week_page(WEEK.iloc[:0], Say()).empty
    assert session_cards(WEEK.iloc[:0], Say()) == ()
