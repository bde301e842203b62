"""Test blocks over time: each day's middle miss against the pass mark."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from sgzone.bounds import bounded
from sgzone.terms import DEFAULT_LEVEL

SERIES_COLUMNS = (
    *("part", "ball", "surface", "date", "balls", "median_ratio", "low", "high"),
    *("inside", "inside_share"),
)


@bounded
def block_series(balls: pd.DataFrame, level: float = DEFAULT_LEVEL) -> pd.DataFrame:
    """Return one row per part, kind of ball, surface and day; kinds are never pooled.

    ``balls``: as ``test_blocks.mixed_blocks`` returns them. ``median_ratio``: the day's median of
    miss / pass mark; 1 is the level's own. ``low`` and ``high``: its distribution-free interval at
    ``level``, between two of the day's own balls, missing where so few cannot give one; the day's
    own effect is not in it. ``inside``: balls inside their pass mark.
    """
    apart = ["part", "ball", "surface", "date"]
    ratio = (balls["miss_ft"] / balls["mark_ft"]).rename("ratio")
    rows = []
    for keys, own in ratio.groupby([balls[name] for name in apart], dropna=False, sort=True):
        low, high = _median_interval(own.to_numpy(float), level)
        inside = int((own <= 1).sum())
        rows.append(
            dict(zip(apart, keys, strict=True))
            | {
                "balls": len(own),
                "median_ratio": float(own.median()),
                "low": low,
                "high": high,
                "inside": inside,
                "inside_share": inside / len(own),
            }
        )
    return pd.DataFrame(rows, columns=list(SERIES_COLUMNS))


def _median_interval(values: np.ndarray, level: float) -> tuple[float, float]:
    """Return the narrowest symmetric pair of order statistics that covers at ``level`` or more."""
    from scipy.stats import quantile_test

    ends: Any = quantile_test(values, p=0.5).confidence_interval(level)
    if np.isnan([ends.low, ends.high]).any():
        return np.nan, np.nan
    return float(ends.low), float(ends.high)
