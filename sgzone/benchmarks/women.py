"""Curves for women from 50 yards out, derived from the yardage ratings of women and men.

The ratings say what a scratch or bogey player scores on a course of so many yards, as a line for
women and one for men. A hole of d yards is an eighteenth of the line's constant plus d times its
slope, and the difference of the two lines, laid over the level's own curve, is the women's curve.
Nearer than 50 yards nothing is claimed: the level's own curve stands there, and the difference
comes in between 50 and 75 yards, so that no stroke gains by crossing a line. Source key
usga_rating.
"""

from __future__ import annotations

import re

import numpy as np
import pandas as pd

from sgzone.benchmarks.sources import read_published
from sgzone.benchmarks.tables import KNOT_COLUMNS, named_knots

HOLES = 18
FROM_YD = 50.0
"""Nearer than this length counts for nothing, and no women's figures by distance were found."""
FULL_YD = 75.0
"""From here out the whole difference holds; docs/decisions.md has what the ways between cost."""

LEVELS = {
    "women-scratch": ("scratch yardage rating", "scratch"),
    "women-bogey": ("bogey yardage rating", "amateur-90"),
}
"""Name -> the rating it rests on, and the curve of the same level that it is laid over."""

_LINE = re.compile(r"yards/(\d+) \+ (\d+\.\d+)")


def women_knots(name: str) -> pd.DataFrame:
    """Return the knots of one of ``WOMEN_NAMES`` with ``KNOT_COLUMNS``.

    Off the green from 50 yd out they are derived, a growing share of the difference up to 75 yd.
    Nearer, and on the green, the level's own curve stands in and is marked uncertain: it is not a
    women's curve. Raises KeyError for another name.
    """
    rating, level = LEVELS[name]
    knots = named_knots(level)
    far = (knots["unit"] == "yd") & (knots["distance"] >= FROM_YD)
    more, source = _difference(rating, knots["distance"])
    share = ((knots["distance"] - FROM_YD) / (FULL_YD - FROM_YD)).clip(upper=1.0)
    status = (
        knots["status"].where(knots["status"] == "uncertain", "derived").where(far, "uncertain")
    )
    return knots.assign(
        strokes=knots["strokes"] + np.where(far, share * more, 0.0),
        status=status,
        source=knots["source"].where(~far, knots["source"] + "+" + source),
    )[KNOT_COLUMNS]


def _difference(rating: str, yards: pd.Series[float]) -> tuple[pd.Series[float], str]:
    """Return the women's line less the men's for holes of so many yards, and the source key."""
    rows = read_published("course_rating.csv")
    rows = rows[rows["quantity"] == rating].set_index("group")
    (women_slope, women_start), (men_slope, men_start) = (
        _line(rows["value"][group]) for group in ("women", "men")
    )
    start = (women_start - men_start) / HOLES
    return start + (women_slope - men_slope) * yards, str(rows["source"]["women"])


def _line(text: str) -> tuple[float, float]:
    """Return slope (strokes per yard) and constant (strokes per 18 holes) of a printed line."""
    found = _LINE.fullmatch(text)
    if found is None:
        raise ValueError(f"not a yardage rating: {text!r}")
    return 1 / float(found[1]), float(found[2])
