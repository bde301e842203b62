"""The green by its pin sheet: its edge, its sides, and what a finish is worth there."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import GreenValue, green_of
from sgzone.errors import CallError

TOUR = benchmark("tour")
LIES = ("sand", "rough", "water", "fairway")


def worth(depth, side, **pin):
    value = GreenValue(green_of(**pin, lies=LIES), TOUR)
    return float(value(np.array([float(depth)]), np.array([float(side)]))[0])


def test_the_middle_of_a_usual_green_where_nothing_is_given():
    assert green_of().outline() == pytest.approx((0, 0, 36, 45))


@given(
    st.floats(10, 45),
    st.floats(8, 40),
    st.floats(0.08, 0.92),
    st.floats(0.08, 0.92),
)
def test_the_edge_runs_through_the_four_points_of_the_pin_sheet(deep, wide, down, across):
    on, left = down * deep, across * wide
    x, y, half_wide, half_deep = green_of(on, deep, left, wide).outline()
    for side, depth in ((0, -3 * on), (0, 3 * (deep - on)), (-3 * left, 0), (3 * (wide - left), 0)):
        reach = ((side - x) / half_wide) ** 2 + ((depth - y) / half_deep) ** 2
        assert reach == pytest.approx(1)


def test_on_the_green_it_is_putts_and_off_it_the_lie_of_that_side():
    """Pin 12 of 31 on, 8 of 24 from the left: 36 ft to the front edge, 57 to the back, 24, 48."""
    pin = {"on": 12, "deep": 31, "left": 8, "wide": 24}
    assert worth(-35, 0, **pin) == pytest.approx(TOUR.expected("green", 35.0), abs=1e-4)
    assert worth(-37, 0, **pin) == pytest.approx(TOUR.expected("sand", 37.0), abs=1e-4)
    assert worth(56, 0, **pin) == pytest.approx(TOUR.expected("green", 56.0), abs=1e-4)
    assert worth(58, 0, **pin) == pytest.approx(TOUR.expected("rough", 58.0), abs=1e-4)
    assert worth(0, -25, **pin) == pytest.approx(1 + TOUR.expected("rough", 25.0), abs=1e-4)
    assert worth(0, 49, **pin) == pytest.approx(TOUR.expected("fairway", 49.0), abs=1e-4)
    assert worth(0, 47, **pin) == pytest.approx(TOUR.expected("green", 47.0), abs=1e-4)


def test_yards_read_as_feet_would_be_seen():
    """A control: with the sheet's yards taken for feet 35 ft short would be in the sand."""
    pin = {"on": 12, "deep": 31, "left": 8, "wide": 24}
    shrunk = {name: value / 3 for name, value in pin.items()}
    assert worth(-35, 0, **shrunk) > worth(-35, 0, **pin) + 0.3


def test_far_away_is_still_a_value():
    assert np.isfinite(worth(-5000, 0))
    assert worth(0, 0) == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize(
    ("pin", "said"),
    [
        ({"on": 31, "deep": 30}, "--green-on must be between 0 and --green-deep"),
        ({"on": 0}, "on=0: yards from the front edge"),
        ({"left": 30}, "--green-left must be between 0 and --green-wide"),
        ({"deep": 10, "on": 12}, "--green-on must"),
    ],
)
def test_a_pin_off_the_green_is_refused(pin, said):
    with pytest.raises(CallError, match=said):
        green_of(**pin)


def test_an_unknown_lie_is_refused():
    with pytest.raises(CallError, match="Choose from: fairway, rough, sand, water"):
        green_of(lies=("rough", "bog", "rough", "rough"))
