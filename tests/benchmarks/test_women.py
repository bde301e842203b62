"""The curves for women: the ratings' difference from 50 yards out, nothing claimed nearer."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.women import LEVELS
from sgzone.terms import WOMEN_NAMES


@pytest.mark.parametrize(
    ("name", "yards", "more"),
    [
        # women yards/180 + 40.1, men yards/220 + 40.9, for 18 holes
        ("women-scratch", 50, 50 / 180 - 50 / 220 - 0.8 / 18),
        ("women-scratch", 100, 100 / 180 - 100 / 220 - 0.8 / 18),
        ("women-scratch", 140, 140 / 180 - 140 / 220 - 0.8 / 18),
        # women yards/120 + 51.3, men yards/160 + 50.7
        ("women-bogey", 50, 50 / 120 - 50 / 160 + 0.6 / 18),
        ("women-bogey", 140, 140 / 120 - 140 / 160 + 0.6 / 18),
    ],
)
def test_the_rule_by_hand(name: str, yards: float, more: float) -> None:
    women, level = benchmark(name), benchmark(LEVELS[name][1])
    for lie in ("fairway", "rough", "sand", "recovery"):
        gap = women.expected(lie, 3 * yards) - level.expected(lie, 3 * yards)
        assert gap == pytest.approx(more), lie
    source = women.knots.query(f"lie == 'rough' and distance == {yards}")["source"].item()
    assert "usga_rating" in source.split("+")
    assert women.status("rough", 3 * yards) in ("derived", "uncertain")


@pytest.mark.parametrize("name", WOMEN_NAMES)
def test_nearer_the_hole_the_levels_own_curve_stands_in_and_says_so(name: str) -> None:
    women, level = benchmark(name), benchmark(LEVELS[name][1])
    feet = np.arange(1, 121.0)  # up to 40 yd, the last knot nearer than 50
    bent = np.where(feet > 90, 0.015, 1e-9)  # the cubic leans towards what follows
    for lie in ("fairway", "rough", "sand", "recovery", "fringe", "green"):
        assert (np.abs(women.expected(lie, feet) - level.expected(lie, feet)) <= bent).all(), lie
        assert set(women.status(lie, feet)) == {"uncertain"}, lie
    assert women.status("fairway", 300) == "derived"
    near = women.knots[(women.knots["unit"] == "ft") | (women.knots["distance"] < 50)]
    assert not near["source"].str.contains("usga").any()


def test_women_need_more_and_the_more_the_farther() -> None:
    feet = np.arange(150, 1500.0, 30)
    for name in WOMEN_NAMES:
        more = benchmark(name).expected("fairway", feet) - benchmark(LEVELS[name][1]).expected(
            "fairway", feet
        )
        assert (more > 0).all()
        assert (np.diff(more) > 0).all()
