"""Empirical Bayes: the closed form against brute force, and what it buys."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal

from sgzone.stats import shrink as shrink_module
from sgzone.stats.shrink import (
    TAU,
    TAU_SCALE,
    Noise,
    Posterior,
    cell_variances,
    observation_noise,
    shrink,
)


def brute_force(y, v, X, spread):
    """Return posterior mean and sd by full matrices per tau, nothing in closed form."""
    X = np.column_stack([np.ones(len(y)), X])
    B = np.diag(np.array([1.0, *spread]) ** 2)
    logs, means, squares = [], [], []
    for tau in TAU:
        K = X @ B @ X.T + tau**2 * np.eye(len(y))
        total = K + np.diag(v)
        likelihood = multivariate_normal(np.zeros(len(y)), total).logpdf(y)
        logs.append(likelihood + np.log(tau) - (tau / TAU_SCALE) ** 2 / 2)
        means.append(K @ np.linalg.solve(total, y))
        squares.append(np.diag(K - K @ np.linalg.solve(total, K)) + means[-1] ** 2)
    w = np.exp(np.array(logs) - max(logs))
    w /= w.sum()
    mean = w @ np.array(means)
    return mean, np.sqrt(w @ np.array(squares) - mean**2)


def test_closed_form_equals_full_matrices():
    rng = np.random.default_rng(3)
    y = rng.normal(-0.05, 0.12, 9)
    v = rng.uniform(0.001, 0.02, 9)
    X = rng.integers(0, 2, (9, 3)).astype(float)
    spread = [0.05, 0.1, 0.05]
    got = shrink(y, v, X, spread)
    mean, sd = brute_force(y, v, X, spread)
    assert got.mean == pytest.approx(mean, abs=1e-9)
    assert got.sd == pytest.approx(sd, abs=1e-9)


def test_quantiles_are_of_the_mixture():
    got = shrink([-0.2, 0.0, 0.1, 0.05], [0.01, 0.002, 0.05, 0.004])
    for p in (0.025, 0.1, 0.5, 0.9, 0.975):
        assert got.below(got.quantile(p)) == pytest.approx(p, abs=1e-9)


def test_a_quantile_is_found_where_steps_would_go_to_and_fro():
    """Across the narrow middle one: each step from one side of it lands on the other."""
    mixture = (np.array([row]) for row in ([0.06, 0.30, 0.64], [-1.1, -0.7, 1.2], [0.05, 0.01, 2]))
    got = Posterior(*mixture)
    assert got.below(got.quantile(0.1)) == pytest.approx(0.1, abs=1e-12)


def test_a_cell_with_many_shots_keeps_its_own_mean_and_a_thin_one_does_not():
    got = shrink([-0.30, -0.30, 0.0, 0.02, -0.02, 0.01], [1e-5, 0.1, 1e-4, 1e-4, 1e-4, 1e-4])
    assert got.mean[0] == pytest.approx(-0.30, abs=0.005)
    assert abs(got.mean[1]) < 0.12


@given(
    st.lists(st.floats(-1, 1), min_size=1, max_size=8),
    st.floats(1e-4, 0.2),
    st.floats(-0.5, 0.5),
)
def test_never_fails_and_never_leaves_the_range_of_the_cells(y, variance, value):
    got = shrink(y, np.full(len(y), variance))
    assert np.isfinite(got.mean).all()
    # the intercept is pulled towards 0 a little, so the range is that of the cells and 0
    assert got.mean.min() >= min(*y, 0.0) - 1e-9
    assert got.mean.max() <= max(*y, 0.0) + 1e-9
    assert ((got.below(value) >= 0) & (got.below(value) <= 1)).all()


def season(rng, cells=27, tau=0.06, sd=0.33, mean=-0.05):
    truth = mean + rng.normal(0, tau, cells)
    n = rng.integers(3, 60, cells)
    return truth, truth + rng.normal(0, sd / np.sqrt(n)), sd**2 / n


def test_squared_error_is_under_half_of_raw():
    rng = np.random.default_rng(5)
    raw = adjusted = 0.0
    for _ in range(200):
        truth, y, v = season(rng)
        raw += ((y - truth) ** 2).sum()
        adjusted += ((shrink(y, v).mean - truth) ** 2).sum()
    assert adjusted < 0.5 * raw


def coverage(level, tau, seasons=300):
    rng = np.random.default_rng(6)
    inside = []
    for _ in range(seasons):
        truth, y, v = season(rng, tau=tau)
        got = shrink(y, v)
        low, high = got.quantile(0.5 - level / 2), got.quantile(0.5 + level / 2)
        inside.append((low <= truth) & (truth <= high))
    return np.mean(inside)


@pytest.mark.long
@pytest.mark.parametrize("tau", [0.03, 0.06, 0.10])
def test_intervals_cover_the_truth_at_their_level(tau):
    assert 0.76 <= coverage(0.80, tau) <= 0.86
    assert 0.92 <= coverage(0.95, tau) <= 0.98


def cells_of_rounds(rng, cells, rounds, shots, shared_sd, sd=0.33):
    """Return cell, n, total, squares per cell and round, the share of a round as planted."""
    shape = (cells, rounds, shots)
    value = rng.normal(0, sd, shape) + rng.normal(0, shared_sd, (cells, rounds, 1))
    cell = np.repeat(np.arange(cells), rounds)
    n = np.full(cells * rounds, shots)
    return cell, n, value.sum(axis=2).ravel(), (value**2).sum(axis=2).ravel()


def test_noise_finds_the_planted_variance_and_round_share():
    rng = np.random.default_rng(7)
    got = observation_noise(*cells_of_rounds(rng, 30, 60, 6, shared_sd=0.20), 30)
    assert got.variance.mean() == pytest.approx(0.33**2 + 0.20**2, rel=0.05)
    assert got.icc.tolist() == [got.icc[0]] * 30
    assert got.icc[0] == pytest.approx(0.04 / (0.04 + 0.33**2), rel=0.15)


def test_a_cell_with_many_shots_has_its_own_variance_and_a_thin_one_the_pooled():
    rng = np.random.default_rng(8)
    quiet = cells_of_rounds(rng, 1, 100, 6, shared_sd=0, sd=0.1)
    wild = cells_of_rounds(rng, 1, 100, 6, shared_sd=0, sd=0.4)
    thin = cells_of_rounds(rng, 1, 1, 2, shared_sd=0, sd=0.1)
    _, *columns = [np.concatenate(each) for each in zip(quiet, wild, thin, strict=True)]
    cell = np.repeat([0, 1, 2], [100, 100, 1])
    got = observation_noise(cell, *columns, 3).variance
    pooled = (0.1**2 + 0.4**2) / 2
    assert got[0] == pytest.approx(0.1**2, abs=0.1 * pooled)
    assert got[1] == pytest.approx(0.4**2, rel=0.15)
    assert got[2] == pytest.approx(pooled, rel=0.15)


def test_independent_shots_share_nothing_and_few_shots_say_nothing():
    rng = np.random.default_rng(8)
    assert observation_noise(*cells_of_rounds(rng, 30, 60, 6, shared_sd=0), 30).icc.max() < 0.01
    alone = observation_noise(np.array([0, 1]), [1, 1], [0.1, 0.3], [0.01, 0.09], 2)
    assert np.isnan(alone.variance).all()


def test_a_cell_of_small_scale_leans_more_on_the_others():
    y, v = [-0.2, 0.0, 0.1, 0.05, -0.2], np.full(5, 0.002)
    got = shrink(y, v, scale=[1, 1, 1, 1, 1 / 3])
    assert got.mean[0] < got.mean[4] - 0.03
    assert shrink(y, v, scale=np.ones(5)).mean.tolist() == shrink(y, v).mean.tolist()


def test_variance_of_a_mean_grows_with_shots_per_round_and_few_rounds():
    noise = Noise(np.array([0.1]), np.array([0.2]))
    few = 10 / 9
    assert cell_variances([10.0], [10.0], noise)[0] == pytest.approx(0.01 * few)
    assert cell_variances([10.0], [2.0], noise)[0] == pytest.approx(0.01 * 1.8 * 2)
    assert cell_variances([1.0], [1.0], noise)[0] == pytest.approx(0.1)


def test_draws_have_the_posteriors_mean_and_sd() -> None:
    posterior = shrink([-0.2, -0.05, 0.1], [0.003, 0.001, 0.004])
    drawn = posterior.draw(40_000, np.random.default_rng(4))
    assert drawn.shape == (40_000, 3)
    assert drawn.mean(axis=0) == pytest.approx(posterior.mean, abs=0.001)
    assert drawn.std(axis=0) == pytest.approx(posterior.sd, rel=0.02)


def test_quantiles_that_do_not_arrive_are_said(monkeypatch: pytest.MonkeyPatch) -> None:
    posterior = Posterior(np.ones((1, 1)), np.zeros((1, 1)), np.ones((1, 1)))
    assert posterior.quantile(0.9)[0] == pytest.approx(1.2816, abs=1e-4)
    apart = Posterior(np.full((1, 2), 0.5), np.array([[-9.0, 9.0]]), np.ones((1, 2)))
    monkeypatch.setattr(shrink_module, "_STEPS", 1)
    with pytest.raises(ArithmeticError, match="1 quantiles have not arrived after 1 steps"):
        apart.quantile(0.9)
