"""A bag of swings with known patterns."""

from __future__ import annotations

import numpy as np

from sgzone.clubs.options import Swings


def known_swings(
    carry=(84.0, 97.0, 110.0),
    depth_sd=0.06,
    side_sd=0.05,
    release=0.0,
    side_lean=0.0,
    shots=40,
    swing="full",
    club=None,
) -> Swings:
    """Return swings A, B, ... whose every parameter is as good as certain; shares of distance."""
    n = len(carry)

    def each(value):
        return np.broadcast_to(np.asarray(value, float), n).copy()

    names = [chr(65 + k) for k in range(n)] if club is None else club
    return Swings(
        club=np.array(names, dtype=object),
        swing=np.broadcast_to(np.asarray(swing, dtype=object), n).copy(),
        carry_yd=np.asarray(carry, float),
        release_yd=each(release),
        depth_sd=each(depth_sd),
        side_sd=each(side_sd),
        df=each(1e6),
        curve_sd=each(0.0),
        side_lean=each(side_lean),
        carry_sd=each(1e-6),
        side_lean_sd=each(1e-6),
        shots=np.broadcast_to(np.asarray(shots), n).astype(np.int64).copy(),
    )
