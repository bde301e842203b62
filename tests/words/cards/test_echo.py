"""A hole read back in words."""

from __future__ import annotations

from typing import Any

import pytest

from sgzone.words.cards.echo import hole_in_words
from sgzone.words.say import METRIC, Say


def place(shot: int, lie: str | None, feet: float | None, **more: Any) -> dict[str, Any]:
    """Return a row of hole 1."""
    return {"hole": 1, "shot": shot, "lie": lie, "distance_ft": feet, "penalty": 0, **more}


def test_an_approach_and_two_putts() -> None:
    rows = [
        place(1, "fairway", 336, par=4, club="50"),
        place(2, "green", 18),
        place(3, "green", 2, result="holed"),
    ]
    assert hole_in_words(rows) == (
        "Hole 1, par 4: fairway 112 yd with the 50 to 18 ft; putt to 2 ft; in. 3 strokes, 2 putts."
    )


def test_what_is_missing_is_not_said() -> None:
    rows = [place(1, "green", 4.5, club=None, par=float("nan"), result=None)]
    assert hole_in_words(rows) == "Hole 1: 4.5 ft in. 1 stroke, 1 putt."


def test_a_penalty_a_swing_a_finish_and_a_chip_in() -> None:
    rows = [
        place(2, "fairway", 180, penalty=1),
        place(3, "rough", 225, club="58", swing="half", depth_ft=-8, side_ft=4),
        place(4, "fringe", 9, result="holed"),
    ]
    assert hole_in_words(rows) == (
        "Hole 1, from shot 2: fairway 60 yd and 1 penalty, to rough 75 yd; with the 58, half, "
        "to fringe 9 ft (8 ft short, 4 ft right); then in. 3 strokes, 0 putts, 1 penalty."
    )


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([place(1, "green", 2, result="conceded")], "2 ft given. 0 strokes, 0 putts."),
        (
            [place(1, "rough", 420, result="picked_up")],
            "rough 140 yd picked up, no stroke from there. 0 strokes, 0 putts.",
        ),
        (
            [place(1, "rough", 420, penalty=1), place(2, None, None, result="picked_up")],
            "rough 140 yd and 1 penalty, to a place not written down; picked up, no stroke from "
            "there. 1 stroke, 0 putts, 1 penalty.",
        ),
    ],
)
def test_holes_that_were_not_finished(rows: list[dict[str, Any]], told: str) -> None:
    assert hole_in_words(rows) == f"Hole 1: {told}"


def test_a_finish_in_the_row_of_its_stroke() -> None:
    rows = [place(1, "fairway", 336, to_lie="green", to_distance_ft=18.0)]
    assert hole_in_words(rows) == "Hole 1: fairway 112 yd to 18 ft. 1 stroke, 0 putts."
    holed = [place(1, "fairway", 336, to_lie="holed", to_distance_ft=0.0)]
    assert hole_in_words(holed) == "Hole 1: fairway 112 yd in. 1 stroke, 0 putts."


def test_every_other_column_is_heard_too() -> None:
    rows = [
        place(1, "fairway", 330, wind="into", wind_mph=8.0, note="pin back", course="Home"),
        place(2, "green", 3, wind="into", wind_mph=8.0),
    ]
    assert hole_in_words(rows).endswith("(wind: into; wind_mph: 8; note: pin back)")


def test_in_metres() -> None:
    rows = [place(1, "fairway", 328.0839895), place(2, "green", 3.280839895, depth_ft=0)]
    assert hole_in_words(rows, Say(METRIC)) == (
        "Hole 1: fairway 100 m to 1 m; in (0 m long or short). 2 strokes, 1 putt."
    )
