"""Sentences that a sheet of paper says otherwise than a screen."""

from __future__ import annotations

from sgzone.words.grid import HOVER_GRID
from sgzone.words.squad import TAP_GRID

SCREEN_ONLY = frozenset({HOVER_GRID, TAP_GRID})
"""What is true of a screen alone and left out on paper."""

IN_NUMBERS = "The first page in numbers"
ON_THE_NEXT = "The numbers are on the next sheet."
FOR_THE_RANGE = "To take to the range"
COLOPHON = (
    "Charts are drawn by Vega and Vega-Lite (BSD 3-Clause licence). The pages are set by Typst "
    "(Apache licence 2.0) in Libertinus Serif (SIL Open Font License).",
)

PLACES = "t tee; f fairway; r rough; s sand; v recovery; e fringe; g green"
"""The letters of a card written by hand: before each distance, where the ball lay."""
ENDS = (("c", "conceded"), ("x", "picked up"), ("!", "holed"))
"""The signs of how a hole ended, after the distance; a ball holed from near needs none."""
SIGNS = (
    ("/50", "club"),
    ("/h /q /f", "half, three-quarter, full swing"),
    ("(-8,4)", "below: miss in feet, 8 short, 4 right"),
    ("*", "each penalty stroke"),
)
DISTANCES = (
    "Yards to the hole, but feet on the green, where 18 alone means g18. On the fringe write the "
    "unit: e12ft, e4yd. With metres, putts are in metres too."
)
WORKED = (
    "f112/50(-8,4) g9 g1",
    "fairway, 112 yd, with the 50, 8 ft short and 4 ft right; 9 ft; 1 ft.",
)
FRONT_LABELS = (("Player", 4), ("Date", 2), ("Course", 3))
BACK_LABELS = (("Event", 5), ("Round", 3), ("Wind", 4), ("Yards or metres", 4))
"""What is written above the holes, and the share of the line that it has."""
HOLE_HEAD = "Hole"
TO_PRINT = (
    "Print at full size on one side. Cut at the solid marks, fold at the dashed ones with the "
    "print outside."
)
