"""What says that an answer is of some strokes alone."""

from __future__ import annotations

import pytest

from sgzone.scoring.only import Only
from sgzone.words.say import Say
from sgzone.words.screen.only import only_line


@pytest.mark.parametrize(
    ("only", "said"),
    [
        (Only(), ()),
        (Only(lie="sand"), ("Only strokes of lie sand.",)),
        (Only(club="54", part="chip_0_30"), ("Only strokes of club 54 and part chip 0-27 m.",)),
        (
            Only("rough", "54", "chip_0_30"),
            ("Only strokes of lie rough, club 54 and part chip 0-27 m.",),
        ),
    ],
)
def test_each_choice_is_named(only: Only, said: tuple[str, ...]) -> None:
    assert only_line(only, Say("metric")) == said
