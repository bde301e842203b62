"""The kept cubics are scipy's, to the bit, and so is the value of a curve made of them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator, PPoly

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.curve import through
from sgzone.benchmarks.model import assemble
from sgzone.benchmarks.ready import ready_cubics
from sgzone.terms import BENCHMARK_NAMES, WOMEN_NAMES
from tests.docs.curves_data import cubics_of

NAMES = (*BENCHMARK_NAMES, *WOMEN_NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_every_kept_cubic_is_scipys(name: str) -> None:
    expected, kept = cubics_of(name), ready_cubics(name)
    assert list(kept) == list(expected)
    for lie, cubics in kept.items():
        assert np.array_equal(cubics, expected[lie][:3]), lie


@pytest.mark.parametrize("name", NAMES)
def test_a_named_curve_is_what_its_knots_make_without_the_file(name: str) -> None:
    ready = benchmark(name)
    made = assemble(name, ready.knots, derive=True)
    assert ready.lies == made.lies
    for lie, curve in made.curves.items():
        assert np.array_equal(ready.curves[lie].breaks, curve.breaks)
        assert np.array_equal(ready.curves[lie].coefs, curve.coefs)
        assert np.array_equal(ready.curves[lie].status, curve.status)


@pytest.mark.parametrize("name", NAMES)
def test_a_curves_value_is_that_of_scipys_piecewise_polynomial(name: str) -> None:
    at = np.concatenate([np.linspace(0, 2500, 40_001), np.arange(2500.0), [np.nan]])
    for curve in benchmark(name).curves.values():
        scipys = PPoly(curve.coefs, curve.breaks, extrapolate=True)(at)
        expected = np.where(at >= curve.breaks[0], scipys, np.nan)
        assert np.array_equal(curve(at), expected, equal_nan=True)


def test_cubics_from_elsewhere_are_those_of_scipy() -> None:
    x, y = np.array([1.0, 4.0, 9.0, 30.0]), np.array([1.0, 1.5, 1.4, 2.5])
    scipys = PchipInterpolator(x, y).c
    for curve in (through(x, y, [0] * 4), through(x, y, [0] * 4, scipys[:3])):
        assert np.array_equal(curve.coefs[:, :3], scipys)


def test_another_name_has_none() -> None:
    assert ready_cubics("squad") == {}
