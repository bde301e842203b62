"""``data/curves.csv``: the cubics of every named curve, as scipy's PCHIP has them.

Expected strokes by lie; and of those with a table of putts holed, the share holed.
"""

from __future__ import annotations

import csv
import io

import numpy as np
from scipy.interpolate import PchipInterpolator

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.model import feet_of
from sgzone.benchmarks.ready import COLUMNS
from sgzone.review.why.putting import outcomes_of
from sgzone.terms import BENCHMARK_NAMES, HOLED, WOMEN_NAMES


def cubics_of(name: str) -> dict[str, np.ndarray]:
    """Return the coefficients of scipy's PCHIP through the knots of each lie, (4, pieces)."""
    found = {}
    for lie, rows in benchmark(name).knots.groupby("lie"):
        feet, strokes = feet_of(rows), rows["strokes"].to_numpy(float)
        order = np.argsort(feet)
        found[str(lie)] = PchipInterpolator(feet[order], strokes[order]).c
    feet, share = outcomes_of(name)
    if len(feet):
        found[HOLED] = PchipInterpolator(feet, share).c
    return found


def curves_data() -> str:
    """Return the whole file."""
    text = io.StringIO()
    to = csv.writer(text, lineterminator="\n")
    to.writerow(COLUMNS)
    for name in (*BENCHMARK_NAMES, *WOMEN_NAMES):
        for lie, cubics in cubics_of(name).items():
            to.writerows([name, lie, *map(float, piece)] for piece in cubics[:3].T)
    return text.getvalue()
