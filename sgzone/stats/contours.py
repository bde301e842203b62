"""Contours of a normal pattern in two dimensions."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import gammaincinv

Floats = NDArray[np.float64]

SHARES = (0.5, 0.8)
"""Shares of a pattern that lie inside its contours."""


def contour(centre: ArrayLike, covariance: ArrayLike, share: float, corners: int) -> Floats:
    """Return the corners of the ellipse that holds ``share`` of a normal pattern, (2, corners).

    ``centre``: (2,); ``covariance``: (2, 2). The last corner is the first one again.
    """
    turn = np.linspace(0, 2 * np.pi, corners)
    size, axes = np.linalg.eigh(np.asarray(covariance, float))
    radius = np.sqrt(2 * gammaincinv(1.0, share) * np.maximum(size, 0.0))
    circle = radius[:, None] * np.stack([np.cos(turn), np.sin(turn)])
    found: Floats = np.asarray(centre, float)[:, None] + axes @ circle
    return found
