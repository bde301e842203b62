"""Cluster-robust t intervals against statsmodels, by hand, and by coverage."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.stats import t as student_t
from scipy.stats import ttest_ind

from sgzone.stats.cluster import RoundTotals, per_round, per_unit, unlike_means, welch


def make_shots(rng, rounds, mean_shots, shared_sd, shot_sd=0.33, mean=0.0):
    """Return round number and value per shot; shots of a round share a normal effect."""
    counts = np.maximum(rng.poisson(mean_shots, rounds), 1)
    round_ = np.repeat(np.arange(rounds), counts)
    shared = rng.normal(0, shared_sd, rounds)[round_]
    return round_, mean + shared + rng.normal(0, shot_sd, counts.sum())


def round_sums(round_, value):
    keys, index = np.unique(round_, return_inverse=True)
    return np.bincount(index), np.bincount(index, weights=value), len(keys)


def statsmodels_bse(round_, value):
    fit = sm.OLS(value, np.ones(len(value))).fit(cov_type="cluster", cov_kwds={"groups": round_})
    return fit.bse[0]


@pytest.mark.parametrize("seed", range(6))
def test_se_is_statsmodels_clustered_bse_of_an_intercept_times_the_correction(seed):
    rng = np.random.default_rng(seed)
    groups = [make_shots(rng, rounds, 7, 0.15) for rounds in (5, 12, 40)]
    rows = [round_sums(*group) for group in groups]
    cell = np.repeat(np.arange(3), [row[2] for row in rows])
    got = per_unit(
        cell,
        np.concatenate([row[0] for row in rows]),
        np.concatenate([row[1] for row in rows]),
        3,
        0.8,
    )
    for j, (round_, value) in enumerate(groups):
        G = rows[j][2]
        assert got.estimate[j] == pytest.approx(value.mean(), abs=1e-12)
        assert got.se[j] == pytest.approx(
            np.sqrt(G / (G - 1)) * statsmodels_bse(round_, value), rel=1e-9
        )
        half = student_t.ppf(0.9, G - 1) * got.se[j]
        assert got.high[j] - got.estimate[j] == pytest.approx(half)
        assert got.estimate[j] - got.low[j] == pytest.approx(half)
        assert got.df[j] == G - 1


def test_three_rounds_by_hand():
    # n 2, 1, 1; totals 1, 0, -1: m = 0, e = 1, 0, -1, se = sqrt(3/2) sqrt(3/2 * 2) / 4
    got = per_unit(np.array([0, 0, 0]), [2, 1, 1], [1, 0, -1], 1, 0.8)
    assert got.estimate[0] == 0
    assert got.se[0] == pytest.approx(1.5 * np.sqrt(2) / 4)


def test_one_round_has_an_estimate_and_no_interval():
    got = per_unit(np.array([0]), [3], [0.6], 2, 0.8)
    assert got.estimate[0] == pytest.approx(0.2)
    assert np.isnan(got.low[0])
    assert np.isnan(got.estimate[1])  # a cell without a row
    assert got.rounds.tolist() == [1, 0]


def test_per_round_counts_the_rounds_without_a_stroke_in_the_cell():
    # Four rounds of 18, 18, 18 and 9 holes; the cell has strokes in the first two only.
    w = np.array([1, 1, 1, 0.5])
    rounds = RoundTotals(np.array([4]), np.array([w.sum()]), np.array([(w**2).sum()]))
    got = per_round(np.array([0, 0]), w[:2], [-0.7, 0.35], rounds, 0.8)
    m = -0.35 / 3.5
    e = np.array([-0.7, 0.35, 0, 0]) - w * m
    assert got.estimate[0] == pytest.approx(m)
    assert got.se[0] == pytest.approx(4 / 3 * np.sqrt((e**2).sum()) / 3.5)
    assert got.df[0] == 3


def coverage(level, rounds, shared_sd, seasons, clustered=True):
    rng = np.random.default_rng(1)
    cells, n, total, count = [], [], [], 0
    for _ in range(seasons):
        round_, value = make_shots(rng, rounds, 6, shared_sd, mean=0.05)
        if not clustered:  # the plausible wrong formula: every shot its own round
            round_ = np.arange(len(value))
        sizes, sums, groups = round_sums(round_, value)
        cells.append(np.full(groups, count))
        n.append(sizes)
        total.append(sums)
        count += 1
    got = per_unit(np.concatenate(cells), np.concatenate(n), np.concatenate(total), count, level)
    return ((got.low < 0.05) & (got.high > 0.05)).mean()


@pytest.mark.long
@pytest.mark.parametrize("rounds", [5, 10, 40])
@pytest.mark.parametrize("shared_sd", [0.04, 0.25])
def test_coverage_is_near_the_level_and_by_shot_is_not(rounds, shared_sd):
    assert 0.76 <= coverage(0.80, rounds, shared_sd, 2000) <= 0.86
    assert 0.92 <= coverage(0.95, rounds, shared_sd, 2000) <= 0.98
    if shared_sd == 0.25:
        assert coverage(0.80, rounds, shared_sd, 1000, clustered=False) < 0.70


def test_error_and_degrees_of_freedom_are_those_of_scipy() -> None:
    rng = np.random.default_rng(1)
    one, other = rng.normal(0, 1, 12), rng.normal(1, 3, 7)
    found = ttest_ind(one, other, equal_var=False)
    variances = [sample.var(ddof=1) / len(sample) for sample in (one, other)]
    se, df = welch(variances[0], 11, variances[1], 6)
    assert float(df) == pytest.approx(found.df, rel=1e-12)
    assert (one.mean() - other.mean()) / float(se) == pytest.approx(found.statistic, rel=1e-12)
    pooled = 11 + 6  # what equal variances would give
    assert abs(float(df) - pooled) > 1


def test_means_that_do_not_vary_have_no_degrees_of_freedom() -> None:
    se, df = welch([0.0, 1.0], [4, 4], [0.0, 1.0], [4, 4])
    assert se == pytest.approx([0, np.sqrt(2)])
    assert np.isnan(df[0])
    assert df[1] == pytest.approx(8)


def test_two_means_are_told_apart_as_by_scipy():
    """1, 2, 3 and 4, 6, 8: 4 apart, variances 1/3 and 4/3, so t = 4 / sqrt(5/3) = 3.098."""
    first, second = np.array([1.0, 2.0, 3.0]), np.array([4.0, 6.0, 8.0])
    df = (5 / 3) ** 2 / ((1 / 3) ** 2 / 2 + (4 / 3) ** 2 / 2)
    assert unlike_means(first, second) == pytest.approx(2 * student_t.sf(4 / np.sqrt(5 / 3), df))
    rng = np.random.default_rng(11)
    for n, other, shift in ((5, 5, 0.0), (9, 40, 0.6), (30, 7, 3.0)):
        one, two = rng.normal(0, 1, n), rng.normal(shift, 2, other)
        expected = ttest_ind(one, two, equal_var=False).pvalue
        assert unlike_means(one, two) == pytest.approx(expected, rel=1e-11)


def test_means_of_samples_that_never_vary_tell_nothing():
    assert np.isnan(unlike_means(np.ones(3), np.zeros(4)))
