"""A fitted curve beside the one it started from, and the strokes it was fitted to: for a chart."""

from __future__ import annotations

import numpy as np
import pandas as pd

from sgzone.benchmarks.fit import BAND_LEVEL
from sgzone.benchmarks.model import Benchmark
from sgzone.benchmarks.placing import bands_of
from sgzone.bounds import bounded
from sgzone.stats.cluster import means
from sgzone.terms import BANDS, GREEN, LIES, MIN_ROUNDS, ZONE_FT
from sgzone.units import to_ft

CURVE_COLUMNS = ["lie", "distance_ft", "base", "fitted", "low", "high"]
POINT_COLUMNS = ["lie", "band", "distance_ft", "strokes", "low", "high", "n", "rounds"]
STEP_FT = 3.0
PUTTS_TO_FT = 60.0


def curve_table(fitted: Benchmark, base: Benchmark) -> pd.DataFrame:
    """Return both curves with the fitted one's band, lie by lie, for the lies with strokes.

    ``distance_ft`` runs from the first knot to the zone's edge, on the green to 60 ft.
    """
    from scipy.interpolate import PchipInterpolator

    tables = []
    seen = set(fitted.knots.loc[fitted.knots["n"] > 0, "lie"])
    for lie in (lie for lie in LIES if lie in seen):
        own = fitted.knots[fitted.knots["lie"] == lie]
        feet = np.array([to_ft(d, u) for d, u in zip(own["distance"], own["unit"], strict=True)])
        farthest = PUTTS_TO_FT if lie == GREEN else ZONE_FT
        grid = np.arange(feet.min(), min(farthest, feet.max()) + 1, 1 if lie == GREEN else STEP_FT)
        low, high = (PchipInterpolator(feet, own[end])(grid) for end in ("low", "high"))
        values = {"base": base.expected(lie, grid), "fitted": fitted.expected(lie, grid)}
        table = {"lie": lie, "distance_ft": grid, **values, "low": low, "high": high}
        tables.append(pd.DataFrame(table, columns=CURVE_COLUMNS))
    if not tables:
        return pd.DataFrame(columns=CURVE_COLUMNS)
    return pd.concat(tables, ignore_index=True)


@bounded
def point_table(rows: pd.DataFrame, level: float = BAND_LEVEL) -> pd.DataFrame:
    """Return the strokes needed by lie and band: mean distance, mean with interval by round, n.

    ``rows``: ``outcomes``. No interval from fewer than 5 rounds.
    """
    band = bands_of(rows["lie"] == GREEN, rows["distance_ft"])
    cell = band * len(LIES) + rows["lie"].map(LIES.index).to_numpy(np.intp)
    keys, number = np.unique(cell, return_inverse=True)
    found = means(number, rows["round_key"], rows["strokes"], len(keys), level)
    enough = found.rounds >= MIN_ROUNDS
    return pd.DataFrame(
        {
            "lie": [LIES[key % len(LIES)] for key in keys],
            "band": [BANDS[key // len(LIES)].name for key in keys],
            "distance_ft": rows.groupby(number)["distance_ft"].mean().to_numpy(),
            "strokes": found.estimate,
            "low": np.where(enough, found.low, np.nan),
            "high": np.where(enough, found.high, np.nan),
            "n": np.bincount(number),
            "rounds": found.rounds,
        },
        columns=POINT_COLUMNS,
    )
