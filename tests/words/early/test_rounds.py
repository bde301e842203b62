"""Sentences about the first rounds."""

from __future__ import annotations

import pandas as pd

from sgzone.review.early import CHANGE, VERDICT
from sgzone.words.early import rounds as words


def test_rounds_still_missing_are_counted() -> None:
    assert words.what_next(1)[0].startswith("4 more rounds and ")
    assert words.what_next(4)[0].startswith("1 more round and ")


def test_what_an_answer_takes_is_in_rounds_and_shots() -> None:
    table = pd.DataFrame(
        {"answer": [VERDICT, CHANGE], "rounds": [5, 10], "shots": [10, 0], "more": [1, 6]}
    )
    said = words.needs(table)
    assert said["needs"].tolist() == ["5 rounds, 10 shots of that part", "10 rounds"]
    assert said["more"].tolist() == ["1 round", "6 rounds"]


def test_the_column_that_is_missing_most_comes_first_and_a_full_one_not_at_all() -> None:
    table = pd.DataFrame(
        {
            "what": ["swing", "miss", "carry", "measured"],
            "written": [8, 3, 0, 10],
            "strokes": [10, 10, 10, 10],
        }
    )
    said = words.columns(table)
    assert said["what"].tolist() == ["the carry", "where it finished", "club and swing"]
    assert said["now"].tolist() == ["0 of 10", "3 of 10", "8 of 10"]
    assert "5 shots of one" in said["brings"].iloc[2]
