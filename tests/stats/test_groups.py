"""Two groups in the same strata: closed forms, hand-worked values, what must not matter."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import statsmodels.api as sm
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.power import tt_ind_solve_power

from sgzone.stats.alike import Alike
from sgzone.stats.groups import (
    Observations,
    Prior,
    Scatter,
    compare,
    counts,
    needed_each,
    scatter,
)

PRIOR = Prior(difference_sd=0.08, sd=0.33, df=30)


def rows(y, group, stratum=None, cluster=None) -> Observations:
    n = len(y)
    stratum = np.zeros(n, int) if stratum is None else np.asarray(stratum)
    cluster = np.arange(n) if cluster is None else np.asarray(cluster)
    return Observations(np.asarray(y, float), np.asarray(group), stratum, cluster)


def drawn(rng, sizes, gaps=None, strata=1):
    group = np.repeat(np.arange(len(sizes)), sizes)
    gaps = np.zeros(len(sizes)) if gaps is None else np.asarray(gaps)
    stratum = rng.integers(strata, size=len(group))
    y = gaps[group] + 0.5 * stratum + rng.normal(0, 0.33, len(group))
    return rows(y, group, stratum)


def test_two_groups_by_hand():
    """d = 0.2; se^2 = 0.1 (1/2 + 1/4) = 0.075; w = .0064/.0814; P = Phi(sqrt(w) d/se)."""
    data = rows([0.0, 0.2, 0.1, 0.3, 0.3, 0.5], [0, 0, 1, 1, 1, 1])
    got = compare(data, Scatter(variance=0.1, df=34), PRIOR)
    assert got.difference == pytest.approx([0.2])
    assert got.se**2 == pytest.approx([0.075])
    w = 0.0064 / (0.0064 + 0.075)
    assert got.mean == pytest.approx([w * 0.2])
    assert got.sd == pytest.approx([np.sqrt(w * 0.075)])
    assert got.p_second == pytest.approx([stats.norm.cdf(np.sqrt(w) * 0.2 / np.sqrt(0.075))])
    low, high = got.interval(0.80, 34)
    half = stats.t.ppf(0.9, 34) * np.sqrt(0.075)
    assert (low[0], high[0]) == pytest.approx((0.2 - half, 0.2 + half))


def test_the_pooled_variance_leans_on_the_prior():
    """Within squares: .02 in the first group (df 1), .08 in the second (df 3)."""
    data = rows([0.0, 0.2, 0.1, 0.3, 0.3, 0.5], [0, 0, 1, 1, 1, 1])
    got = scatter(data, PRIOR)
    assert got.df == 34
    assert got.variance == pytest.approx((30 * 0.33**2 + 0.02 + 0.08) / 34)


def test_rounds_with_a_day_of_their_own_raise_the_design_effect():
    """Half of the variance is the day's, 6 shots a round, each round with one of the groups."""
    rng = np.random.default_rng(1)
    cluster = np.repeat(np.arange(200), 6)
    y = rng.normal(0, 0.3, 1200) + rng.normal(0, 0.3, 200)[cluster]
    data = rows(y, cluster % 2, cluster=cluster)
    got = compare(data, scatter(data, PRIOR), PRIOR)
    assert got.design == pytest.approx([1 + 5 * 0.5], rel=0.1)
    assert got.usual_design == got.design[0]


def test_a_day_that_both_groups_share_drops_out_of_their_difference():
    """The same days; three shots of each group in every round."""
    rng = np.random.default_rng(1)
    cluster = np.repeat(np.arange(200), 6)
    y = rng.normal(0, 0.3, 1200) + rng.normal(0, 0.3, 200)[cluster]
    data = rows(y, np.arange(1200) % 2, cluster=cluster)
    got = compare(data, scatter(data, PRIOR), PRIOR)
    assert got.design == pytest.approx([0.5], abs=0.15)


def test_the_design_effect_is_that_of_the_weights_of_the_observations():
    """By brute force: c' V c over s^2 c'c, for the regression's own weights c of three groups."""
    rng = np.random.default_rng(7)
    data = drawn(rng, [9, 14, 11], strata=3)
    data = Observations(data.y, data.group, data.stratum, rng.integers(5, size=34))
    share = Alike(own=0.2, across=0.05)
    got = compare(data, Scatter(0.1, 60, share), PRIOR)
    same_day = data.cluster[:, None] == data.cluster
    same_group = data.group[:, None] == data.group
    V = same_day * np.where(same_group, share.own, share.across)
    np.fill_diagonal(V, 1.0)
    for k, (a, b) in enumerate(zip(got.first, got.second, strict=True)):
        kept = np.isin(data.group, (a, b)) & np.isin(
            data.stratum,
            np.intersect1d(data.stratum[data.group == a], data.stratum[data.group == b]),
        )
        X = pd.get_dummies(data.stratum[kept], dtype=float).assign(b=data.group[kept] == b)
        c = np.linalg.pinv(X.to_numpy(float))[-1]
        assert got.difference[k] == pytest.approx(c @ data.y[kept])
        assert got.design[k] == pytest.approx(c @ V[np.ix_(kept, kept)] @ c / (c @ c))
        assert got.se[k] == pytest.approx(np.sqrt(0.1 * c @ V[np.ix_(kept, kept)] @ c))


def test_strata_are_compared_within_as_a_regression_with_fixed_effects_does():
    rng = np.random.default_rng(2)
    data = drawn(rng, [60, 80], [0.0, 0.3], strata=4)
    got = compare(data, Scatter(1.0, 100), PRIOR)
    design = pd.get_dummies(data.stratum, dtype=float).assign(second=data.group)
    fit = sm.OLS(data.y, design).fit()
    assert got.difference[0] == pytest.approx(fit.params["second"])
    bare = np.linalg.inv(design.T.to_numpy() @ design.to_numpy())[-1, -1]
    assert got.se[0] ** 2 == pytest.approx(bare)


def test_a_mix_of_strata_alone_makes_no_difference():
    """The raw means differ by the mix only; a comparison that ignored the strata would see it."""
    y = [0.0] * 9 + [1.0] + [0.0] + [1.0] * 9
    group = [0] * 10 + [1] * 10
    data = rows(y, group, [int(v) for v in y])
    got = compare(data, Scatter(0.1, 50), PRIOR)
    assert got.difference == pytest.approx([0.0], abs=1e-12)
    ignored = compare(rows(y, group), Scatter(0.1, 50), PRIOR)
    assert ignored.difference == pytest.approx([0.8])


def test_groups_that_never_meet_are_not_compared():
    data = rows([0.0, 1.0, 0.0, 1.0], [0, 0, 1, 1], [0, 0, 1, 1])
    got = compare(data, Scatter(0.1, 30), PRIOR)
    assert (got.n_first[0], got.n_second[0]) == (0, 0)
    assert np.isnan([got.difference[0], got.se[0], got.p_second[0]]).all()
    assert counts(data).tolist() == [[2, 0], [0, 2]]


@given(st.integers(0, 10_000))
def test_swapping_two_groups_turns_the_sign_and_the_probability(seed):
    rng = np.random.default_rng(seed)
    data = drawn(rng, [12, 30], [0, 0.1], strata=3)
    turned = Observations(data.y, 1 - data.group, data.stratum, data.cluster)
    noise = scatter(data, PRIOR)
    one, other = compare(data, noise, PRIOR), compare(turned, noise, PRIOR)
    assert scatter(turned, PRIOR).variance == pytest.approx(noise.variance)
    assert other.difference == pytest.approx(-one.difference)
    assert other.p_second == pytest.approx(1 - one.p_second)


def test_three_groups_shrink_to_their_common_mean_as_the_posterior_by_brute_force():
    """Against the joint normal posterior with the common mean as one more unknown, vague."""
    rng = np.random.default_rng(4)
    data = drawn(rng, [8, 40, 25], [0.0, 0.1, 0.3])
    noise = Scatter(0.11, 60)
    got = compare(data, noise, PRIOR)
    n = counts(data)[0]
    mean = np.array([data.y[data.group == g].mean() for g in range(3)])
    # unknowns: the three groups and mu; prior of a group given mu has variance .08^2 / 2
    precision = np.zeros((4, 4))
    precision[:3, :3] = np.diag(n / noise.variance + 2 / 0.08**2)
    precision[3, :3] = precision[:3, 3] = -2 / 0.08**2
    precision[3, 3] = 3 * 2 / 0.08**2 + 1e-9
    centre = np.linalg.solve(precision, [*(n * mean / noise.variance), 0])
    covariance = np.linalg.inv(precision)
    for k, (i, j) in enumerate([(0, 1), (0, 2), (1, 2)]):
        assert got.mean[k] == pytest.approx(centre[j] - centre[i], abs=1e-6)
        spread = covariance[i, i] + covariance[j, j] - 2 * covariance[i, j]
        assert got.sd[k] == pytest.approx(np.sqrt(spread), rel=1e-4)
    assert (np.abs(got.mean) < np.abs(got.difference)).all()


@pytest.mark.parametrize("gap", [0.05, 0.10, 0.15, 0.20])
def test_needed_shots_against_statsmodels(gap):
    ours = needed_each(0.33**2, gap)
    theirs = tt_ind_solve_power(
        effect_size=gap / 0.33, alpha=0.05, power=0.80, alternative="larger"
    )
    assert ours == pytest.approx(theirs, abs=1.0)
