"""The two-way adjustment against hand-worked values, statsmodels, and known truth."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf

from sgzone.stats.twoway import two_way


def _draw(rng: np.random.Generator, rows: int, columns: int, n: int) -> tuple[np.ndarray, ...]:
    row = np.concatenate([np.arange(rows), rng.integers(rows, size=n)])
    column = np.concatenate([np.zeros(rows, int), rng.integers(columns, size=n)])
    column[-columns:] = np.arange(columns)
    return row, column, rng.choice([0.5, 1.0], size=len(row))


def test_by_hand() -> None:
    # A and B meet on day 0 (A 2 better), B and C on day 1 (B 1 better): A +5/3, B -1/3, C -4/3
    found = two_way(
        np.array([0, 1, 1, 2]), np.array([0, 0, 1, 1]), [5.0, 3.0, -4.0, -5.0], np.ones(4), 0.8
    )
    assert found.effect == pytest.approx([5 / 3, -1 / 3, -4 / 3])
    assert found.df == 0
    assert np.isnan(found.se).all()
    assert found.pool.tolist() == [0, 0, 0]


def test_pools_and_a_row_alone() -> None:
    row = np.array([0, 1, 2, 3, 4, 4])
    column = np.array([0, 0, 1, 1, 2, 3])
    found = two_way(row, column, [1.0, 0.0, 7.0, 4.0, 9.0, 8.0], np.ones(6), 0.8)
    assert found.pool.tolist() == [0, 0, 1, 1, 2]
    assert found.effect[:4] == pytest.approx([0.5, -0.5, 1.5, -1.5])
    assert np.isnan(found.effect[4])


@pytest.mark.parametrize("seed", range(4))
def test_it_is_weighted_least_squares_on_dummies(seed: int) -> None:
    rng = np.random.default_rng(seed)
    row, column, weight = _draw(rng, 6, 9, 50)
    y = rng.normal(size=6)[row] + rng.normal(size=9)[column] + rng.normal(size=len(row))
    found = two_way(row, column, y, weight, 0.9)
    data = pd.DataFrame({"y": y, "row": row, "column": column})
    fit = smf.wls("y ~ 0 + C(row) + C(column)", data, weights=weight).fit()
    centre = np.eye(6) - 1 / 6
    contrast = np.hstack([centre, np.zeros((6, 8))])
    reference = fit.t_test(contrast)
    assert found.effect == pytest.approx(reference.effect, abs=1e-9)
    assert found.se == pytest.approx(reference.sd.ravel(), abs=1e-9)
    assert np.column_stack([found.low, found.high]) == pytest.approx(
        reference.conf_int(alpha=0.1), abs=1e-9
    )
    assert (found.df, found.sd) == (fit.df_resid, pytest.approx(np.sqrt(fit.scale)))


def test_known_effects_come_back_and_raw_means_do_not() -> None:
    rng = np.random.default_rng(7)
    truth = np.linspace(-1.5, 1.5, 8)
    errors, raw, inside = [], [], []
    for _ in range(100):
        hard = rng.normal(0, 1, 12)
        chance = np.exp(truth[:, None] * hard[None, :])  # the better play where it is harder
        chance /= chance.sum(axis=1, keepdims=True)
        row = np.repeat(np.arange(8), 20)
        column = np.concatenate([rng.choice(12, size=20, p=one) for one in chance])
        y = truth[row] - 2 * hard[column] + rng.normal(0, 1.5, len(row))
        column = np.unique(column, return_inverse=True)[1]
        found = two_way(row, column, y, np.ones(len(row)), 0.8)
        assert found.pool.max() == 0
        errors.append(found.effect - truth)
        means = np.bincount(row, y) / 20
        raw.append(means - means.mean() - truth)
        inside.append((found.low <= truth) & (truth <= found.high))
    assert np.abs(np.mean(errors, axis=0)).max() < 0.15
    assert np.abs(np.mean(raw, axis=0)).max() > 1.5
    assert 0.76 < np.mean(inside) < 0.84
