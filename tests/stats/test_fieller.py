"""Fieller's range: by hand, by its own condition, how often it holds, and what would not."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t as student

from sgzone.stats.fieller import ratio_range


def test_two_clusters_by_hand():
    """Sums 6 and 4; covariances of (2, 4) and (1, 3): all 2; times G G / (G - 1) = 4: all 8."""
    middle, low, high = ratio_range(np.array([2.0, 4.0]), np.array([1.0, 3.0]), 0.5)
    # t of one degree of freedom at .75 is 1: (16 - 8) k^2 - 2 (24 - 8) k + (36 - 8) = 0
    assert middle == 1.5
    ends = [(32 - math.sqrt(32**2 - 4 * 8 * 28)) / 16, (32 + math.sqrt(32**2 - 4 * 8 * 28)) / 16]
    assert [low, high] == pytest.approx(ends)


@given(st.integers(0, 2**32 - 1), st.integers(3, 40))
def test_at_its_ends_the_sum_is_t_standard_errors_from_nought(seed, clusters):
    rng = np.random.default_rng(seed)
    below = rng.uniform(0.5, 2.0, clusters)
    above = 0.4 * below + rng.normal(0, 0.3, clusters)
    middle, low, high = ratio_range(above, below, 0.8)
    if math.isnan(low):
        return
    assert low <= middle <= high
    factor = clusters * clusters / (clusters - 1)
    for end in (low, high):
        rest = above - end * below
        error = math.sqrt(factor * np.var(rest, ddof=1))
        assert abs(rest.sum()) == pytest.approx(student.ppf(0.9, clusters - 1) * error, rel=1e-6)


def test_it_holds_the_true_ratio_as_often_as_it_says():
    """Rounds of few strokes: A = -k B + luck; a delta range with normal ends holds it less."""
    rng = np.random.default_rng(8)
    held, delta, trials, rounds, k = 0, 0, 2000, 10, 0.6
    for _ in range(trials):
        below = np.maximum(rng.normal(0.5, 0.25, rounds), 0.02)
        above = k * below + 0.35 * rng.normal(size=rounds)
        middle, low, high = ratio_range(above, below, 0.8)
        held += low <= k <= high if not math.isnan(low) else True
        rest = above - middle * below
        error = np.std(rest) * math.sqrt(rounds) / below.sum()
        delta += abs(middle - k) <= 1.2816 * error
    assert held / trials == pytest.approx(0.80, abs=0.035)
    assert delta / trials < 0.77


def test_a_range_without_end_is_none():
    below = np.array([0.1, -0.1, 0.2, -0.15, 0.05])
    above = np.array([1.0, 0.5, -0.2, 0.8, 0.1])
    middle, low, high = ratio_range(above, below, 0.8)
    assert middle == pytest.approx(above.sum() / below.sum())
    assert math.isnan(low)
    assert math.isnan(high)
    assert all(math.isnan(end) for end in ratio_range(np.array([1.0]), np.array([2.0]), 0.8)[1:])
    assert math.isnan(ratio_range(np.array([1.0, 2.0]), np.array([1.0, -1.0]), 0.8)[0])
