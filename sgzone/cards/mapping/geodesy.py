"""Lengths between places on the earth (WGS84), and how far off the line a ball finished."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sgzone.units import M_PER_FT

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Degrees = NDArray[np.float64]
    """Shape (n, 2): latitude and longitude, in degrees, north and east positive."""


def measures(ball: Degrees, pin: Degrees, finish: Degrees) -> NDArray[np.float64]:
    """Return distance ball to pin, depth and side of the finish, in feet, shape (n, 3).

    Depth and side stand in the plane at the pin: along the geodesic from the ball (long +) and
    across it (right +, as the player sees it). NaN where a place is unknown; depth and side also
    where ball and pin are the same place, which makes no line.
    """
    # 60 ms that nobody waits for whose tables hold no positions
    from pyproj import Geod

    earth = Geod(ellps="WGS84")
    _, back, distance = earth.inv(*_crossed(ball), *_crossed(pin))
    away, _, miss = earth.inv(*_crossed(pin), *_crossed(finish))
    miss = np.asarray(miss)
    turn = np.radians(np.asarray(away) - (np.asarray(back) + 180))
    line = np.where(np.asarray(distance) > 0, 1.0, np.nan)
    feet = np.column_stack([distance, miss * np.cos(turn) * line, miss * np.sin(turn) * line])
    return feet / M_PER_FT


def _crossed(places: Degrees) -> tuple[list[float], list[float]]:
    """Return longitudes and latitudes as lists: an array of one place the library takes amiss."""
    return places[:, 1].tolist(), places[:, 0].tolist()
