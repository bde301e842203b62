"""The words of the chart of one round."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.terms import PARTS
from sgzone.words.rounds import strip as words
from sgzone.words.say import METRIC, Say
from tests.words.rounds.rounds_told import told


def test_every_part_is_of_one_group() -> None:
    groups = {part.name: words.group_of(part.name) for part in PARTS}
    assert [name for name, group in groups.items() if group == words.LONG] == [
        *("approach_100_150", "wedge_50_100"),
    ]
    assert [name for name, group in groups.items() if group == words.SHORT] == [
        *("pitch_30_50", "chip_0_30", "sand_0_50", "recovery"),
    ]
    assert {name for name, group in groups.items() if group == words.PUTT} == {
        *("putt_0_10", "putt_10_30", "putt_30_up"),
    }


def test_how_to_read_it_names_the_marked_stroke() -> None:
    assert words.read(told(), Say())[1:] == (
        "Full tone: shots from 50 yd and more; half: short game and recovery; open: putts.",
        "Triangle: the worst stroke, hole 7, sand 12 yd to rough 10 yd, −1.30.",
    )
    assert "from 46 m and more" in words.read(told(), Say(METRIC))[1]
    assert len(words.read(told(worst=told().worst.head(0)), Say())) == 2


def test_the_text_alternative_has_every_hole() -> None:
    said = words.alt(told(), Say())
    assert "3 +0.93; 7 −1.30." in said


def test_a_hole_without_a_value_has_no_sum() -> None:
    blank = pd.DataFrame({"hole": [9], "part": [None], "shots": [0], "gained": [float("nan")]})
    sums = words.hole_sums(pd.concat([told().holes, blank], ignore_index=True))
    assert sums.to_dict() == pytest.approx({3: 0.93, 7: -1.3})


def test_whose_round_it_is() -> None:
    assert words.whose(told()) == "Ada Low: 14 May 2026, Home, 18 holes."
    assert words.whose(told(course="a\x1b" * 90)).startswith("Ada Low: 14 May 2026, a\\x1ba")
