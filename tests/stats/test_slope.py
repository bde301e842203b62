"""A slope with rounds as the unit, against the closed form."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.slope import clustered_slope


def test_the_sandwich_by_hand():
    rng = np.random.default_rng(1)
    cluster = np.repeat(np.arange(12), 5)
    x = rng.normal(size=60)
    y = 0.3 * x + rng.normal(size=12)[cluster] + rng.normal(size=60)
    slope, se = clustered_slope(x, y, cluster)
    X = np.column_stack([np.ones(60), x])
    bread = np.linalg.inv(X.T @ X)
    b = bread @ X.T @ y
    score = np.array([X[cluster == g].T @ (y - X @ b)[cluster == g] for g in range(12)])
    meat = score.T @ score * 12 / 11 * 59 / 58
    assert slope == pytest.approx(b[1])
    assert se == pytest.approx(np.sqrt((bread @ meat @ bread)[1, 1] * 12 / 11))


def test_planted_wear_is_found():
    rng = np.random.default_rng(2)
    x = np.arange(400) / 100
    y = -0.1 * x + rng.normal(0, 0.33, 400)
    slope, se = clustered_slope(x, y, np.arange(400) // 10)
    assert abs(slope + 0.1) < 3 * se
    assert se < 0.03
