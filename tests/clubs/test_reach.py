"""Which swings come into question: full swings, few shots, a longer club with less."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.clubs.reach import FEW, full_swings, most_more, near_swings
from tests.clubs.swings import known_swings


def _near(yards, carry, **more):
    swings = known_swings(carry=carry, **more)
    rows, reached = near_swings(swings, yards, 3.0)
    return [str(swings.club[k]) for k in rows], reached


def test_a_club_whose_swing_nobody_named_is_swung_in_full():
    bag = known_swings((90.0, 100.0, 110.0), swing=("half", "full", ""))
    assert full_swings(bag).tolist() == [False, True, True]


def test_of_the_players_own_words_the_longest_is_full_where_the_club_has_no_full_swing():
    bag = known_swings(
        (80.0, 90.0, 100.0, 110.0, 118.0),
        club=list("AAABB"),
        swing=("half", "smooth", "stock", "hip high", "full"),
    )
    assert full_swings(bag).tolist() == [False, False, True, False, True]


def test_a_part_swing_goes_up_by_a_step_but_not_past_its_clubs_full_swing():
    bag = known_swings(
        (80.0, 95.0, 100.0, 90.0), club=list("AAAB"), swing=("half", "hip high", "full", "half")
    )
    assert most_more(bag, 3.0) == pytest.approx([12.0, 103.0 - 95.0, 3.0, 12.0])
    assert most_more(bag, 0.0) == pytest.approx([12.0, 5.0, 0.0, 12.0])


def test_beyond_three_percent_the_longer_club_is_there_with_less():
    """A is 120: 3.6 yd more is all that it has."""
    assert _near(123.0, (120.0, 140.0)) == (["A"], True)
    assert _near(126.0, (120.0, 140.0)) == (["A", "B"], True)
    assert _near(126.0, (120.0, 152.0)) == (["A"], False)


@pytest.mark.parametrize(
    ("yards", "shots", "names", "reached"),
    [
        (97.0, (FEW - 1, FEW, FEW), ["B", "C"], True),
        (97.0, (FEW, FEW - 1, FEW - 1), ["B", "A", "C"], True),
        (107.0, (FEW, FEW, FEW - 1), ["C", "B"], True),
        (97.0, (1, 1, 1), ["B", "C"], True),
    ],
)
def test_few_shots_are_asked_where_no_other_swing_reaches(yards, shots, names, reached):
    """A is full and does not get to 97; none of 84 and 97 gets to 107."""
    carry = (90.0, 97.0, 104.0) if yards == 97.0 else (84.0, 97.0, 105.0)
    assert _near(yards, carry, shots=shots) == (names, reached)


def test_few_shots_that_do_not_reach_either_are_left_out():
    assert _near(110.0, (104.0, 101.0), shots=(40, 2)) == (["A"], False)
    assert _near(120.0, (104.0, 101.0), shots=(2, 2))[1] is False


def test_a_swing_moved_past_a_step_does_not_keep_a_nearer_one_out():
    """At 60 a swing of 73 would lose 13 yd: the one of 58 with few shots is asked first."""
    assert _near(60.0, (58.0, 73.0), shots=(2, 40)) == (["A"], True)
    assert _near(62.0, (58.0, 73.0), shots=(2, 40)) == (["B"], True)
    assert _near(48.0, (73.0,)) == (["A"], True)
    assert _near(47.0, (73.0,)) == ([], False)


def test_at_most_six_swings_the_nearest_first():
    names, _ = _near(97.0, tuple(np.linspace(90.0, 104.0, 9)))
    assert len(names) == 6
    assert names[0] == "E"
