"""Spreads from few observations against scipy and by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from sgzone.stats import robust


@given(st.lists(st.tuples(st.integers(0, 3), st.floats(-50, 50)), max_size=40))
def test_medians_are_numpys(pairs):
    cell = np.array([c for c, _ in pairs], dtype=int)
    values = np.array([v for _, v in pairs], dtype=float)
    got = robust.medians(cell, values, 4)
    for k in range(4):
        mine = values[cell == k]
        if len(mine):
            assert got[k] == pytest.approx(np.median(mine))
        else:
            assert np.isnan(got[k])


def test_stray_values_are_those_beyond_three_and_a_half_scaled_deviations():
    """Deviations from the median 0: 1 on average; the limit is 3.5 x 1.4826 = 5.19."""
    values = np.array([-1.0, 1.0] * 5 + [0.0, 5.1, -5.3])
    got = robust.stray(np.zeros(13, int), values, 1)
    assert np.flatnonzero(got).tolist() == [12]


def test_a_thin_cell_takes_the_common_scale():
    """Three balls within an inch of each other do not make the fourth a mishit."""
    rng = np.random.default_rng(1)
    values = np.append(rng.normal(0, 5, 60), [0.0, 0.01, 0.02, 3.0])
    cell = np.append(np.zeros(60, int), np.ones(4, int))
    assert not robust.stray(cell, values, 2)[-1]
    values[-1] = 60.0
    assert robust.stray(cell, values, 2)[-1]


def test_mishits_hardly_touch_the_spread_once_they_are_set_aside():
    rng = np.random.default_rng(2)
    values = rng.normal(0, 1, 400)
    values[:12] -= 12
    cell = np.zeros(400, int)
    out = robust.stray(cell, values, 1)
    _, kept = robust.variances(cell[~out], values[~out], 1)
    _, raw = robust.variances(cell, values, 1)
    assert np.sqrt(kept[0]) == pytest.approx(1.0, abs=0.08)
    assert np.sqrt(raw[0]) > 2.0


def test_pulled_variance_by_hand():
    n = np.array([0.0, 1.0, 5.0, 21.0])
    own = np.array([np.nan, np.nan, 9.0, 9.0])
    got = robust.pulled_variance(n, own, np.full(4, 4.0))
    assert got == pytest.approx([4, 4, (80 + 36) / 24, (80 + 180) / 40])
    assert robust.pulled_df(n).tolist() == [20, 20, 24, 40]


def test_intervals_against_scipy():
    values = np.random.default_rng(3).normal(10, 2, 25)
    sd = np.array([values.std(ddof=1)])
    low, high = robust.sd_interval(sd, np.array([24.0]), 0.9)
    edges = stats.chi2.interval(0.9, 24)
    assert (low[0], high[0]) == pytest.approx(
        tuple(np.sqrt(24 * sd[0] ** 2 / np.array(edges[::-1])))
    )
    low, high = robust.median_interval(
        np.array([10.0]), sd, np.array([25.0]), np.array([24.0]), 0.8
    )
    half = stats.t.interval(0.8, 24, 0, np.sqrt(np.pi / 2) * sd[0] / 5)[1]
    assert high[0] - 10 == pytest.approx(half)
    assert robust.normal_half(0.8) == pytest.approx(stats.norm.interval(0.8)[1])


def test_intervals_cover():
    rng = np.random.default_rng(4)
    values = rng.normal(0, 3, (2000, 30))
    sd, median = values.std(axis=1, ddof=1), np.median(values, axis=1)
    n, df = np.full(2000, 30.0), np.full(2000, 29.0)
    low, high = robust.sd_interval(sd, df, 0.8)
    assert ((low < 3) & (high > 3)).mean() == pytest.approx(0.8, abs=0.03)
    low, high = robust.median_interval(median, sd, n, df, 0.8)
    assert ((low < 0) & (high > 0)).mean() == pytest.approx(0.8, abs=0.03)


def test_pulled_mean_is_the_posterior_of_a_normal_mean():
    mean, n, sd, prior = (np.array([v]) for v in (2.0, 10.0, 5.0, 1.0))
    got, spread = robust.pulled_mean(mean, n, sd, prior)
    precision = 10 / 25 + 1
    assert got == pytest.approx([2.0 * 10 / (10 + 25)])
    assert spread == pytest.approx([precision**-0.5])
    nothing, wide = robust.pulled_mean(np.array([np.nan]), np.array([0.0]), sd, prior)
    assert (nothing[0], wide[0]) == (0.0, 1.0)


def test_smooth_variance_follows_the_cells_near_by():
    x, variance = np.array([50.0, 100.0]), np.array([16.0, 4.0])
    df = np.array([500.0, 500.0])
    got = robust.smooth_variance(x, variance, df, x, np.array([9.0, 9.0]), 10)
    assert got[0] > 13
    assert got[1] < 7
    alone = robust.smooth_variance(x, variance, np.zeros(2), x, np.array([9.0, 8.0]), 10)
    assert alone.tolist() == [9, 8]


def test_small_samples_are_nearer_the_truth_once_pulled():
    rng = np.random.default_rng(5)
    true = rng.uniform(4.5, 5.5, 3000)
    own = np.array([rng.normal(0, s, 6).var(ddof=1) for s in true])
    pulled = robust.pulled_variance(np.full(3000, 6.0), own, np.full(3000, 25.0))
    raw_error, error = ((np.sqrt(v) - true) ** 2 for v in (own, pulled))
    assert error.mean() < raw_error.mean() / 4


def test_the_spread_of_means_is_what_sampling_does_not_explain():
    rng = np.random.default_rng(6)
    n, sd = np.full(400, 30.0), np.full(400, 0.1)
    for true in (0.0, 0.04):
        mean = rng.normal(0, true, 400) + rng.normal(0, 0.1 / np.sqrt(30), 400)
        assert robust.lean_spread(mean, n, sd, 0.01) == pytest.approx(max(true, 0.01), abs=0.003)
    alone = robust.lean_spread(np.array([-0.1]), np.array([3.0]), np.array([0.09]), 0.01)
    assert alone < 0.02
    assert robust.lean_spread(np.array([np.nan]), np.zeros(1), sd[:1], 0.01) == pytest.approx(0.01)


def test_the_doubt_of_a_mean_with_one_possible_spread_is_the_posteriors_sd():
    mean, n, sd = np.array([0.03, -0.01]), np.array([4.0, 25.0]), np.array([0.06, 0.05])
    at, spread = robust.pulled_mean(mean, n, sd, np.full(2, 0.02))
    assert robust.mean_doubt(mean, n, sd, at, np.array([0.02])) == pytest.approx(spread)
    away = robust.mean_doubt(mean, n, sd, at + 0.01, np.array([0.02]))
    assert away == pytest.approx(np.hypot(spread, 0.01))


def test_the_doubt_of_a_mean_covers_whatever_the_true_spread():
    """A pull that takes 1% for granted would be 1.7 times too sure of players 4% off."""
    rng = np.random.default_rng(3)
    n, sd, spreads = np.full(8, 5.0), np.full(8, 0.062), np.geomspace(0.005, 0.05, 10)
    for b, least, most in ((0.01, 0.5, 1.1), (0.02, 0.8, 1.2), (0.04, 0.9, 1.45)):
        off = []
        for _ in range(200):
            true = rng.normal(0, b, 8)
            mean = true + rng.normal(0, sd / np.sqrt(n))
            at, _ = robust.pulled_mean(mean, n, sd, np.full(8, 0.01))
            off.append((true - at) / robust.mean_doubt(mean, n, sd, at, spreads))
        assert least < np.std(off) < most


def test_where_nothing_is_seen_the_doubt_is_the_mean_square_of_the_spreads():
    nothing = robust.mean_doubt(
        np.array([np.nan]), np.zeros(1), np.array([0.06]), np.zeros(1), np.array([0.01, 0.03])
    )
    assert nothing == pytest.approx(np.sqrt((0.01**2 + 0.03**2) / 2), rel=1e-3)


def test_the_doubt_of_the_curve_by_hand_and_by_simulation():
    """One cell, where it is: half the root of (2 prior + df^2 (2/df + 2/20)) / (prior + df)^2."""
    x, df = np.array([90.0]), np.array([10.0])
    got = robust.smooth_doubt(x, df, x, 10.0)
    assert got == pytest.approx([0.5 * np.sqrt((20 + 100 * 0.3) / 400)])
    rng = np.random.default_rng(4)
    x, df = np.geomspace(70, 120, 8), np.full(8, 9.0)
    logs = []
    for _ in range(2000):
        true = 20 / rng.chisquare(20, 8)  # variances about a curve of 1, worth 20 degrees each
        seen = true * rng.chisquare(9, 8) / 9
        prior = 10 / rng.chisquare(10)
        logs.append(0.5 * np.log(robust.smooth_variance(x, seen, df, x, np.full(8, prior), 10.0)))
    assert robust.smooth_doubt(x, df, x, 10.0) == pytest.approx(np.std(logs, axis=0), rel=0.2)


def test_the_test_of_spreads_is_scipys():
    """Brown-Forsythe on two short samples and on drawn ones of many sizes."""
    rng = np.random.default_rng(5)
    pairs = [([1.0, 3.0, 5.0, 3.5], [2.0, 3.0, 4.0, 9.0, 1.0])]
    pairs += [
        (rng.normal(0, 1, n), rng.normal(3, k, n + 4)) for n in (5, 12, 80) for k in (1, 2, 5)
    ]
    for first, second in pairs:
        one, other = np.array(first), np.array(second)
        expected = stats.levene(one, other, center="median").pvalue
        assert robust.unlike_spreads(one, other) == pytest.approx(expected, rel=1e-12)


def test_the_test_of_spreads_by_hand():
    """Apart by 1, 0, 1 and 3, 0, 3: means 2/3 and 2, 4/3 in all; F on 1 and 4 degrees."""
    f = 4 * (6 * (2 / 3) ** 2) / (2 / 3 + 6)  # sums of squares between and within
    got = robust.unlike_spreads(np.array([-1.0, 0.0, 1.0]), np.array([-3.0, 0.0, 3.0]))
    assert got == pytest.approx(stats.f.sf(f, 1, 4))


def test_samples_of_one_value_each_tell_nothing():
    assert np.isnan(robust.unlike_spreads(np.ones(5), np.ones(6)))
