"""Many groups at once against each group on its own, written plainly with full matrices."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import ndtr

from sgzone.stats.shrink import (
    PRIOR_DF,
    TAU,
    TAU_SCALE,
    Posterior,
    cell_variances,
    observation_noise,
    shrink,
)

SPREAD = [0.05, 0.1]


def rounds_of_groups(seed, sizes, rounds=7):
    """Return group per cell, cell, n, total and squares per cell and round, cells shuffled."""
    rng = np.random.default_rng(seed)
    group = rng.permutation(np.repeat(np.arange(len(sizes)), sizes))
    cell = np.repeat(np.arange(len(group)), rounds)
    n = rng.integers(1, 9, len(cell))
    of = np.repeat(np.arange(len(cell)), n)
    level = rng.normal(-0.05, 0.08, len(group))[cell] + rng.normal(0, 0.1, len(cell))
    gained = level[of] + rng.normal(0, 0.33, len(of))
    total, squares = np.bincount(of, gained), np.bincount(of, gained**2)
    kept = rng.random(len(cell)) < 0.8
    kept[::rounds] = True
    return group, *(column[kept] for column in (cell, n, total, squares))


def noise_of_one(cell, n, total, squares):
    """Return variance per cell and the share of a round, one cell after the other."""
    cells = np.unique(cell)
    size = np.array([n[cell == c].sum() for c in cells])
    apart = np.array(
        [squares[cell == c].sum() - total[cell == c].sum() ** 2 / n[cell == c].sum() for c in cells]
    )
    pooled = apart.sum() / (size.sum() - len(cells))
    variance = (PRIOR_DF * pooled + apart) / (PRIOR_DF + size - 1)
    within = sum(q - t**2 / m for q, t, m in zip(squares, total, n, strict=True))
    inner, outer = n.sum() - len(n), len(n) - len(cells)
    if inner == 0 or outer == 0:
        return variance, 0.0
    per_round = sum(s - (n[cell == c] ** 2).sum() / s for c, s in zip(cells, size, strict=True))
    between = (apart.sum() - within - outer * within / inner) / per_round
    shared = max(between, 0.0)
    return variance, shared / (shared + within / inner)


def posterior_of_one(y, v, design, scale):
    """Return weight (taus,), centre and spread (taus, cells) of one group by full matrices."""
    X = np.column_stack([np.ones(len(y)), design])
    B = np.diag(np.array([1.0, *SPREAD]) ** 2)
    logs, centre, spread = [], [], []
    for tau in TAU:
        K = X @ B @ X.T + np.diag((tau * scale) ** 2)
        V = K + np.diag(v)
        logs.append(
            -0.5 * (y @ np.linalg.solve(V, y) + np.linalg.slogdet(V).logabsdet)
            + np.log(tau)
            - (tau / TAU_SCALE) ** 2 / 2
        )
        centre.append(K @ np.linalg.solve(V, y))
        spread.append(np.sqrt(np.diag(K - K @ np.linalg.solve(V, K))))
    weight = np.exp(np.array(logs) - max(logs))
    return weight / weight.sum(), np.array(centre), np.array(spread)


def below(weight, centre, spread, value):
    return float(weight @ ndtr((value - centre) / spread))


sizes = st.lists(st.integers(1, 6), min_size=1, max_size=5)


@pytest.mark.long
@settings(max_examples=25)
@given(st.integers(0, 10**6), sizes)
def test_groups_together_are_each_group_alone(seed, sizes):
    group, cell, *columns = rounds_of_groups(seed, sizes)
    rng = np.random.default_rng(seed)
    design = rng.random((len(group), 2))
    scale = rng.uniform(0.3, 1.0, len(group))
    noise = observation_noise(cell, *columns, len(group), group)
    n, total = (np.bincount(cell, column) for column in columns[:2])
    rounds = np.bincount(cell)
    variance = cell_variances(n, rounds, noise)
    got = shrink(total / n, variance, design, SPREAD, scale, group)
    ends = got.quantile(0.1), got.quantile(0.975)
    for one in range(len(sizes)):
        cells = np.flatnonzero(group == one)
        rows = np.isin(cell, cells)
        own, icc = noise_of_one(cell[rows], *(column[rows] for column in columns))
        assert noise.variance[cells] == pytest.approx(own, rel=1e-12)
        assert noise.icc[cells] == pytest.approx(icc, abs=1e-12)
        weight, centre, spread = posterior_of_one(
            (total / n)[cells], variance[cells], design[cells], scale[cells]
        )
        assert got.mean[cells] == pytest.approx(weight @ centre, abs=1e-12)
        for place, c in enumerate(cells):
            mixture = weight, centre[:, place], spread[:, place]
            assert got.below(-0.03)[c] == pytest.approx(below(*mixture, -0.03), abs=1e-11)
            for p, end in zip((0.1, 0.975), ends, strict=True):
                # the last bits of a probability of .975 are 1e-16 over a density of a few
                root = brentq(lambda x, m=mixture, p=p: below(*m, x) - p, -9, 9, xtol=1e-14)
                assert end[c] == pytest.approx(root, abs=1e-11)


@pytest.mark.long
@given(st.integers(0, 10**6), sizes)
def test_a_group_among_others_has_the_very_numbers_it_has_alone(seed, sizes):
    group, cell, *columns = rounds_of_groups(seed, sizes)
    n, total = (np.bincount(cell, column) for column in columns[:2])

    def answer(chosen):
        """Return noise, mean, interval and probability of chosen cells, worked out on their own."""
        place = np.cumsum(chosen) - 1
        rows = chosen[cell]
        of = np.unique(group[chosen], return_inverse=True)[1]
        noise = observation_noise(
            place[cell[rows]], *(column[rows] for column in columns), int(chosen.sum()), of
        )
        variance = cell_variances(n[chosen], np.bincount(cell)[chosen], noise)
        got = shrink((total / n)[chosen], variance, group=of)
        return np.array([noise.icc, got.mean, got.quantile(0.1), got.below(-0.01)])

    together = answer(np.ones(len(group), bool))
    for one in range(len(sizes)):
        assert answer(group == one).tolist() == together[:, group == one].tolist()


def test_pooling_the_groups_would_be_another_answer():
    """One steady and one wild group: a common tau, or a common noise, is plainly wrong."""
    group = np.repeat([0, 1], 6)
    y = np.array([0.1, -0.06, 0.08, -0.04, 0.06, -0.02, -0.5, 0.4, -0.3, 0.5, -0.4, 0.3])
    v = np.full(12, 0.004)
    apart, pooled = shrink(y, v, group=group), shrink(y, v)
    assert np.abs(apart.mean - pooled.mean)[:6].max() > 0.015
    assert apart.sd[:6].max() < 0.9 * pooled.sd[:6].min()
    cell, n = np.arange(4), np.full(4, 20)
    squares = np.array([0.2, 0.2, 20.0, 20.0])
    noise = [observation_noise(cell, n, np.zeros(4), squares, 4, g) for g in (cell // 2, None)]
    assert noise[0].variance[0] == pytest.approx(0.2 / 19)
    assert noise[1].variance[0] > 10 * noise[0].variance[0]


def test_a_group_without_two_observations_has_no_variance_and_leaves_the_others_theirs():
    cell, group = np.array([0, 1, 2]), np.array([0, 0, 1])
    n, total, squares = [1, 1, 3], [0.1, 0.3, 0.0], [0.01, 0.09, 0.5]
    got = observation_noise(cell, n, total, squares, 3, group)
    assert np.isnan(got.variance[:2]).all()
    assert got.variance[2] == pytest.approx(0.25)
    assert got.icc.tolist() == [0.0, 0.0, 0.0]


def test_no_cell_at_all():
    none = np.zeros(0, np.intp)
    assert len(observation_noise(none, [], [], [], 0, none).variance) == 0
    got = shrink([], [], np.zeros((0, 2)), SPREAD, group=none)
    assert len(got.mean) == len(got.quantile(0.1)) == len(got.below(0.0)) == 0


def test_a_quantile_does_not_hang_on_what_else_is_asked():
    rng = np.random.default_rng(4)
    weight = rng.dirichlet(np.ones(50), 40)
    centre = rng.normal(0, 0.2, (40, 50))
    spread = 10 ** rng.uniform(-6, 0, (40, 50))
    together = Posterior(weight, centre, spread).quantile(0.9)
    rows = (np.s_[k : k + 1] for k in range(40))
    alone = [Posterior(weight[k], centre[k], spread[k]).quantile(0.9)[0] for k in rows]
    assert together.tolist() == alone
    reached = Posterior(weight, centre, spread).below(together)
    assert reached == pytest.approx(np.full(40, 0.9), abs=1e-6)
