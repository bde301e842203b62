"""The part and the band of strokes, by lie and distance: the one place that works them out.

Scoring joins them by the cells of a curve, which ask here too.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sgzone.terms import BANDS, OUTSIDE, PARTS

NO_BAND = -1
"""The last of a list that has nothing after the bands."""


def parts_of(lie: ArrayLike, distance_ft: ArrayLike) -> NDArray[np.object_]:
    """Return the name of each stroke's part, ``OUTSIDE`` where it starts in none.

    ``lie``: words; ``distance_ft``: feet; shapes: the common one.
    """
    lies, feet = np.broadcast_arrays(np.asarray(lie, object), np.asarray(distance_ft, float))
    parts, words = np.full(feet.shape, OUTSIDE, dtype=object), lies.astype(str)
    for part in PARTS:
        parts[np.isin(words, part.lies) & part.holds(feet)] = part.name
    return parts


def bands_of(on_green: ArrayLike, distance_ft: ArrayLike) -> NDArray[np.intp]:
    """Return the place in ``BANDS`` of each stroke, ``NO_BAND`` where it starts in none.

    ``on_green``: whether it is a putt; ``distance_ft``: feet; shapes: the common one.
    """
    green, feet = np.broadcast_arrays(np.asarray(on_green, bool), np.asarray(distance_ft, float))
    bands = np.full(feet.shape, NO_BAND, dtype=np.intp)
    for place, band in enumerate(BANDS):
        bands[(green == band.on_green) & band.holds(feet)] = place
    return bands
