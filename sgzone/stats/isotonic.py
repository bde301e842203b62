"""Values made to rise, except where a model curve is allowed to fall."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def rising_like(model: ArrayLike, values: ArrayLike, weight: ArrayLike) -> Floats:
    """Return the values nearest to ``values`` that rise wherever ``model`` does not fall.

    All (n,), along a line; ``weight`` above 0. Within each run in which the model does not fall:
    weighted least squares by pooling adjacent violators (scipy). From run to run nothing is asked.
    """
    from scipy.optimize import isotonic_regression

    like, y = np.asarray(model, float), np.asarray(values, float)
    weights = np.asarray(weight, float)
    cuts = np.flatnonzero(np.diff(like) < 0) + 1
    runs = zip(np.split(y, cuts), np.split(weights, cuts), strict=True)
    return np.concatenate([isotonic_regression(run, weights=w).x for run, w in runs])
