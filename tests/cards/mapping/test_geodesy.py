"""Lengths and sides on the ellipsoid, against values worked out by hand."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.cards.mapping.geodesy import measures
from sgzone.units import M_PER_FT

A, F = 6_378_137.0, 1 / 298.257223563  # WGS84: half of the great axis in metres, flattening
E2 = F * (2 - F)
SPHERE = 6_371_008.8  # mean radius in metres

courses = st.floats(-70, 70)
shots = st.floats(20, 180)  # metres
directions = st.floats(0, 2 * pi)
misses = st.floats(-40, 40)


def meridian(latitude: float) -> float:
    """Return metres per radian of latitude."""
    return A * (1 - E2) / (1 - E2 * sin(radians(latitude)) ** 2) ** 1.5


def parallel(latitude: float) -> float:
    """Return metres per radian of longitude."""
    return A * cos(radians(latitude)) / sqrt(1 - E2 * sin(radians(latitude)) ** 2)


def place(latitude: float, longitude: float, north: float, east: float) -> tuple[float, float]:
    """Return the place so many metres north and east of another."""
    middle = latitude + degrees(north / meridian(latitude)) / 2
    return (
        latitude + degrees(north / meridian(middle)),
        longitude + degrees(east / parallel(middle)),
    )


def one(
    ball: tuple[float, float], pin: tuple[float, float], finish: tuple[float, float]
) -> list[float]:
    """Return distance, depth and side of one stroke in metres."""
    [found] = measures(*(np.array([each]) for each in (ball, pin, finish)))
    return list(found * M_PER_FT)


def sphere(ball: tuple[float, float], pin: tuple[float, float]) -> float:
    """Return what the same formula gives on a ball: plausible, and wrong."""
    (lat1, lon1), (lat2, lon2) = (map(radians, each) for each in (ball, pin))
    half = sin((lat2 - lat1) / 2) ** 2 + cos(lat1) * cos(lat2) * sin((lon2 - lon1) / 2) ** 2
    return 2 * SPHERE * atan2(sqrt(half), sqrt(1 - half))


def test_along_the_equator_a_length_is_the_angle_times_the_great_axis() -> None:
    distance, depth, side = one((0, 10), (0, 10.001), (0, 10.0011))
    assert distance == pytest.approx(A * radians(0.001), abs=1e-8)
    assert depth == pytest.approx(A * radians(0.0001), abs=1e-8)
    assert side == pytest.approx(0, abs=1e-8)


@pytest.mark.parametrize("latitude", [0, 30, 48.137, -37.8, 60, 75])
def test_along_a_meridian_a_length_is_the_angle_times_its_curvature(latitude: float) -> None:
    pin = (latitude + 0.001, 11.5)
    distance, depth, side = one((latitude, 11.5), pin, (latitude + 0.0012, 11.5))
    assert distance == pytest.approx(meridian(latitude + 0.0005) * radians(0.001), abs=1e-6)
    assert depth == pytest.approx(meridian(latitude + 0.0011) * radians(0.0002), abs=1e-6)
    assert side == pytest.approx(0, abs=1e-6)


def test_worked_by_hand_at_48_degrees() -> None:
    """sin 48 = 0.743145, so 1 - e2 sin^2 = 0.9963029 and its root 0.9981498.

    Across: 6,378,137 / 0.9981498 = 6,389,960 m, times cos 48 (0.6691306) 4,275,718 m a radian.
    Along: 6,389,960 x 0.9933056 / 0.9963029 = 6,370,736 m a radian. One radian is 57.29578 degrees.
    """
    north, east = 6_370_736 / 57_295.78, 4_275_718 / 57_295.78  # of 0.001 degree: 111.190, 74.625
    distance, *_ = one((48, 11), (48.001, 11), (48.001, 11))
    assert distance == pytest.approx(north, abs=0.001)
    distance, depth, side = one((48, 11), (48, 11.001), (48.0001, 11.001))
    assert distance == pytest.approx(east, abs=0.001)
    assert depth == pytest.approx(0, abs=0.001)
    assert side == pytest.approx(-north / 10, abs=0.001)  # played east, finished north: left
    assert sphere((48, 11), (48, 11.001)) == pytest.approx(east - 0.22, abs=0.01)


@given(courses, directions, shots, misses, misses)
def test_depth_and_side_of_any_shot_anywhere(
    latitude: float, direction: float, length: float, depth: float, side: float
) -> None:
    """The pin is ``length`` away in a direction, the finish long or short and right or left."""
    pin = (latitude, 11.5)
    ball = place(*pin, -length * cos(direction), -length * sin(direction))
    finish = place(
        *pin,
        depth * cos(direction) - side * sin(direction),
        depth * sin(direction) + side * cos(direction),
    )
    found = one(ball, pin, finish)
    # parallels bend: 180 m at 70 degrees is off the straight line by 8 mm
    assert found == pytest.approx([length, depth, side], abs=0.02)


@given(st.floats(-60, 60), directions, shots)
def test_on_a_ball_lengths_would_be_wrong(latitude: float, direction: float, length: float) -> None:
    """The control: on a ball of the same size a shot is off by up to 0.5%, seen where it is."""
    pin = (latitude, 11.5)
    ball = place(*pin, -length * cos(direction), -length * sin(direction))
    north = meridian(latitude) / SPHERE
    east = parallel(latitude) / (SPHERE * cos(radians(latitude)))
    off = abs(hypot(cos(direction) / north, sin(direction) / east) - 1)
    wrong = abs(sphere(ball, pin) - length)
    assert wrong == pytest.approx(off * length, abs=0.02)
    assert one(ball, pin, pin)[0] == pytest.approx(length, abs=0.02)


def test_an_unknown_place_makes_unknown_numbers_and_no_line_no_direction() -> None:
    ball = np.array([[48.0, 11.0], [48.0, 11.0], [np.nan, 11.0], [48.001, 11.0]])
    pin = np.full((4, 2), (48.001, 11.0))
    finish = np.array([[48.001, 11.0], [np.nan, np.nan], [48.0, 11.0], [48.0, 11.0]])
    found = measures(ball, pin, finish)
    assert found[0] == pytest.approx([365.0, 0, 0], abs=1)
    assert np.isnan(found).tolist() == [
        [False, False, False],
        [False, True, True],
        [True, True, True],
        [False, True, True],
    ]
