"""One odd cell: the rank-one updates against every model in full, and what such a cell gains."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import multivariate_normal

from sgzone.stats.odd import TIMES, _among_others
from sgzone.stats.shrink import TAU, TAU_SCALE, Posterior, shrink

SPREAD = [0.05, 0.1]
ODD = 0.5


def brute_force(y, v, design, scale, odd):
    """Return the mixture over all taus and all models, and which cell is odd with what chance.

    Dense covariance matrices and scipy's normal density for each; a cell has a normal in each.
    """
    count = len(y)
    X = np.column_stack([np.ones(count), design])
    B = np.diag(np.array([1.0, *SPREAD]) ** 2)
    logs, centres, spreads = [], [], []
    for model in range(count + 1):  # the last: none is odd
        apart = np.where(np.arange(count) == model, TIMES, 1.0) * scale
        share = odd / count if model < count else 1 - odd
        for tau in TAU:
            K = X @ B @ X.T + np.diag((tau * apart) ** 2)
            V = K + np.diag(v)
            density = multivariate_normal(np.zeros(count), V).logpdf(y)
            logs.append(density + np.log(tau * share) - (tau / TAU_SCALE) ** 2 / 2)
            centres.append(K @ np.linalg.solve(V, y))
            spreads.append(np.sqrt(np.diag(K - K @ np.linalg.solve(V, K))))
    weight = np.exp(np.array(logs) - max(logs))
    weight /= weight.sum()
    chance = weight.reshape(count + 1, -1).sum(axis=1)
    rows = np.broadcast_to(weight, (count, len(weight)))
    return Posterior(rows, np.array(centres).T, np.array(spreads).T), chance[:count]


def cells(seed, count, fault=0.0):
    """Return mean, variance, design and scale of some cells, the first of them worse by a fault."""
    rng = np.random.default_rng(seed)
    v = rng.uniform(0.0005, 0.01, count)
    y = rng.normal(-0.05, 0.06, count) + rng.normal(0, np.sqrt(v))
    y[0] -= fault
    design = rng.integers(0, 2, (count, 2)).astype(float)
    return y, v, design, rng.choice([1.0, 1 / 3], count)


def believed(y, v, design, scale, odd=ODD):
    return shrink(y, v, design, SPREAD, scale, odd=odd)


def chances(posterior):
    """Return how likely each cell is the odd one."""
    return posterior.weight[:, posterior.taus :].sum(axis=1)


@pytest.mark.repeats
@pytest.mark.parametrize("count", [3, 8])
@pytest.mark.parametrize("fault", [0.0, 0.2, 0.6])
@pytest.mark.parametrize("odd", [0.1, 0.5, 1.0])
def test_rank_one_updates_equal_every_model_in_full(count, fault, odd):
    of = cells(count, count, fault)
    got = believed(*of, odd)
    wanted, chance = brute_force(*of, max(odd - 1e-15, 0))
    assert chances(got) == pytest.approx(chance, abs=1e-9)
    assert got.mean == pytest.approx(wanted.mean, abs=1e-9)
    assert got.sd == pytest.approx(wanted.sd, abs=1e-9)
    # the cells that are not the odd one have one normal of the same mean and variance at each tau
    assert got.below(-0.03) == pytest.approx(wanted.below(-0.03), abs=0.01)
    for p in (0.025, 0.1, 0.9, 0.975):
        off = got.quantile(p) - wanted.quantile(p)
        assert (np.abs(off) < 0.08 * wanted.sd).all()


def test_the_usual_model_would_be_another_answer():
    of = cells(8, 8, 0.6)
    wanted, _ = brute_force(*of, ODD)
    usual = believed(*of, odd=0.0)
    assert np.abs(usual.mean - wanted.mean).max() > 0.01
    assert np.abs(usual.below(-0.03) - wanted.below(-0.03)).max() > 0.02


def test_of_one_or_two_cells_none_is_the_odd_one():
    for count in (1, 2):
        of = cells(1, count, 0.5)
        got, usual = believed(*of), believed(*of, odd=0.0)
        assert chances(got).tolist() == [0.0] * count
        assert got.mean == pytest.approx(usual.mean, abs=1e-12)
        assert got.quantile(0.1) == pytest.approx(usual.quantile(0.1), abs=1e-9)


@given(st.integers(0, 10**6), st.integers(1, 12), st.floats(0, 1))
def test_a_chance_of_nearly_none_is_the_usual_model(seed, count, fault):
    of = cells(seed, count, fault)
    got, usual = believed(*of, odd=1e-15), believed(*of, odd=0.0)
    # a fault of a stroke speaks so loudly that even this chance is heard
    heard = chances(got).sum()
    assert got.mean == pytest.approx(usual.mean, abs=1e-9 + heard)
    assert got.sd == pytest.approx(usual.sd, abs=1e-9 + np.sqrt(heard))


@given(st.integers(0, 10**6), st.integers(1, 12), st.floats(0, 1))
def test_the_order_of_the_cells_does_not_matter(seed, count, fault):
    of = cells(seed, count, fault)
    order = np.random.default_rng(seed).permutation(count)
    got, again = believed(*of), believed(*(column[order] for column in of))
    assert again.mean == pytest.approx(got.mean[order], abs=1e-9)
    assert again.below(-0.03) == pytest.approx(got.below(-0.03)[order], abs=1e-9)
    assert chances(again) == pytest.approx(chances(got)[order], abs=1e-9)


@settings(max_examples=25)
@given(st.integers(0, 10**6), st.lists(st.integers(1, 7), min_size=1, max_size=5))
def test_a_group_among_others_has_the_very_numbers_it_has_alone(seed, sizes):
    group = np.random.default_rng(seed).permutation(np.repeat(np.arange(len(sizes)), sizes))
    y, v, design, scale = cells(seed, len(group), 0.4)
    together = shrink(y, v, design, SPREAD, scale, group, ODD)
    for one in range(len(sizes)):
        own = group == one
        alone = believed(y[own], v[own], design[own], scale[own])
        assert alone.mean.tolist() == together.mean[own].tolist()
        assert alone.quantile(0.1).tolist() == together.quantile(0.1)[own].tolist()


@given(st.integers(0, 10**6), st.integers(3, 40), st.floats(1e-14, 1e-3), st.floats(-3, 3))
def test_never_fails_however_far_a_cell_is_and_however_sure(seed, count, variance, far):
    y, _, design, scale = cells(seed, count)
    y[-1] = far
    got = believed(y, np.full(count, variance), design, scale)
    assert np.isfinite(got.mean).all()
    assert (got.sd > 0).all()
    assert got.weight.sum(axis=1) == pytest.approx(1)
    assert 0 <= chances(got).sum() <= 1 + 1e-9
    assert got.below(got.quantile(0.1)) == pytest.approx(0.1, abs=1e-6)


def test_where_a_cell_is_surely_the_odd_one_what_it_would_be_otherwise_is_no_rounding_error():
    odd, own = np.array([1 - 1e-12, 1.0, 0.75]), np.array([0.3, 0.3, 0.4])
    total = odd * own + np.array([1e-15, 1e-15, 0.1])
    assert _among_others(total, odd, own) == pytest.approx([0, 0, 0.4], abs=1e-12)


def test_an_odd_cell_keeps_more_of_its_own_and_the_rest_are_drawn_together():
    y = np.array([-0.45, -0.06, -0.04, -0.05, -0.07, -0.03, -0.05, -0.04])
    v = np.full(8, 0.002)
    usual, got = shrink(y, v), shrink(y, v, odd=ODD)
    assert chances(got)[0] > 0.9
    assert abs(got.mean[0] - y[0]) < 0.5 * abs(usual.mean[0] - y[0])
    assert np.ptp(got.mean[1:]) < 0.8 * np.ptp(usual.mean[1:])
    assert (got.sd[1:] < usual.sd[1:]).all()


def test_what_few_shots_show_makes_no_cell_odd():
    y = np.array([-0.45, -0.06, -0.04, -0.05, -0.07, -0.03, -0.05, -0.04])
    v = np.array([0.06, *[0.002] * 7])
    got = shrink(y, v, odd=ODD)
    assert chances(got)[0] < 0.3
    assert got.mean[0] > -0.2


def test_draws_are_of_the_mixture():
    posterior = believed(*cells(8, 8, 0.25))
    assert 0.1 < chances(posterior)[0] < 0.9
    drawn = posterior.draw(60_000, np.random.default_rng(4))
    assert drawn.shape == (60_000, 8)
    assert drawn.mean(axis=0) == pytest.approx(posterior.mean, abs=0.001)
    assert drawn.std(axis=0) == pytest.approx(posterior.sd, rel=0.02)
    assert (drawn < -0.1).mean(axis=0) == pytest.approx(posterior.below(-0.1), abs=0.008)


def test_in_one_draw_one_cell_at_most_is_odd():
    weight = np.array([[0.25, 0.25, 0.25, 0.25], [0.25, 0.25, 0.25, 0.25], [0.5, 0.5, 0, 0]])
    centre = np.array([[0.0, 0.0, -1.0, -1.0]] * 3)
    drawn = Posterior(weight, centre, np.full((3, 4), 1e-3), taus=2).draw(
        2000, np.random.default_rng(1)
    )
    far = drawn < -0.5
    assert far.sum(axis=1).tolist() == [1] * 2000  # the first or the second, never both or none
    assert far.mean(axis=0) == pytest.approx([0.5, 0.5, 0.0], abs=0.04)
