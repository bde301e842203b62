"""The page of a week, by value."""

from __future__ import annotations

import pandas as pd

from sgzone.practice.sessions import SHEET_COLUMNS
from sgzone.words.say import Say
from sgzone.words.week import week_page

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
    assert sheet["numbers"].tolist() == ["72 (15), 95 (16), 64 (14) yd", "4, 8 ft", "110 ft"]
    assert sheet["swings"].tolist() == ["50 full: 95; 54 half: 64 to 72", "", "putter: 110"]
    assert sheet["pass_mark"].tolist() == [
        "10 of 20 inside the ft in brackets",
        "14 of 20 holed",
        "",
    ]
    assert sheet["balls"].tolist() == [6, 4, 2]
    assert sheet["part"].tolist()[0] == "wedge 50-100 yd"


def test_in_metres():
    sheet = week_page(WEEK, Say("metric"))
    assert sheet["numbers"][0] == "66 (4), 87 (5), 59 (4) m"
    assert sheet["numbers"][1] == "1.2, 2.4 m"
    assert sheet["pass_mark"][0] == "10 of 20 inside the m in brackets"


def test_an_empty_week_is_an_empty_page():
    assert week_page(WEEK.iloc[:0], Say()).empty
