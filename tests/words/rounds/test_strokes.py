"""Strokes in a list: where balls lay."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.words.rounds.strokes import ends, places
from sgzone.words.say import Say


@pytest.mark.parametrize(
    ("lie", "yards", "yard_words", "metre_words"),
    [
        ("fairway", 97.4, "fairway 97 yd", "fairway 89.1 m"),
        ("green", 5.0, "green 15.0 ft", "green 4.6 m"),
        ("fringe", 4.1, "fringe 12.3 ft", "fringe 3.7 m"),
        ("holed", 0.0, "holed", "holed"),
        (None, 12.0, "unknown", "unknown"),
    ],
)
def test_places_are_said_as_a_player_does(
    lie: str | None, yards: float, yard_words: str, metre_words: str
) -> None:
    lies, lengths = pd.Series([lie], dtype=object), pd.Series([yards])
    assert places(lies, lengths, Say()) == [yard_words]
    assert places(lies, lengths, Say("metric")) == [metre_words]


def test_of_a_long_list_the_five_worst_and_the_five_best_are_shown() -> None:
    strokes = pd.DataFrame({"gained": [float(k) for k in range(20, 0, -1)]})
    assert ends(strokes)["gained"].tolist() == [1, 2, 3, 4, 5, 16, 17, 18, 19, 20]
    assert ends(strokes.head(10)).equals(strokes.head(10))
