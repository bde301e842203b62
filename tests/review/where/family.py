"""Cards of players who play to a standard of the family exactly: tour plus k times the gap."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import numpy as np
import pandas as pd

from sgzone.benchmarks import benchmark

FROM = {
    "approach_100_150": ("fairway", 130.0, 390.0),
    "wedge_50_100": ("fairway", 75.0, 225.0),
    "chip_0_30": ("rough", 20.0, 60.0),
    "putt_30_up": ("green", 60.0, 60.0),
}
"""Part -> lie, distance as a card has it, and in feet."""
EACH = 3  # strokes of a part in a round
LUCK = 0.05  # strokes, up in one round and down in the next
_GRID = np.linspace(0.5, 150, 30_000)


def family_card(
    player: str, k: float, rounds: int = 24, apart: Mapping[str, float] | None = None
) -> pd.DataFrame:
    """Return a card whose strokes gain nothing on the whole against the standard ``k``.

    Each hole is one stroke that leaves a putt, which is given. ``apart``: part -> its own k.
    """
    rows = []
    for day in range(rounds):
        when, luck = date(2026, 4, 1) + timedelta(days=day), LUCK if day % 2 else -LUCK
        for place, part in enumerate(part for part in FROM for _ in range(EACH)):
            lie, written, feet = FROM[part]
            own = (apart or {}).get(part, k)
            left = _left(own, _needed(own, lie, np.array([feet]))[0] - 1 + luck)
            first = (player, when, place + 1, 1, lie, written, "")
            rows += [first, (player, when, place + 1, 2, "green", round(left, 6), "conceded")]
    names = ["player", "date", "hole", "shot", "lie", "distance", "result"]
    return pd.DataFrame(rows, columns=names)


def _needed(k: float, lie: str, feet: np.ndarray) -> np.ndarray:
    tour, amateur = (benchmark(name).expected(lie, feet) for name in ("tour", "amateur-90"))
    return tour + k * (amateur - tour)


def _left(k: float, strokes: float) -> float:
    """Return the feet of the putt from which a player of this standard needs ``strokes``."""
    needed = _needed(k, "green", _GRID)
    assert needed[0] < strokes < needed[-1], strokes
    return float(np.interp(strokes, needed, _GRID))
