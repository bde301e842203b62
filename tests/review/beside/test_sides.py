"""The difference of two seasons: Welch's interval, by hand and by covering the truth."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy.stats import t as student_t
from scipy.stats import ttest_ind

from sgzone.review.beside.sides import _welch, joint_chance


def _half(values: np.ndarray, level: float) -> float:
    spread = values.std(ddof=1) / np.sqrt(len(values))
    return float(student_t.ppf(0.5 + level / 2, len(values) - 1) * spread)


def _width(first: np.ndarray, second: np.ndarray, level: float) -> float:
    halves = [np.array([_half(values, level)]) for values in (first, second)]
    return float(_welch(*halves, rounds=(len(first), len(second)), level=level)[0])


@pytest.mark.parametrize("level", [0.8, 0.95])
def test_it_is_the_interval_of_scipy_s_welch_test(level: float) -> None:
    rng = np.random.default_rng(7)
    first, second = rng.normal(0, 1, 9), rng.normal(0, 3, 25)
    low, high = ttest_ind(first, second, equal_var=False).confidence_interval(level)
    assert 2 * _width(first, second, level) == pytest.approx(high - low)


@pytest.mark.long
def test_it_covers_the_true_difference_and_the_sum_of_widths_would_not_be_right() -> None:
    rng = np.random.default_rng(8)
    hits = sums = 0
    for _ in range(2000):
        first, second = rng.normal(-1, 1.5, 12), rng.normal(-1.4, 1.5, 20)
        error = abs(first.mean() - second.mean() - 0.4)
        hits += error < _width(first, second, 0.8)
        sums += error < _half(first, 0.8) + _half(second, 0.8)
    assert hits / 2000 == pytest.approx(0.8, abs=0.03)
    assert sums / 2000 > 0.9


def test_one_round_or_no_spread_has_no_interval() -> None:
    one = np.array([1.0])
    assert np.isnan(_welch(one, one, rounds=(1, 9), level=0.8)).all()
    assert np.isnan(_welch(one * np.nan, one, rounds=(5, 9), level=0.8)).all()
    assert np.isnan(_welch(one * 0, one * 0, rounds=(5, 9), level=0.8)).all()


def test_parts_share_one_chance_to_miss_and_the_total_has_its_own() -> None:
    parts = pd.Series(["wedge_50_100", "putt_0_10", "recovery", "total"])
    known = np.array([True, True, False, True])
    assert joint_chance(parts, known).tolist() == [0.025, 0.025, 0.025, 0.05]
    rng = np.random.default_rng(9)
    first, second = rng.normal(0, 1, 9), rng.normal(0, 3, 25)
    halves = [np.array([_half(values, 0.8)] * 2) for values in (first, second)]
    wide = _welch(*halves, rounds=(9, 25), level=0.8, chance=np.array([0.025, 0.05]))
    low, high = ttest_ind(first, second, equal_var=False).confidence_interval(0.975)
    assert 2 * wide[0] == pytest.approx(high - low)
    low, high = ttest_ind(first, second, equal_var=False).confidence_interval(0.95)
    assert 2 * wide[1] == pytest.approx(high - low)


@pytest.mark.long
def test_one_of_eight_parts_is_rarely_said_to_have_changed_without_a_change() -> None:
    rng = np.random.default_rng(10)
    chance = joint_chance(pd.Series([f"part {k}" for k in range(8)]), np.ones(8, bool))
    called = alone = 0
    for _ in range(1000):
        first, second = rng.normal(-0.4, 0.7, (8, 12)), rng.normal(-0.4, 0.7, (8, 20))
        halves = [np.array([_half(v, 0.8) for v in values]) for values in (first, second)]
        gap = np.abs(first.mean(axis=1) - second.mean(axis=1))
        called += bool((gap > _welch(*halves, rounds=(12, 20), level=0.8, chance=chance)).any())
        alone += bool((gap > _welch(*halves, rounds=(12, 20), level=0.8)).any())
    assert called / 1000 < 0.07  # 5 in 100 and what chance adds to a thousand trials
    assert alone / 1000 > 0.7  # the ranges of one part alone would find one nearly always
