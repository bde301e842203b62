"""A value among others: better, level, worse; a value nobody knows has no place."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sgzone.review.debrief.beside import WHOLES, standing
from sgzone.terms import PART_NAMES

VALUES = st.lists(st.floats(-9, 9), max_size=30)


def test_ties_and_the_last_digits_of_a_sum() -> None:
    found = standing(0.3, np.array([0.1 + 0.2, 0.3, -1.0, 2.0, 2.0]), 0.7)
    assert (found["better"], found["equal"], found["worse"]) == (2, 2, 1)
    assert (found["usual"], found["compared"]) == (0.7, 5)


def test_without_a_value_or_without_others_there_is_no_place() -> None:
    for own, others in ((np.nan, np.array([1.0])), (1.0, np.array([]))):
        found = standing(own, others, np.nan)
        assert [found[name] for name in ("better", "equal", "worse")] == [None] * 3
        assert found["compared"] == len(others)


@given(own=st.floats(-9, 9), others=VALUES)
def test_all_others_are_counted_once_and_turn_round_with_the_sign(
    own: float, others: list[float]
) -> None:
    here = standing(own, np.array(others), 0.0)
    there = standing(-own, -np.array(others), 0.0)
    if others:
        counted = [here[name] for name in ("better", "equal", "worse")]
        assert sum(int(str(n)) for n in counted) == len(others)
        assert counted == [there[name] for name in ("worse", "equal", "better")]


def test_off_the_green_and_putting_are_all_parts() -> None:
    assert {*WHOLES["off_green"], *WHOLES["putting"]} == {*PART_NAMES} == {*WHOLES["total"]}
    assert not {*WHOLES["off_green"]} & {*WHOLES["putting"]}
