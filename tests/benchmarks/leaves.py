"""Break-even proximity beside the median leaves that were published."""

from __future__ import annotations

import numpy as np
import pandas as pd

from sgzone.benchmarks.model import Benchmark, break_even_proximity
from sgzone.benchmarks.sources import anchor_range
from sgzone.units import FT_PER_YD

LEAVES = "median leave as percent of start distance"
_RANGES_YD = {"fairway 50-100 yd": range(50, 101, 10), "fairway 100-200 yd": range(120, 201, 20)}


def leave_comparison(benchmark: Benchmark) -> pd.DataFrame:
    """Return break-even proximity from the fairway, 50 to 200 yd, beside published median leaves.

    Columns: distance_yd, break_even_ft, break_even_percent (of the start distance),
    published_low, published_high (percent, tour professionals' median leaves), source.
    """
    tables = []
    for condition, yards in _RANGES_YD.items():
        low, high = anchor_range("tour", LEAVES, condition)
        start = np.array(yards, dtype=float)
        feet = break_even_proximity(benchmark, "fairway", start * FT_PER_YD)
        tables.append(
            pd.DataFrame(
                {
                    "distance_yd": start,
                    "break_even_ft": feet,
                    "break_even_percent": 100 * feet / (start * FT_PER_YD),
                    "published_low": low.value,
                    "published_high": high.value,
                    "source": low.source,
                }
            )
        )
    return pd.concat(tables, ignore_index=True)
