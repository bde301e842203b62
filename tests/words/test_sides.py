"""What is said of two groups side by side: only what is there, in the reader's units."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest

import sgzone as sg
from sgzone.public.dtypes import plain
from sgzone.review.beside.groups import compare_table, compared_strokes
from sgzone.review.beside.pairs import FACTS
from sgzone.season.store import open_store
from sgzone.stats.verdict import BETTER_HERE
from sgzone.words import sides as words
from sgzone.words.notes import noted
from sgzone.words.say import Say
from tests.demo_season import demo_file

ENDS = ("low", "high")
QUIET = {"other_lies": np.nan, "farther_yd": np.nan, "alone": 0, "of_shots": 90, "unnamed": 0}


def _note(say: Say | None = None, **facts: float) -> str:
    row = pd.DataFrame([{"first": "50", **QUIET, **facts}])
    said = noted(row, "compare", say or Say())
    assert list(said.columns) == ["first", "note"]
    return str(said["note"].item())


def test_nothing_to_know_is_not_said() -> None:
    assert _note() == ""


def test_other_places_are_a_reason_to_be_careful() -> None:
    assert _note(other_lies=0.164).startswith("careful: 16% of the shots come from other lies;")
    assert _note(farther_yd=12.6) == "careful: the second was played from 13 yd farther on average"
    assert _note(farther_yd=-12.6) == "careful: the second was played from 13 yd nearer on average"
    assert "from 12 m nearer" in _note(Say("metric"), farther_yd=-12.6)


def test_what_does_not_count_is_counted() -> None:
    assert _note(alone=4) == "4 shots of 90 had no fair match"
    both = _note(alone=4, unnamed=7)
    assert both.endswith("had no fair match; 7 shots without it written down are left out")


def test_python_has_the_note_and_no_fact_behind_it() -> None:
    with open_store(demo_file(), read_only=True) as store:
        bare = compare_table(compared_strokes(store, "club", part="wedge_50_100"))
        said = {
            units: sg.compare(store, "club", part="wedge_50_100", units=units)
            for units in ("yards", "metric")
        }
        day = sg.compare(store, "date", split_date=date(2026, 7, 20))
    assert list(said["yards"].columns) == [*bare.columns[: -len(FACTS)], "note"]
    assert said["yards"]["note"].str.contains(r"\d yd (?:nearer|farther)").any()
    assert said["metric"]["note"].str.contains(r"\d m (?:nearer|farther)").any()
    assert not said["metric"]["note"].str.contains(" yd ").any()
    shared = said["yards"].columns.drop("note")
    # pandas 2 keeps texts as objects inside
    same_kinds = pd.__version__ >= "3"
    pd.testing.assert_frame_equal(
        plain(said["yards"][shared]), bare[shared], check_dtype=same_kinds
    )
    assert day["first"].tolist() == ["before 2026-07-20"]


@pytest.mark.parametrize(("units", "pair"), [("yards", "12 | ? ft"), ("metric", "3.7 | ? m")])
def test_numbers_of_both_stand_in_one_cell(units: str, pair: str) -> None:
    ends = {f"{name}_{end}": 3 for name in ("shots", "known") for end in ("first", "second")}
    for name in ("proximity", "depth_sd", "side_sd"):
        ends |= {f"{name}_first_ft": 12.0, f"{name}_second_ft": np.nan}
    verdict = {"verdict": BETTER_HERE, "better": "54"}
    row = words.compared(pd.DataFrame([ends | verdict]), Say(units)).iloc[0]
    assert row["verdict"] == "the 54 is better"
    assert row["shots"] == row["known"] == "3 | 3"
    assert row["proximity"] == row["depth_sd"] == row["side_sd"] == pair


def test_the_number_is_said_as_it_was_typed() -> None:
    some = pd.DataFrame({"note": [""]})

    def said(at: float | None, say: Say) -> str:
        return words.compare_notes(some, "club", at, "tour", say)[0]

    near = "By club, from the same lie within 10 yd of 97.5 yd, against tour. Ranges: 8 in 10."
    assert said(97.5, Say()) == near
    assert "within 9 m of 89 m" in said(97.5, Say("metric"))
    assert "from the same lie at like distances" in said(None, Say())


def test_groups_that_are_not_compared_are_said_once() -> None:
    assert words.groups_left_out(0) == ()
    [said] = words.groups_left_out(30)
    assert said.startswith("The 42 with most shots are compared; 30 more")


def _two(**whole: float) -> pd.DataFrame:
    parts = {
        "part": ["wedge_50_100", "putt_0_10", "total"],
        "gained_per_round": [-0.5, -0.4, -3.84],
        "gained_per_round_other": [-1.0, -0.5, -4.62],
        "difference": [0.5, 0.1, 0.78],
        "difference_low": [0.3, -0.1, 0.2],
        "difference_high": [0.7, 0.3, 1.36],
        "joint_low": [0.1, -0.4, -0.2],
        "joint_high": [0.9, 0.6, 1.76],
    }
    table = pd.DataFrame(parts)
    return table.assign(**whole)


def test_what_really_changed_is_on_one_line_and_its_range_in_the_section() -> None:
    names = ("1 April to 2 October 2026", "3 April to 9 October 2025")
    [line] = words.beside_line(_two(), names, Say(), seasons=True)
    assert line == (
        "1 April to 2 October 2026: −3.8 a round. 3 April to 9 October 2025: −4.6. Difference "
        "+0.78 (between +0.20 and +1.36). Really changed: wedge 50-100 yd +0.50."
    )
    said = " ".join(words.pairs_lead(_two(), names, Say()))
    assert "Really changed: wedge 50-100 yd +0.50 (between +0.10 and +0.90)." in said
    assert words.ALL_AT_ONCE in said
    assert "Of 3 ranges (8 in 10) about 0.6 miss by luck alone." in said


def test_what_is_too_little_or_the_same_strokes_is_called_no_change() -> None:
    few = _two(**{f"{name}_{end}": np.nan for name in ("difference", "joint") for end in ENDS})
    [line] = words.beside_line(few, ("a", "b"), Say(), seasons=True)
    assert line == "a: −3.8 a round. b: −4.6. Too few rounds to say what changed."
    [line] = words.beside_line(few, ("tour", "scratch"), Say(), seasons=False)
    assert line.startswith("Against tour −3.8 a round, against scratch −4.6: the same strokes")
    assert words.beside_line(_two(difference=np.nan), ("a", "b"), Say(), seasons=True) == ()
