"""The curves for women: the ratings' difference from 50 yards out, nothing claimed nearer."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.women import LEVELS
from sgzone.terms import WOMEN_NAMES
from sgzone.words.benchmark import not_claimed
from sgzone.words.say import Say

LIES = ("fairway", "rough", "sand", "recovery")


@pytest.mark.parametrize(
    ("name", "yards", "more"),
    [
        # women yards/180 + 40.1, men yards/220 + 40.9, for 18 holes
        ("women-scratch", 100, 100 / 180 - 100 / 220 - 0.8 / 18),
        ("women-scratch", 140, 140 / 180 - 140 / 220 - 0.8 / 18),
        # women yards/120 + 51.3, men yards/160 + 50.7
        ("women-bogey", 80, 80 / 120 - 80 / 160 + 0.6 / 18),
        ("women-bogey", 140, 140 / 120 - 140 / 160 + 0.6 / 18),
        # on the way from 50 to 75 yd: 0, 10/25 and 20/25 of it
        ("women-bogey", 50, 0.0),
        ("women-bogey", 60, 0.4 * (60 / 120 - 60 / 160 + 0.6 / 18)),
        ("women-bogey", 70, 0.8 * (70 / 120 - 70 / 160 + 0.6 / 18)),
        ("women-scratch", 60, 0.4 * (60 / 180 - 60 / 220 - 0.8 / 18)),
    ],
)
def test_the_rule_by_hand(name: str, yards: float, more: float) -> None:
    women, level = benchmark(name), benchmark(LEVELS[name][1])
    for lie in LIES:
        gap = women.expected(lie, 3 * yards) - level.expected(lie, 3 * yards)
        assert gap == pytest.approx(more), lie
    source = women.knots.query(f"lie == 'rough' and distance == {yards}")["source"].item()
    assert "usga_rating" in source.split("+")
    assert women.status("fairway", 3 * yards) == "derived"
    bogey_sand = name == "women-bogey"
    assert women.status("sand", 3 * yards) == ("uncertain" if bogey_sand else "derived")


@pytest.mark.parametrize("name", WOMEN_NAMES)
def test_nearer_the_hole_the_levels_own_curve_stands_in_and_says_so(name: str) -> None:
    women, level = benchmark(name), benchmark(LEVELS[name][1])
    feet = np.arange(1, 150.0)
    # to the last bit up to 40 yd; from there the cubic leans a little towards what follows 50
    bent = np.where(feet > 120, 0.006, 0.0)
    for lie in (*LIES, "fringe", "green"):
        assert (np.abs(women.expected(lie, feet) - level.expected(lie, feet)) <= bent).all(), lie
        assert set(women.status(lie, feet)) == {"uncertain"}, lie
    near = women.knots[(women.knots["unit"] == "ft") | (women.knots["distance"] < 50)]
    assert set(near["status"]) == {"uncertain"}
    assert not near["source"].str.contains("usga").any()


@pytest.mark.parametrize("name", WOMEN_NAMES)
def test_no_stroke_gains_by_crossing_a_line(name: str) -> None:
    """The whole difference at 50 yd, a step there or within the last knots, would fail this."""
    women, level = benchmark(name), benchmark(LEVELS[name][1])
    feet = np.arange(90, 451.0)
    for lie in (*LIES, "fringe"):
        gap = women.expected(lie, feet) - level.expected(lie, feet)
        assert np.diff(gap).max() < 0.004, lie  # strokes per foot


def test_women_need_more_and_the_more_the_farther() -> None:
    feet = np.arange(153, 1500.0, 30)
    for name in WOMEN_NAMES:
        more = benchmark(name).expected("fairway", feet) - benchmark(LEVELS[name][1]).expected(
            "fairway", feet
        )
        assert (more > 0).all()
        assert (np.diff(more) > 0).all()


def test_the_sentence_names_the_curve_that_stands_in() -> None:
    assert not_claimed(["tour", "squad-2026", "own.csv"], Say()) == ()
    [said] = not_claimed(["scratch", "women-bogey"], Say())
    assert "curve of amateur-90 itself" in said
    assert "No women's curve is claimed" in said
    assert "from 50 yards out" in said
    assert "from 46 metres out" in not_claimed(["women-bogey"], Say("metric"))[0]
