"""Return curves: what the hours of a part bring, and where today's hours and the plan's stand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.stats.response import returns

Floats = NDArray[np.float64]

STEPS = 40
ROOM = 1.5
"""The curves reach this much beyond the most hours any part has."""
NOW, PLAN = "now", "plan"

CURVE_COLUMNS = ("part", "hours", "strokes_per_round", "low", "high", "observed", "point")


def curve_table(
    parts: Sequence[str],
    gain: Floats,
    scale: Floats,
    plan: Floats,
    now: Floats | None,
    level: float,
) -> pd.DataFrame:
    """Return strokes per round won by the hours of a block, part by part.

    ``gain``: (draws, parts), strokes per round; ``scale``: hours, broadcasts to it; ``plan`` and
    ``now``: hours of the block, (parts,). Columns ``CURVE_COLUMNS``: mean and interval of
    ``level`` over the draws; ``observed``: no more hours than the log has, so the player has been
    there; ``point``: ``plan`` or ``now`` on the rows that mark those hours, else empty.
    """
    reach = ROOM * float(max(plan.max(), 0.0 if now is None else now.max()))
    grid = np.linspace(0.0, reach, STEPS + 1)
    tables = []
    for place, part in enumerate(parts):
        seen = 0.0 if now is None else float(now[place])
        marks = [(float(plan[place]), PLAN), *([] if now is None else [(seen, NOW)])]
        hours = np.array([*grid, *(at for at, _ in marks)])
        own = np.broadcast_to(scale, gain.shape)[:, [place]]
        won = returns(gain[:, [place]], own, hours)
        tables.append(
            pd.DataFrame(
                {
                    "part": part,
                    "hours": hours,
                    "strokes_per_round": won.mean(axis=0),
                    "low": np.quantile(won, 0.5 - level / 2, axis=0),
                    "high": np.quantile(won, 0.5 + level / 2, axis=0),
                    "observed": hours <= seen,
                    "point": [*[""] * len(grid), *(name for _, name in marks)],
                }
            )
        )
    return pd.concat(tables, ignore_index=True)[list(CURVE_COLUMNS)]
