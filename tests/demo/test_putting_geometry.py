"""Putting by geometry against closed forms worked by hand."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from sgzone.benchmarks.hole import hole_and_ball_ft
from sgzone.demo.player import Putting
from sgzone.demo.putting import MAX_PAST_FT, putt


def test_hole_and_ball_are_the_published_ones():
    hole, ball = hole_and_ball_ft()
    assert hole == pytest.approx(4.25 / 2 / 12)
    assert ball == pytest.approx(1.68 / 2 / 12)


@pytest.mark.parametrize("distance", [4.0, 10.0, 25.0])
def test_holed_share_is_angle_times_pace(distance):
    skill = Putting(direction_deg=1.1, distance_share=0.08, past_ft=1.0)
    n = 200_000
    rng = np.random.default_rng(1)
    holed = putt(rng, skill, np.full(n, distance), np.ones(n))[2].mean()
    window, hole = (np.degrees(np.arcsin(r / 12 / distance)) for r in ((4.25 - 1.68) / 2, 4.25 / 2))
    radius, sd = 4.25 / 2 / 12, 0.08 * (distance + 1)

    def rolls(low, high):
        return norm.cdf((high - 1) / sd) - norm.cdf((low - 1) / sd)

    def aimed(degrees):
        return 2 * norm.cdf(degrees / 1.1) - 1

    # a ball that stops within the hole's radius of its centre is in as well: between these two
    least = aimed(window) * rolls(0, MAX_PAST_FT)
    most = aimed(window) * rolls(-radius, MAX_PAST_FT)
    most += (aimed(hole) - aimed(window)) * rolls(-radius, radius)
    assert least - 0.004 < holed < most + 0.004


def test_without_spread_every_putt_drops_and_without_pace_none():
    n = 50
    still = Putting(direction_deg=0.0, distance_share=0.0, past_ft=1.0)
    assert putt(np.random.default_rng(1), still, np.full(n, 60.0), np.ones(n))[2].all()
    hard = Putting(direction_deg=0.0, distance_share=0.0, past_ft=3.5)
    depth, side, holed = putt(np.random.default_rng(1), hard, np.full(n, 60.0), np.ones(n))
    assert not holed.any()
    np.testing.assert_allclose(depth, 3.5)
    np.testing.assert_allclose(side, 0.0)


def test_direction_moves_the_ball_sideways_by_the_sine():
    skill = Putting(direction_deg=2.0, distance_share=0.0, past_ft=0.0)
    _, side, _ = putt(np.random.default_rng(2), skill, np.full(100_000, 30.0), np.ones(100_000))
    assert side.std() == pytest.approx(30 * np.radians(2.0), rel=0.01)
    assert abs(side.mean()) < 0.02
