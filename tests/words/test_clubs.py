"""What is said of clubs: reminders, open questions, thin rows, numbers without a swing."""

from __future__ import annotations

import numpy as np
import pandas as pd

from sgzone.clubs.consistency import QUESTIONS
from sgzone.terms import NOT_ENOUGH
from sgzone.verbs import clubs, why
from sgzone.words import clubs as words
from sgzone.words import why as why_words
from sgzone.words.notes import noted
from sgzone.words.say import Say


def test_the_first_reminder_reached_is_said() -> None:
    bag = pd.DataFrame(
        {
            "club": ["54", "58", "9i", "PW"],
            "shots_reached": [100.0, np.nan, np.nan, 100.0],
            "months_reached": [np.nan, 3.5, np.nan, 12.0],
        }
    )
    said = words.reminded(bag)
    assert said.columns.tolist() == ["club", "reminder"]
    assert said["reminder"].tolist() == [
        *("100 shots reached", "3.5 months reached", "", "100 shots reached"),
    ]
    assert words.reminded(bag.iloc[:0])["reminder"].tolist() == []


def test_every_question_has_words() -> None:
    assert tuple(words.QUESTION_WORDS) == QUESTIONS


def test_every_detail_has_a_title() -> None:
    assert set(words.TITLES) == {None, *clubs.DETAILS}
    assert set(why_words.TITLES) == {None, *why.DETAILS}


def test_thin_rows_say_so() -> None:
    seen = {"carry_yd_shots": [3, 3], "launch_deg_shots": [0, 12], "spin_rpm_shots": [0, 0]}
    assert noted(pd.DataFrame(seen), "consistency")["note"].tolist() == [NOT_ENOUGH, ""]
    worn = pd.DataFrame({"shots": [9, 50, 50], "rounds": [9, 4, 9]})
    assert noted(worn, "wear")["note"].tolist() == [NOT_ENOUGH, NOT_ENOUGH, ""]


def test_numbers_without_a_swing_are_counted_in_the_readers_units() -> None:
    cover = pd.DataFrame({"strokes": [10, 20], "uncovered": [1, 4]})
    assert words.uncovered(cover, Say()) == (
        "5 of 30 strokes from 30 to 150 yards had no stock swing within 3 yd.",
    )
    assert " from 27 to 137 m " in words.uncovered(cover, Say("metric"))[0]
    assert words.uncovered(cover.iloc[:0], Say()) == ()
