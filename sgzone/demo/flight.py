"""Launch and spin of the demo's clubs, and a wedge that wears. All numbers are invented."""

from __future__ import annotations

import numpy as np
import pandas as pd
from numpy.random import Generator
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Words = NDArray[np.object_]

LOFT = {"58": 58.0, "54": 54.0, "50": 50.0, "46": 46.0, "9i": 42.0, "8i": 38.0, "7i": 34.0}
LAUNCH_DEG = {"58": 32.0, "54": 30.5, "50": 28.5, "46": 26.5, "9i": 23.0, "8i": 20.5, "7i": 18.0}
FULL_SPIN_RPM = {
    **{"58": 9800.0, "54": 9500.0, "50": 9200.0, "46": 8700.0},
    **{"9i": 8000.0, "8i": 7400.0, "7i": 6700.0},
}
SWING_SPIN = {"full": 1.0, "three-quarter": 0.88, "half": 0.74}
SWING_LAUNCH = {"full": 0.0, "three-quarter": -1.0, "half": -1.5}
LAUNCH_SD = 1.2
SPIN_SD = 0.05

WORN_CLUB = "54"
NEW_FROM = pd.Timestamp("2026-07-20")
WORN_SPIN = 0.86  # of a new club's spin on the day the worn one came into this season
WEAR_PER_DAY = 0.0006  # spin lost per day, share


def spin_factor(club: Words, day: pd.Series) -> Floats:
    """Return the spin of each stroke as a share of a new club's; only one wedge wears."""
    days = day - pd.Timestamp("2026-04-01")
    old = WORN_SPIN - WEAR_PER_DAY * days.dt.days.to_numpy(dtype=float)
    since = (day - NEW_FROM).dt.days.to_numpy(dtype=float)
    new = 1 - WEAR_PER_DAY * np.maximum(since, 0.0)
    worn = np.where(since < 0, old, new)
    return np.where(club == WORN_CLUB, worn, 1.0)


def launch_and_spin(
    rng: Generator, club: Words, swing: Words, day: pd.Series
) -> tuple[Floats, Floats]:
    """Draw launch (deg) and spin (rpm) of stock swings; NaN for a club without either.

    ``day``: dates as timestamps.
    """
    clubs, swings = pd.Series(club), pd.Series(swing)
    n = len(clubs)
    launch = clubs.map(LAUNCH_DEG) + swings.map(SWING_LAUNCH) + rng.normal(0, LAUNCH_SD, n)
    spin = clubs.map(FULL_SPIN_RPM) * swings.map(SWING_SPIN) * spin_factor(club, day)
    spin = spin * (1 + SPIN_SD * rng.standard_normal(n))
    return launch.to_numpy(dtype=float), spin.to_numpy(dtype=float)
