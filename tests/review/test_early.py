"""What the first rounds can say: sums and counts by hand."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.review.early import (
    CHANGE,
    STANDARD,
    VERDICT,
    rounds_played,
    still_needed,
    written_down,
)

NONE = float("nan")
STROKES = pd.DataFrame(
    {
        "round_key": [2, 2, 2, 1, 1],
        "lie": ["fairway", "green", "green", "rough", "green"],
        "gained": [-0.5, 0.25, 0.5, 0.4, NONE],
        "club": ["54", None, None, None, None],
        "depth_ft": [3.0, NONE, NONE, 2.0, NONE],
        "side_ft": [1.0, NONE, NONE, NONE, NONE],
        "carry_yd": [NONE] * 5,
        "measured": ["laser", None, None, "laser", None],
    }
)
SIZES = pd.DataFrame(
    {
        "round_key": [1, 2, 3],
        "date": pd.to_datetime(["2026-05-08", "2026-05-01", "2026-05-09"]),
        "round": 1,
        "holes": [18, 9, 18],
        "course": ["Home", None, "Home"],
    }
)


def test_a_round_is_summed_as_played_in_order_of_time() -> None:
    table = rounds_played(STROKES, SIZES)
    assert table["date"].dt.day.tolist() == [1, 8, 9]
    assert table["gained"].tolist()[:2] == pytest.approx([0.25, 0.4])  # a nine is not doubled
    assert table["gained"].isna().tolist() == [False, False, True]  # no stroke, so no sum: not 0
    assert table["strokes"].tolist() == [3, 1, 0]  # a stroke without a value is none of them
    assert table["putts"].tolist() == [2, 0, 0]
    assert table["holes"].tolist() == [9, 18, 18]


def test_only_strokes_off_the_green_have_more_to_write_down() -> None:
    table = written_down(STROKES).set_index("what")
    assert set(table["strokes"]) == {2}
    assert table["written"].to_dict() == {"swing": 1, "miss": 1, "carry": 0, "measured": 2}


@pytest.mark.parametrize(("rounds", "more"), [(1, [4, 9, 19]), (4, [1, 6, 16]), (12, [0, 0, 8])])
def test_what_is_needed_counts_down(rounds: int, more: list[int]) -> None:
    standards = pd.DataFrame({"part": ["total", "putt_0_10"], "rounds_needed": [20, 40]})
    table = still_needed(rounds, standards)
    assert table["answer"].tolist() == [VERDICT, CHANGE, STANDARD]
    assert table["rounds"].tolist() == [5, 10, 20]
    assert table["shots"].tolist() == [10, 0, 0]
    assert table["more"].tolist() == more


def test_a_standard_that_no_season_shows_is_not_promised() -> None:
    standards = pd.DataFrame({"part": ["total"], "rounds_needed": [0]})
    assert STANDARD not in set(still_needed(1, standards)["answer"])
