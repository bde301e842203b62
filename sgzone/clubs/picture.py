"""A number as a picture in feet around the hole: edge, landing, finish, and where balls end."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.clubs.green import Green
from sgzone.stats.contours import SHARES, contour
from sgzone.units import FT_PER_YD

_STEPS = 96
_MOST = 3


@dataclass(frozen=True, slots=True)
class Picture:
    """Tables of one number; depth_ft long +, side_ft right +, from the hole.

    ``edge``: step, depth_ft, side_ft. ``marks``: play, what (landing or finish), depth_ft, side_ft.
    ``contours``: play, share, step, depth_ft, side_ft.
    """

    edge: pd.DataFrame
    marks: pd.DataFrame
    contours: pd.DataFrame


def picture(plan: pd.DataFrame, yards: float, green: Green) -> Picture:
    """Return the picture of the best three swings for ``yards`` (rows of ``plan_number``).

    A finish is the middle of the pattern that is aimed for; contours are normal ones of the
    adjusted spreads, mishits apart.
    """
    x, y, wide, deep = green.outline()
    turn = np.linspace(0, 2 * np.pi, _STEPS)
    edge = pd.DataFrame(
        {
            "step": np.arange(_STEPS),
            "depth_ft": y + deep * np.sin(turn),
            "side_ft": x + wide * np.cos(turn),
        }
    )
    best = plan.drop_duplicates(["club", "swing"]).head(_MOST)
    names = (best["club"] + " " + best["swing"] + ", " + best["played"]).to_numpy(object)
    side = best["side_aim_ft"].to_numpy(float) + best["lean_ft"].to_numpy(float)
    finish = best["finish_ft"].to_numpy(float)
    landing = (best["landing_yd"].to_numpy(float) - yards) * FT_PER_YD
    marks = pd.DataFrame(
        {
            "play": np.tile(names, 2),
            "what": np.repeat(np.array(["landing", "finish"], dtype=object), len(best)),
            "depth_ft": np.append(landing, finish),
            "side_ft": np.tile(side, 2),
        }
    )
    sds = best[["depth_sd_ft", "side_sd_ft"]].to_numpy(float)
    contours = [
        _contour(str(name), share, centre, np.diag(sd**2))
        for name, *centre, sd in zip(names, finish, side, sds, strict=True)
        for share in SHARES
    ]
    columns = ["play", "share", "step", "depth_ft", "side_ft"]
    lines = pd.concat(contours, ignore_index=True) if contours else pd.DataFrame(columns=columns)
    return Picture(edge, marks, lines)


def _contour(
    name: str, share: float, centre: list[float], covariance: NDArray[np.float64]
) -> pd.DataFrame:
    depth, side = contour(centre, covariance, share, _STEPS)
    corners = {"step": np.arange(_STEPS), "depth_ft": depth, "side_ft": side}
    return pd.DataFrame({"play": name, "share": share, **corners})
