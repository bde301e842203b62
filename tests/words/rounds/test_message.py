"""A round as a message: short whatever stands on the card."""

from __future__ import annotations

from sgzone.words.rounds.message import MOST_LETTERS, message
from sgzone.words.say import METRIC, Say
from tests.words.rounds.rounds_told import STROKE, alone, strokes, told


def test_a_message_by_value() -> None:
    assert message(told(), Say()) == (
        "Ada Low, 2026-05-14, Home: lost 1.68 to tour from 150 yards in (18 holes, 4th worst of 38 "
        "rounds). Off the green -1.06, putting -0.62. Most lost: approach 100-150 yd -1.31 and "
        "putts 0-10 ft -0.62. Most gained: chip 0-30 yd +0.25. Worst: hole 7, sand 12 yd to rough "
        "10 yd, 1 penalty stroke, -1.30. Best: hole 3, green 25.0 ft to holed, +0.93. Penalties 1, "
        "three-putts 2, putts 33, up-and-downs 3 of 7. One round: no verdict."
    )


def test_without_other_rounds_there_is_no_place() -> None:
    assert "(18 holes)." in message(alone(), Say())


def test_it_stays_short_and_on_one_line_whatever_the_card_says() -> None:
    long = "\U0001d510\n\x1b[31m\u202e" * 20
    stroke = (*STROKE[:5], long, long, *STROKE[7:-1], long)
    worst = strokes(stroke)
    made = told(player=long, course=long, benchmark=long, worst=worst, best=worst)
    for say in (Say(), Say(METRIC)):
        text = message(made, say)
        assert len(text) < MOST_LETTERS
        assert text.isprintable()
        assert "\u202e" not in text
    assert long[:3] not in message(told(worst=worst), Say())  # neither club nor note


def test_a_round_without_a_value_says_so() -> None:
    none = told().total.assign(shots=0, gained=float("nan"))
    text = message(told(total=none), Say())
    assert text == "Ada Low, 2026-05-14, Home: No stroke of this round has a value."
