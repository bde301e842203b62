"""The curve through a season: it is lowess, and its band covers."""

from __future__ import annotations

import numpy as np
import pytest
from statsmodels.nonparametric.smoothers_lowess import lowess

from sgzone.stats.smooth import SPAN, smooth, smoother

DAYS = np.array([0, 3, 7, 7, 12, 15, 21, 25, 30, 31, 40, 44, 52, 60, 63, 70, 71, 80, 88, 90.0])
WHOLE = np.ones(len(DAYS))


def test_the_matrix_is_lowess():
    y = np.random.default_rng(1).normal(size=len(DAYS))
    expected = lowess(y, DAYS, frac=SPAN, it=0, return_sorted=False)
    assert smoother(DAYS) @ y == pytest.approx(expected)


def test_a_straight_line_is_kept():
    y = np.column_stack([0.02 * DAYS - 1, np.full(len(DAYS), 0.3)])
    got = smooth(DAYS, y, WHOLE, 0.8, draws=200)
    assert got.value == pytest.approx(y)
    assert got.low == pytest.approx(y)


def test_the_same_seed_gives_the_same_band_and_another_hardly_moves_it():
    y = np.random.default_rng(2).normal(size=(len(DAYS), 3))
    one, same, other = (smooth(DAYS, y, WHOLE, 0.8, seed=seed) for seed in (5, 5, 6))
    assert (one.low == same.low).all()
    width = one.high - one.low
    assert (np.abs(other.low - one.low) < 0.1 * width).all()


def test_a_higher_level_is_wider_and_short_rounds_weigh_less_noise():
    y = np.random.default_rng(3).normal(size=(len(DAYS), 1))
    narrow, wide = (smooth(DAYS, y, WHOLE, level) for level in (0.8, 0.95))
    assert (wide.high - wide.low > narrow.high - narrow.low).all()


def test_the_band_keeps_its_level_on_level_seasons():
    """Noise only: the 80% band holds 0 about 80% of the time."""
    rng = np.random.default_rng(4)
    y = rng.normal(size=(len(DAYS), 400))
    weight = np.where(np.arange(len(DAYS)) % 5 == 0, 0.5, 1.0)
    got = smooth(DAYS, y / np.sqrt(weight)[:, None], weight, 0.8, draws=300)
    inside = ((got.low <= 0) & (got.high >= 0)).mean(axis=1)
    assert inside.mean() == pytest.approx(0.80, abs=0.05)
    assert inside.min() > 0.65
