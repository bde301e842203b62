"""A contour holds the share of a normal pattern that it says."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.contours import SHARES, contour


@pytest.mark.parametrize("share", SHARES)
def test_a_contour_holds_its_share(share: float) -> None:
    covariance = np.array([[9.0, 2.0], [2.0, 1.0]])
    corners = contour([1.0, -2.0], covariance, share, 73)
    assert corners.shape == (2, 73)
    assert corners[:, 0] == pytest.approx(corners[:, -1])
    points = np.random.default_rng(1).multivariate_normal([1.0, -2.0], covariance, 40_000)
    root = np.linalg.inv(np.linalg.cholesky(covariance))
    reach = np.linalg.norm(root @ (corners - [[1.0], [-2.0]]), axis=0)
    assert reach == pytest.approx(np.full(73, reach[0]))
    inside = np.linalg.norm((points - [1.0, -2.0]) @ root.T, axis=1) <= reach[0]
    assert inside.mean() == pytest.approx(share, abs=0.01)
