"""The table that scoring joins: per lie and whole foot the part, the band and the cubic piece.

Every edge of a part or band is a whole foot, so both are facts of the cell, and the lower edge
is in by construction. The zone's upper edge is in too: its cell is cut just above it.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pandas as pd

from sgzone.benchmarks import Benchmark
from sgzone.benchmarks.placing import bands_of, parts_of
from sgzone.season.place_numbers import cell_numbers
from sgzone.terms import (
    BAND_NAMES,
    GREEN,
    HOLED,
    LIES,
    MAX_OFF_GREEN_FT,
    OUTSIDE,
    PART_NAMES,
    ZONE_FT,
)

WORDS = {
    "part": sorted((*PART_NAMES, OUTSIDE)),
    "band": sorted(BAND_NAMES),
    "lie": sorted((*LIES, HOLED)),
}
"""What strokes are grouped by that is a fact of the cell; a code stands for each word's place here,
so that the order of codes is that of words."""

_ZERO = ("x_lo", "x0", "c0", "c1", "c2", "c3")
"""What is 0 of the ball in the hole."""
_ABOVE_ZONE = float(np.nextafter(ZONE_FT, np.inf))


@lru_cache(maxsize=8)
def curve_cells(benchmark: Benchmark) -> pd.DataFrame:
    """Return lie, cell, x_lo, x_hi, x0, c0..c3, part, band for every lie and foot, and holed.

    ``place``: lie and cell as one number. ``part_code`` and such: places in ``WORDS``, one more
    than the last for none. Coefficients are missing where the benchmark lacks the lie; part and
    band never are inside the zone.
    """
    cells = benchmark.cells().drop(columns="status")
    starts = cells.groupby("lie")["x_lo"].min()
    below = {lie: starts.get(lie, MAX_OFF_GREEN_FT + 1) for lie in LIES}
    blanks = [_blank_cells(lie, feet) for lie, feet in below.items() if feet > 0]
    cells = pd.concat([cells, *blanks], ignore_index=True)
    cells = _cut_at_zone(cells)
    cells["part"] = pd.Series(parts_of(cells["lie"], cells["x_lo"]), dtype=object)
    place = bands_of(cells["lie"] == GREEN, cells["x_lo"])
    cells["band"] = pd.Series(np.array([*BAND_NAMES, np.nan], dtype=object)[place], dtype=object)
    holed = pd.DataFrame({"lie": [HOLED], "cell": [0], "x_hi": [1.0], **dict.fromkeys(_ZERO, 0.0)})
    cells = pd.concat([cells, holed], ignore_index=True)
    cells["place"] = cell_numbers(cells["lie"], cells["cell"])
    for name, words in WORDS.items():
        code = pd.Categorical(cells[name], categories=words).codes
        cells[f"{name}_code"] = np.where(code < 0, len(words), code).astype(np.int8)
    return cells


def in_categories(name: str, code: pd.Series[int]) -> pd.Categorical[str]:
    """Return the words of codes of ``WORDS[name]``, missing where there is none."""
    words = WORDS[name]
    plain = code.fillna(len(words)).to_numpy(np.int8)
    return pd.Categorical.from_codes(np.where(plain == len(words), -1, plain), pd.Index(words))


def _blank_cells(lie: str, below_ft: float) -> pd.DataFrame:
    """Return cells without a value from 0 up to where the benchmark's curve of the lie starts."""
    low = np.arange(np.ceil(below_ft))
    high = np.minimum(low + 1, below_ft)
    cell = low.astype(np.int64)
    return pd.DataFrame({"lie": lie, "cell": cell, "x_lo": low, "x_hi": high, "x0": low})


def _cut_at_zone(cells: pd.DataFrame) -> pd.DataFrame:
    edge = (cells["x_lo"] == ZONE_FT) & (cells["lie"] != GREEN)
    on_edge, above = cells[edge].copy(), cells[edge].copy()
    on_edge["x_hi"] = _ABOVE_ZONE
    above["x_lo"] = _ABOVE_ZONE
    return pd.concat([cells[~edge], on_edge, above], ignore_index=True)
