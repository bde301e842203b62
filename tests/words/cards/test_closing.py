"""What a checked file holds, in words."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sgzone.season.reading import look_over
from sgzone.words.cards.closing import closing, table_in_words
from tests.season.cardfiles import card_text, write
from tests.season.finishes import ended
from tests.season.test_store import BAG, LOG, TEST

ROUND = {
    **{"kind": "shot", "rounds": 1, "holes": 18, "strokes": 47, "putts": 31, "penalties": 2},
    **{"open": 0, "players": 1, "first_day": date(2026, 5, 14), "last_day": date(2026, 5, 14)},
}


def test_a_round_in_the_words_of_whoever_played_it() -> None:
    assert closing([("a.csv", [ROUND])]) == [
        "18 holes, 47 strokes, 31 putts, 2 penalties on 14 May. Ready to load."
    ]


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({"penalties": 1}, "18 holes, 47 strokes, 31 putts, 1 penalty on 14 May"),
        ({"penalties": 0, "putts": 0}, "18 holes, 47 strokes, no putt on 14 May"),
        (
            {"rounds": 3, "last_day": date(2026, 6, 2), "penalties": 0},
            "3 rounds, 18 holes, 47 strokes, 31 putts from 14 May to 2 June",
        ),
        (
            {"players": 12, "first_day": date(2025, 5, 14), "penalties": 0},
            "18 holes, 47 strokes, 31 putts of 12 players from 14 May 2025 to 14 May",
        ),
        (
            {"open": 7, "penalties": 0, "putts": 0},
            "18 holes, 47 strokes, no putt on 14 May; 7 holes left where the last stroke finished",
        ),
    ],
)
def test_what_differs_is_said(other: dict[str, object], told: str) -> None:
    assert table_in_words(ROUND | other) == told


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            card_text("1,1,fairway,100,1", "1,2,green,20", "1,3,green,2"),
            "1 hole, 3 strokes, 2 putts, 1 penalty on 14 May.",
        ),
        (
            ended("green,20"),
            "1 hole, 1 stroke, no putt on 14 May; 1 hole left where the last stroke finished.",
        ),
        (LOG, "2 practice entries, 0.8 hours on 14 May."),
        (TEST, "2 balls in 1 block on 14 May."),
        (BAG, "2 clubs in the bag."),
    ],
)
def test_every_kind_of_table(text: str, told: str, tmp_path: Path) -> None:
    seen = look_over(write(tmp_path, text))
    assert closing([("card.csv", seen.contents)]) == [f"{told} Ready to load."]


def test_a_faulty_file_holds_nothing(tmp_path: Path) -> None:
    seen = look_over(write(tmp_path, card_text("1,1,trees,100", "1,2,green,2")))
    assert seen.problems
    assert (seen.contents, seen.holes) == ((), ())


def test_the_first_hole_or_every_one(tmp_path: Path) -> None:
    path = write(tmp_path, card_text("7,1,green,9", "7,2,green,1", "3,1,green,5"))
    assert [row["hole"] for row in look_over(path).holes] == [7, 7]
    assert [row["hole"] for row in look_over(path, every_hole=True).holes] == [3, 7, 7]
