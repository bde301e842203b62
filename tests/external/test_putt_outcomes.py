"""One-putt percentages (broadie2014) against expected putts: two printed tables must agree.

With P1 the share holed in one and P3 the share of three putts or more, expected putts E are at
least 2 - P1, and E - 2 + P1 is the three-putt rate (a four-putt counted twice).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.sources import read_published

Floats = NDArray[np.float64]
POPULATIONS = ("tour", "scratch", "amateur-90")
PRINT_SLACK = 0.005 + 0.005  # E is printed to .01 putt, P1 to 1 percent
FROM_FT = 10


def one_putts(population: str) -> tuple[Floats, Floats]:
    """Return distances (feet) and the share holed in one."""
    rows = read_published("putt_outcomes.csv")
    rows = rows[(rows["population"] == population) & (rows["outcome"] == "one-putt")]
    feet, share = rows["distance_ft"].astype(float), rows["percent"].astype(float) / 100
    assert len(rows) >= 12
    return feet.to_numpy(), share.to_numpy()


def check_bound(expected: Callable[[Floats], Floats], population: str) -> None:
    feet, share = one_putts(population)
    assert (expected(feet) >= 2 - share - PRINT_SLACK - 1e-9).all()


def check_three_putts_rise(expected: Callable[[Floats], Floats], population: str) -> None:
    feet, share = one_putts(population)
    far = feet >= FROM_FT
    rate = expected(feet[far]) - 2 + share[far]
    assert (np.diff(rate) >= -2 * PRINT_SLACK - 1e-9).all()


def putts(name: str) -> Callable[[Floats], Floats]:
    return lambda feet: benchmark(name).expected("green", feet)


@pytest.mark.parametrize("population", POPULATIONS)
def test_expected_putts_are_at_least_two_less_one_putts(population: str) -> None:
    check_bound(putts(population), population)


@pytest.mark.parametrize("population", ["tour", "amateur-90"])
def test_the_implied_three_putt_rate_never_falls_from_ten_feet(population: str) -> None:
    check_three_putts_rise(putts(population), population)


def test_tour_putts_fail_the_bound_of_a_ninety_golfer() -> None:
    with pytest.raises(AssertionError):
        check_bound(putts("tour"), "amateur-90")


def test_a_curve_held_level_from_fifteen_feet_fails_the_three_putt_check() -> None:
    with pytest.raises(AssertionError):
        check_three_putts_rise(lambda feet: putts("tour")(np.minimum(feet, 15)), "tour")
