"""Sentences that a sheet of paper says otherwise than a screen."""

from __future__ import annotations

from sgzone.words.grid import HOVER_GRID

SCREEN_ONLY = frozenset({HOVER_GRID})
"""What is true of a screen alone and left out on paper."""

IN_NUMBERS = "The first page in numbers"
ON_THE_NEXT = "The numbers stand on the next sheet."
FOR_THE_RANGE = "To take to the range"
COLOPHON = (
    "Charts are drawn by Vega and Vega-Lite (BSD 3-Clause licence), the pages are set by Typst "
    "(Apache licence 2.0) in Libertinus Serif (SIL Open Font License).",
)
