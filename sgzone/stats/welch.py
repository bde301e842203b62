"""The difference of two means of unequal variance, after Welch."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def welch(
    variance: ArrayLike, df: ArrayLike, variance_other: ArrayLike, df_other: ArrayLike
) -> tuple[Floats, Floats]:
    """Return standard error and degrees of freedom of a difference of means.

    ``variance``: squared standard error of each mean, known to ``df``; arrays of one shape. NaN
    degrees of freedom where neither mean varies.
    """
    one, other = np.asarray(variance, float), np.asarray(variance_other, float)
    whole = one + other
    spent = one**2 / np.asarray(df, float) + other**2 / np.asarray(df_other, float)
    joint = np.divide(whole**2, spent, out=np.full(np.shape(whole), np.nan), where=spent > 0)
    return np.sqrt(whole), joint
