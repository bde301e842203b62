"""Shots by club in the columns that ``clubs.shots.club_shots`` hands out."""

from __future__ import annotations

import numpy as np
import pandas as pd


def shots_of(
    club: str,
    swing: str,
    carry: np.ndarray,
    *,
    meant: float = np.nan,
    target: float | None = None,
    side_ft: np.ndarray | float = 0.0,
    release: float = 0.0,
    source: str = "course",
    lie: str = "fairway",
    **more: object,
) -> pd.DataFrame:
    """Return one row per carry (yd); the target is what was meant where none is given."""
    carry = np.asarray(carry, float)
    to = np.full(len(carry), meant if target is None else target)
    frame = {
        "source": source,
        "club": club,
        "swing": swing,
        "date": pd.Timestamp("2026-05-01"),
        "round_key": np.arange(len(carry)) // 2,
        "block": None,
        "lie": lie,
        "target_yd": to,
        "number_yd": to,
        "meant_yd": meant,
        "carry_yd": carry,
        "depth_ft": 3 * (carry + release - to),
        "side_ft": side_ft,
        "firmness": None,
    }
    return pd.DataFrame(frame | more)
