"""What an agreement counts, in the reader's units."""

from __future__ import annotations

from math import nan
from types import SimpleNamespace

import pytest

from sgzone.terms import MEASURE
from sgzone.words.agreed.measures import about, noun, spread, step, value
from sgzone.words.say import METRIC, Say


def row(
    measure: str | None = None, low: float = nan, high: float = nan, part: str | None = None
) -> SimpleNamespace:
    return SimpleNamespace(measure=measure, from_ft=low, to_ft=high, part=part)


@pytest.mark.parametrize(
    ("of", "yards", "metric"),
    [
        (row("holed", 4, 5), "putts holed from 4 to 5 ft", "putts holed from 1.2 to 1.5 m"),
        (row("three_putt", 30), "three-putts from 30 ft and up", "three-putts from 9.1 m and up"),
        (row("sand_save"), "sand saves", "sand saves"),
        (row("green_hit", nan, 300), "greens hit from 0 to 100 yd", "greens hit from 0 to 91.4 m"),
        (row(part="chip_0_30"), "strokes gained, chip 0-30 yd", "strokes gained, chip 0-27 m"),
        (row(), "", ""),
    ],
)
def test_what_is_counted(of: SimpleNamespace, yards: str, metric: str) -> None:
    assert (about(of, Say()), about(of, Say(METRIC))) == (yards, metric)


@pytest.mark.parametrize("measure", MEASURE)
def test_every_measure_has_its_words(measure: str) -> None:
    assert about(row(measure), Say())
    assert noun(row(measure), 1) != noun(row(measure), 2)


def test_nouns() -> None:
    assert noun(row("up_and_down"), 1200) == "1,200 tries"
    assert noun(row("holed"), 1) == "1 putt"
    assert noun(row(part="putt_0_10"), 3) == "3 putts"
    assert noun(row(part="chip_0_30"), 3) == "3 shots"


@pytest.mark.parametrize(
    ("unit", "of", "ends", "size", "metric"),
    [
        ("share", "79%", "52 to 79%", "27 points", "52 to 79%"),
        ("ft", "1 ft", "1 to 1 ft", "0 ft", "0.2 to 0.2 m"),
        ("per round", "+0.79", "+0.52 to +0.79", "0.27 strokes a round", "+0.52 to +0.79"),
    ],
)
def test_values_ranges_and_changes(unit: str, of: str, ends: str, size: str, metric: str) -> None:
    assert value(0.79, unit, Say()) == of
    assert spread(0.52, 0.79, unit, Say()) == ends
    assert spread(0.52, 0.79, unit, Say(METRIC)) == metric
    assert step(0.27, unit, Say()) == size
    assert value(nan, unit, Say()) == spread(nan, 0.79, unit, Say()) == ""


def test_a_change_too_small_to_say_is_a_point() -> None:
    assert step(0.004, "share", Say()) == "1 point"
