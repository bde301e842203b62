"""``data/sobol.csv``: the points that the usual seed draws, as scipy draws them."""

from __future__ import annotations

import csv
import io

import numpy as np

from sgzone.stats.quadrature import COLUMNS, KEPT, STEP, drawn
from sgzone.stats.resample import SEED


def sobol_data() -> str:
    """Return the whole file."""
    text = io.StringIO()
    to = csv.writer(text, lineterminator="\n")
    to.writerow(COLUMNS)
    for sizes in KEPT:
        steps = (np.concatenate(drawn(sizes, SEED)) / STEP).astype(np.int64)
        to.writerows([" ".join(map(str, sizes)), x, y] for x, y in steps.tolist())
    return text.getvalue()
