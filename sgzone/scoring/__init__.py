"""The formula of strokes gained, and the check that a hole adds up."""

from sgzone.scoring.gained import (
    BY_COLUMNS,
    check_totals,
    round_sizes,
    round_sums,
    scored,
    strokes_gained,
)

__all__ = [
    "BY_COLUMNS",
    "check_totals",
    "round_sizes",
    "round_sums",
    "scored",
    "strokes_gained",
]
