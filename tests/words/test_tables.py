"""Frames as tables of text: what is shown, in which form, for which reader."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.answers import Column
from sgzone.clubs.wear import MEASURES
from sgzone.words.digits import MINUS
from sgzone.words.say import Say
from sgzone.words.tables import _number, table_of

CELL = pd.DataFrame(
    {
        "part": ["putt_0_10", "total"],
        "shots": [1890, 12],
        "rounds": [40, 4],
        "gained_per_round": [-0.547, 0.0004],
        "low_per_round": [-0.85, np.nan],
        "high_per_round": [-0.24, np.nan],
        "shrunk_per_round": [-0.501, np.nan],
        "verdict": ["clear loss", "not enough shots"],
        "note": ["", ""],
    }
)


def test_a_table_has_its_headings_words_and_ranges_by_the_dictionary() -> None:
    table = table_of(CELL, "summary", Say(), "caption", keys=("part",))
    assert table.caption == "caption"
    assert table.headings == (
        *("part", "shots", "rounds", "as played", "range", "best estimate", "verdict"),
    )
    assert table.rows == (
        ("putts 0-10 ft", "1,890", "40", "-0.55", "-0.85 to -0.24", "-0.50", "clear loss"),
        ("total", "12", "4", "0.00", "", "", "not enough shots"),
    )
    assert table.kinds == ("word", "num", "num", "num", "num", "num", "word")


def test_a_column_that_says_nothing_is_left_out_unless_it_is_kept() -> None:
    assert "note" not in table_of(CELL, "summary", Say()).headings
    assert "note" in table_of(CELL, "summary", Say(), kept=("note",)).headings
    assert "note" in table_of(CELL[:0], "summary", Say()).headings


def test_the_short_table_lacks_the_wide_columns_alone() -> None:
    short = table_of(CELL, "summary", Say(), keys=("part",)).only_short()
    assert short.headings == ("part", "shots", "as played", "best estimate", "verdict")
    assert short.rows[0] == ("putts 0-10 ft", "1,890", "-0.55", "-0.50", "clear loss")


def test_page_and_paper_have_true_minus_signs_in_numbers_alone() -> None:
    table = table_of(CELL, "summary", Say(), keys=("part",)).typeset()
    assert table.rows[0][0] == "putts 0-10 ft"
    assert table.rows[0][3:5] == (f"{MINUS}0.55", f"{MINUS}0.85 to {MINUS}0.24")


def test_lengths_follow_the_units_in_cell_and_heading() -> None:
    frame = pd.DataFrame({"club": ["54"], "carry_yd": [100.0], "low": [90.0], "high": [110.0]})
    yards, metric = (table_of(frame, "clubs", Say(units)) for units in ("yards", "metric"))
    assert yards.headings == ("club", "carry, yd", "range")
    assert metric.headings == ("club", "carry, m", "range")
    assert yards.rows == (("54", "100", "90 to 110"),)
    assert metric.rows == (("54", "91", "82 to 101"),)


def test_a_count_is_in_its_rows_own_unit() -> None:
    frame = pd.DataFrame(
        {
            "measure": ["greens hit", "median proximity", "putts per round"],
            "unit": ["share", "ft", "per round"],
            "value": [0.956, 20.0, 30.123],
            "low": [0.94, np.nan, 29.0],
            "high": [0.98, np.nan, 31.0],
        }
    )
    assert [row[1:] for row in table_of(frame, "counts", Say()).rows] == [
        ("96%", "94% to 98%"),
        ("20.0 ft", ""),
        ("30.12", "29.00 to 31.00"),
    ]
    assert table_of(frame, "counts", Say("metric")).rows[1][1] == "6.1 m"


def test_a_change_with_use_has_the_digits_that_its_error_carries() -> None:
    """The standard errors of the demo's clubs: a tenth of a stroke, a few percent, 100 rpm."""
    frame = pd.DataFrame(
        {
            "club": "46",
            "measure": list(MEASURES),
            "unit": list(MEASURES.values()),
            "per_100_shots": [-0.12949, -0.21436, -2.08909, 344.03],
            "low": [-0.27592, -2.83756, -4.74898, -133.52],
            "high": [0.01699, 2.40882, 0.57079, 554.54],
        }
    )
    assert [row[3:] for row in table_of(frame, "wear", Say()).rows] == [
        ("-0.13", "-0.28 to +0.02"),
        ("0", "-3 to +2"),
        ("-2", "-5 to +1"),
        ("+340", "-130 to +550"),
    ]


def test_shares_of_hours_are_no_finer_than_5_percent() -> None:
    frame = pd.DataFrame({"part": ["a", "b", "c"], "share": [0.024, 0.026, 0.43]})
    rows = table_of(frame, "practice", Say()).rows
    assert [row[1] for row in rows] == ["under 5%", "5%", "45%"]


def test_headings_name_what_stands_beside_each_other() -> None:
    frame = pd.DataFrame({"part": ["recovery"], "gained_per_round": [0.1]})
    table = table_of(frame, "sides", Say(), named={"first": "tour", "second": "scratch"})
    assert table.headings[1] == "tour, strokes per round"


def test_long_texts_may_be_broken() -> None:
    frame = pd.DataFrame({"part": ["a"], "note": ["a note " * 9]})
    assert table_of(frame, "summary", Say(), keys=("part",)).kinds == ("word", "text")


@pytest.mark.parametrize(
    ("value", "decimals", "said"),
    [
        *((0.0004, 3, "0.000"), (-0.0004, 3, "0.000"), (0.0006, 3, "+0.001")),
        *((-0.0006, 3, "-0.001"), (-0.4, 0, "0"), (0.4, 0, "0"), (10.0, 0, "+10")),
        (-0.0, 2, "0.00"),
    ],
)
def test_what_rounds_to_nothing_has_no_sign(value: float, decimals: int, said: str) -> None:
    column = Column("gained", "gained", "", decimals, 0, "short", "gain", "", "")
    assert _number(value, column, Say()) == said
