"""Which round is meant, and which it may be set beside."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from sgzone.errors import CallError
from sgzone.review.debrief.chosen import choose, one_player

SIZES = pd.DataFrame(
    {
        "player": "Ada",
        "round_key": [1, 2, 3, 4],
        "date": pd.to_datetime(["2026-05-01", "2026-05-08", "2026-05-08", "2026-05-20"]),
        "round": [1, 1, 2, 1],
        "holes": [18, 9, 18, 18],
        "course": None,
        "event": None,
    }
)


@pytest.mark.parametrize(
    ("day", "number", "key", "others", "left_out"),
    [
        (None, None, 4, {1, 3}, 1),
        (date(2026, 5, 8), None, 3, {1, 4}, 1),
        (date(2026, 5, 8), 1, 2, set(), 3),
        (None, 1, 4, {1, 3}, 1),
    ],
)
def test_a_round_and_those_beside_it(
    day: date | None, number: int | None, key: int, others: set[int], left_out: int
) -> None:
    found = choose(SIZES, day, number)
    assert (found.key, found.keys, found.left_out) == (key, others, left_out)


def test_what_is_not_there_is_said_with_what_is() -> None:
    with pytest.raises(CallError, match="Nearest: 2026-05-01, 2026-05-08, 2026-05-20"):
        choose(SIZES, date(2026, 5, 10), None)
    with pytest.raises(CallError, match="No round 2 on 2026-05-20; that day has round 1"):
        choose(SIZES, None, 2)
    with pytest.raises(CallError, match="no round to look back on"):
        choose(SIZES.head(0), None, None)


def test_rounds_of_two_players_are_asked_about() -> None:
    one_player(SIZES)
    with pytest.raises(CallError, match=r"2 players \(Ada, \"Bo. Ash\"\)"):
        one_player(pd.concat([SIZES, SIZES.assign(player="Bo. Ash")]))
