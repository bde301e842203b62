"""The sizes of hole and ball, from data/published/putting_model_estimates.csv."""

from __future__ import annotations

from functools import cache

from sgzone.benchmarks.sources import read_published

IN_PER_FT = 12.0


@cache
def hole_and_ball_ft() -> tuple[float, float]:
    """Return the radii of hole and ball in feet (source key gelman_nolan2002)."""
    table = read_published("putting_model_estimates.csv")
    sizes = table[table["model"] == "geometry"].set_index("parameter")["value"]
    hole, ball = (float(sizes[name]) / 2 / IN_PER_FT for name in ("hole diameter", "ball diameter"))
    return hole, ball
