"""What is said of a change over the season: the sentence, the table and the chart agree."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest

from sgzone.review.trend import BEFORE_AFTER_COLUMNS, TREND_COLUMNS, season_ends
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE
from sgzone.words import trend as words
from sgzone.words.say import Say
from sgzone.words.tables import table_of

SPLIT = date(2026, 7, 15)
STEP = {
    **{"part": "chip_0_30", "first_half": -0.9, "second_half": -0.3, "change": 0.6},
    **{"change_low": 0.4, "change_high": 0.8, "joint_low": 0.1, "joint_high": 1.1},
    **{"drift": 0.7, "drift_low": -0.2, "drift_high": 1.6, "p": 0.012},
    **{"shown_by": "halves", "verdict": MORE_THAN_NOISE},
}
DRIFT = {
    **{"part": "putt_0_10", "first_half": 0.2, "second_half": -0.3, "change": -0.5},
    **{"change_low": -0.8, "change_high": -0.2, "joint_low": -1.2, "joint_high": 0.2},
    **{"drift": -1.5, "drift_low": -2.8, "drift_high": -0.2, "p": 0.03},
    **{"shown_by": "line", "verdict": MORE_THAN_NOISE},
}
LEVEL = {
    **{"part": "total", "first_half": -3.0, "second_half": -3.5, "change": -0.5},
    **{"change_low": -1.2, "change_high": 0.2, "joint_low": -2.0, "joint_high": 1.0},
    **{"drift": -0.9, "drift_low": -3.0, "drift_high": 1.2, "p": 0.31},
    **{"shown_by": "", "verdict": WITHIN_NOISE},
}
UNKNOWN = {
    **dict.fromkeys(set(STEP) - {"part", "first_half", "second_half"}, np.nan),
    **{"part": "recovery", "first_half": -0.1, "second_half": 0.0},
    **{"shown_by": "", "verdict": NOT_ENOUGH_ROUNDS},
}


def trend_of(*parts):
    """Return a trend of two rounds a part."""
    frame = pd.DataFrame([part for part in parts for _ in range(2)])
    rounds = {"date": pd.Timestamp("2026-05-01"), "round": 1, "holes": 18, "shots": 4, "rounds": 2}
    curve = dict.fromkeys(("gained_per_round", "rolling", "smoothed", "low", "high"), 0.5)
    return frame.assign(**rounds, **curve)[list(TREND_COLUMNS)]


def split_of(*parts):
    """Return before and after a day."""
    frame = pd.DataFrame(parts).rename(columns={"change": "difference", "first_half": "before"})
    blank = [c for c in BEFORE_AFTER_COLUMNS if c not in frame]
    return frame.assign(**dict.fromkeys(blank, 0.1))[list(BEFORE_AFTER_COLUMNS)]


def test_what_changed_is_said_with_its_joint_range():
    got = words.trend_lead(trend_of(STEP, DRIFT, LEVEL), Say())
    assert got == (
        "Chip 0-30 yd: +0.60 strokes a round from the first half to the second (between +0.10 and "
        "+1.10).",
        "Putts 0-10 ft: −1.50 strokes a round from the first round to the last (between −2.80 and "
        "−0.20).",
    )
    assert words.trend_lead(trend_of(STEP), Say("metric"))[0].startswith("Chip 0-27 m: +0.60")
    assert words.split_lead(split_of(STEP, LEVEL), SPLIT, Say()) == (
        "Chip 0-30 yd: +0.60 strokes a round from 2026-07-15 on (between +0.10 and +1.10).",
    )


def test_where_nothing_is_shown_the_part_that_moved_most_is_named_with_luck_in_words():
    still = STEP | {"verdict": WITHIN_NOISE, "shown_by": "", "p": 0.64}
    other = DRIFT | {"verdict": WITHIN_NOISE, "shown_by": "", "p": 0.97}
    assert words.trend_lead(trend_of(other, still, LEVEL), Say()) == (
        "No real change shown over the season.",
        "Chip 0-30 yd moved most: some part moves that far by luck in 6 seasons of 10.",
    )
    assert words.trend_lead(trend_of(LEVEL), Say()) == ("No real change shown over the season.",)
    assert words.split_lead(split_of(still, LEVEL), SPLIT, Say())[0].endswith("2026-07-15 on.")


def test_too_few_rounds_are_no_answer():
    assert "Too few rounds" in words.trend_lead(trend_of(UNKNOWN), Say())[0]
    assert "Too few rounds" in words.split_lead(split_of(UNKNOWN), SPLIT, Say())[0]
    empty = pd.DataFrame(columns=list(TREND_COLUMNS))
    assert words.trend_lead(empty, Say()) == ("There are no rounds to follow.",)
    assert words.read_change(empty, None) == ()
    assert words.read_season(trend_of(UNKNOWN)) == ()
    assert words.total_change(trend_of(UNKNOWN)) == "Too few rounds."


def test_the_table_shows_the_change_its_verdict_rests_on():
    table = words.season_table(trend_of(STEP, DRIFT, LEVEL, UNKNOWN)).set_index("part")
    assert table["verdict"].tolist() == [
        *("real change", "real drift", "no real change", "too few rounds"),
    ]
    shown = table[["change", "joint_low", "joint_high"]]
    assert shown.loc["putt_0_10"].tolist() == [-1.5, -2.8, -0.2]
    assert shown.loc["chip_0_30"].tolist() == [0.6, 0.1, 1.1]
    beyond = (shown["joint_low"] > 0) | (shown["joint_high"] < 0)
    assert (beyond == table["verdict"].str.startswith("real")).all()
    assert table["alone"].tolist() == ["+0.40 to +0.80", "", "−1.20 to +0.20", ""]
    assert table["luck"].tolist() == ["1 season of 100", "3 seasons of 100", "3 seasons of 10", ""]
    (note,) = words.drift_note(trend_of(STEP, DRIFT))
    assert note.startswith("Real drift: ")
    assert words.drift_note(trend_of(STEP)) == ()


def test_the_short_table_fits_a_terminal():
    frame = words.season_table(trend_of(STEP, DRIFT, LEVEL, UNKNOWN))
    short = table_of(frame, "season", Say()).only_short()
    assert len(short.headings) == 6
    assert short.rows[0][3:5] == ("+0.60", "+0.10 to +1.10")


def test_the_chart_names_the_joint_range():
    assert words.total_change(trend_of(LEVEL)) == (
        "Change over the season −0.5 (95% range −2.0 to +1.0): no real change."
    )
    assert "Change over the season −1.5 (95% range" in words.trend_alt(trend_of(DRIFT))


@pytest.mark.parametrize(
    ("p", "said"),
    [
        (1.0, "nearly every season"),
        (0.95, "nearly every season"),
        (0.94, "9 seasons of 10"),
        (0.096, "1 season of 10"),
        (0.06, "6 seasons of 100"),
        (0.0096, "1 season of 100"),
        (0.0049, "under 1 season of 100"),
        (np.nan, ""),
    ],
)
def test_luck_in_words(p, said):
    assert words.by_luck(p) == said


def test_no_season_is_said_to_move_by_luck_in_ten_of_ten():
    said = [words.by_luck(p) for p in np.linspace(0.0005, 1, 2000)]
    assert "10 seasons of 10" not in said
    assert "10 seasons of 100" not in said
    assert season_ends(trend_of(STEP))["p"].tolist() == [0.012]
