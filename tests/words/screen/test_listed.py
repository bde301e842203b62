"""The words over the strokes of each part."""

from __future__ import annotations

from sgzone.words.say import Say
from sgzone.words.screen import listed


def test_a_fold_says_how_many_there_are_and_how_many_are_told() -> None:
    assert listed.fold("chip_0_30", 205, 10, Say()) == (
        "chip 0-30 yd: 205 strokes, the worst and best 10"
    )
    assert listed.fold("chip_0_30", 7, 7, Say()) == "chip 0-30 yd: 7 strokes"
    assert listed.fold("chip_0_30", 1, 1, Say("metric")) == "chip 0-27 m: 1 stroke"


def test_no_stroke_with_a_value_is_said() -> None:
    assert listed.lead(0) == (listed.NO_STROKES,)
    assert listed.lead(3) == listed.LEAD
