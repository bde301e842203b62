"""Shares and medians of clustered observations: by value where simple, by coverage where not."""

from __future__ import annotations

from importlib.metadata import version

import numpy as np
import pytest
from packaging.version import Version
from scipy.stats import beta, binomtest, chi2_contingency, norm
from statsmodels.stats.proportion import proportion_confint, proportions_ztest

from sgzone.stats.rates import (
    chance_of_as_many,
    chance_reached,
    difference_interval,
    median_interval,
    share_interval,
    unlike,
    unlike_shares,
    wilson,
)


@pytest.mark.parametrize("level", [0.5, 0.8, 0.95, 0.999])
def test_wilson_is_that_of_statsmodels_to_the_bit(level):
    hits, n = (one.ravel() for one in np.meshgrid(np.arange(0, 39, 0.7), np.arange(39.2, 200, 3.1)))
    expected = proportion_confint(hits, n, alpha=1 - level, method="wilson")
    # statsmodels before 0.15 adds up in another order
    off = 0 if Version(version("statsmodels")) >= Version("0.15") else 1e-13
    np.testing.assert_allclose(wilson(hits, n, level), expected, rtol=off, atol=off)


def test_wilson_by_hand():
    """4 hits of 8: middle 0.5, half 2 sqrt(1/32 + 1/64) / 1.5 with reach 2."""
    low, high = wilson(4, 8, 2 * norm.cdf(2) - 1)
    half = 2 * np.sqrt(1 / 32 + 1 / 64) / 1.5
    assert (low, high) == (pytest.approx(0.5 - half), pytest.approx(0.5 + half))


def test_the_binomial_tail_is_that_of_scipy():
    """Three of three with chance 0.2: 0.008."""
    assert chance_of_as_many(3, 3, 0.2) == pytest.approx(0.008)
    assert chance_of_as_many(0, 3, 0.2) == 1
    for n in (1, 7, 40, 900):
        for hits in range(0, n + 1, max(n // 20, 1)):
            expected = binomtest(hits, n, 0.2, alternative="greater").pvalue
            assert chance_of_as_many(hits, n, 0.2) == pytest.approx(expected, rel=1e-11)


def test_two_shares_are_told_apart_as_by_statsmodels():
    """10 of 20 against 10 of 40: z = 0.25 / sqrt(2/9 (1/20 + 1/40)) = 1.936."""
    assert unlike((10, 10), (20, 40)) == pytest.approx(2 * norm.sf(0.25 / np.sqrt(2 / 9 * 3 / 40)))
    for hits, n in (((3, 9), (11, 50)), ((0, 5), (30, 31)), ((12, 12), (12, 13))):
        assert unlike(hits, n) == pytest.approx(proportions_ztest(hits, n)[1], rel=1e-11)


def test_tables_of_counts_are_told_apart_as_by_scipy():
    """10 and 20 against 20 and 10: 15 expected in each, apart by 5, by 4.5 after Yates."""
    table = np.array([[10, 20], [20, 10]])
    assert unlike_shares(table) == pytest.approx(2 * norm.sf(np.sqrt(4 * 4.5**2 / 15)))
    for rows in (table, [[3, 9], [4, 11]], [[5, 5], [5, 5]], [[3, 9, 1], [8, 2, 4]]):
        expected = chi2_contingency(rows).pvalue
        assert unlike_shares(np.array(rows)) == pytest.approx(expected, rel=1e-11)


def test_one_round_is_plain_wilson():
    got = share_interval(np.zeros(10, int), [1, 1, 1, 0, 0, 0, 0, 0, 0, 0], 0.8)
    assert got[0] == pytest.approx(0.3)
    assert got[1:] == pytest.approx(proportion_confint(3, 10, 0.2, "wilson"))


def test_none_of_ten_still_has_an_upper_end():
    share, low, high = share_interval(np.arange(10), np.zeros(10), 0.8)
    assert (share, low) == (0, pytest.approx(0, abs=1e-12))
    assert 0.1 < high < 0.3


def test_nothing_seen_is_nothing_said():
    assert np.isnan(share_interval(np.array([], int), [], 0.8)).all()
    assert np.isnan(median_interval(np.array([], int), [], 0.8)).all()


@pytest.mark.parametrize(("level", "least"), [(0.8, 4), (0.95, 6)])
def test_a_median_of_a_few_has_no_interval(level, least):
    """Three values hold the median between them in 3 of 4 cases, four in 7 of 8."""
    for n in range(1, 8):
        value = np.arange(n) + 5.0
        median, low, high = median_interval(np.zeros(n, int), value, level)
        assert median == np.median(value)
        assert (low < median < high) if n >= least else (np.isnan(low) and np.isnan(high))


def test_whole_rounds_alike_widen_the_interval():
    round_ = np.repeat(np.arange(12), 10)
    alike = share_interval(round_, (round_ % 2).astype(float), 0.8)
    mixed = share_interval(round_, np.tile([0, 1], 60), 0.8)
    assert alike[2] - alike[1] > 2 * (mixed[2] - mixed[1])


def draws(rng, rounds, shots, shared_sd):
    """Return round and a standard normal value per shot, part of it shared by the round."""
    round_ = np.repeat(np.arange(rounds), shots)
    own = rng.normal(0, np.sqrt(1 - shared_sd**2), rounds * shots)
    return round_, own + rng.normal(0, shared_sd, rounds)[round_]


@pytest.mark.long
@pytest.mark.parametrize(("rounds", "shots"), [(10, 4), (40, 4), (40, 12)])
@pytest.mark.parametrize("shared_sd", [0.1, 0.5])
def test_coverage_is_near_the_level(rounds, shots, shared_sd):
    rng = np.random.default_rng(1)
    share_in, median_in, plain_in = [], [], []
    for _ in range(500):
        round_, value = draws(rng, rounds, shots, shared_sd)
        hit = value < norm.ppf(0.35)
        _, low, high = share_interval(round_, hit, 0.8)
        share_in.append(low <= 0.35 <= high)
        _, low, high = median_interval(round_, value, 0.8)
        median_in.append(low <= 0 <= high)
        low, high = proportion_confint(hit.sum(), len(hit), 0.2, "wilson")
        plain_in.append(low <= 0.35 <= high)
    assert 0.75 <= np.mean(share_in) <= 0.88
    assert 0.75 <= np.mean(median_in) <= 0.88
    if shared_sd == 0.5 and shots == 12:  # the plausible wrong one: every shot on its own
        assert np.mean(plain_in) < 0.70


def test_the_chance_that_a_share_is_reached_by_value():
    """Of 8 of 10 with half a success and half a miss more: the upper tail of Beta(8.5, 2.5)."""
    round_, hit = np.zeros(10, int), [1] * 8 + [0] * 2
    assert chance_reached(round_, hit, 0.7, 0.8) == pytest.approx(beta.sf(0.7, 8.5, 2.5))
    assert chance_reached(round_, hit, 0.0, 0.8) == 1
    assert chance_reached(round_, hit, 1.0, 0.8) == 0
    assert np.isnan(chance_reached(np.array([], int), [], 0.5, 0.8))


def test_rounds_that_differ_leave_the_chance_nearer_to_a_half():
    round_ = np.repeat(np.arange(10), 10)
    apart = np.where(round_ < 7, 1.0, 0.0)
    mixed = np.tile([1, 1, 1, 1, 1, 1, 1, 0, 0, 0], 10)
    assert 0.5 < chance_reached(round_, apart, 0.6, 0.8) < chance_reached(round_, mixed, 0.6, 0.8)


def test_a_difference_has_newcombes_hybrid_range():
    """Newcombe 1998, table II, (a): 56 of 70 less 48 of 80 is 0.2 from 0.0524 to 0.3339."""
    one, other = (
        (won / of, *proportion_confint(won, of, 0.05, "wilson")) for won, of in ((48, 80), (56, 70))
    )
    change, low, high = difference_interval(one, other)
    assert (change, low, high) == (
        pytest.approx(0.2),
        pytest.approx(0.0524, abs=5e-5),
        pytest.approx(0.3339, abs=5e-5),
    )
