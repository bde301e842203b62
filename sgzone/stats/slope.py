"""A straight line through observations that come in rounds."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def clustered_slope(x: Floats, y: Floats, cluster: NDArray[Any]) -> tuple[float, float]:
    """Return the least-squares slope and its standard error, observations of a cluster together.

    ``x``, ``y``, ``cluster``: (n,). statsmodels' clustered errors with the correction that
    ``stats.cluster`` uses, sqrt(G / (G - 1)).
    """
    from statsmodels.regression.linear_model import OLS
    from statsmodels.tools.tools import add_constant

    code = np.unique(cluster, return_inverse=True)[1]
    groups = int(code.max()) + 1
    fit = OLS(y, add_constant(x)).fit(cov_type="cluster", cov_kwds={"groups": code})
    return float(fit.params[1]), float(fit.bse[1] * np.sqrt(groups / (groups - 1)))
