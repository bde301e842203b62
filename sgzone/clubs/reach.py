"""Which swings come into question at a number, and how far each may be moved for it.

A full swing has little left in it: past a few percent more a player swings another swing, and a
longer club with less is the better answer. A part swing may be moved up by a step of the ladder, as
long as the club's own full swing has that much.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sgzone.cards.columns import columns_of as card_columns
from sgzone.clubs.options import Swings
from sgzone.clubs.stock import FEW

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FULL_MORE = 3.0
"""Percent of its carry that a full swing may be moved up; common practice, no source. A setting."""
NEAR_YD = 12.0
"""Stock swings that finish within this of the number are options; moved farther than a step of the
ladder a swing is another swing."""
FAR_YD = 25.0
"""Where none of those reaches, the next longer one is an option up to here, or else the longest, so
that a hole in the ladder has an answer."""
NEAREST = 6
REACHED_YD = 1.0
"""A finish this much short of the hole still reaches it."""
_NAMED = next(c.words for c in card_columns("shot") if c.name == "swing")
_FULL = _NAMED[0]


def full_swings(swings: Swings) -> NDArray[np.bool_]:
    """Return which swings are full ones.

    Those named so; a club's only swing that nobody named; and where a club has neither, the longest
    of the player's own words, which may mean the same.
    """
    full: NDArray[np.bool_] = np.isin(swings.swing, [_FULL, ""])
    without = ~np.isin(swings.club, swings.club[full])
    own = without & ~np.isin(swings.swing, _NAMED)
    for k in np.flatnonzero(own):
        longest = swings.carry_yd[without & (swings.club == swings.club[k])].max()
        full[k] = swings.carry_yd[k] >= longest
    return full


def most_more(swings: Swings, full_more: float) -> Floats:
    """Return by how many yards each swing may be moved up; ``full_more`` in percent."""
    full = full_swings(swings)
    beyond = swings.carry_yd * full_more / 100
    most = np.where(full, beyond, NEAR_YD)
    for k in np.flatnonzero(~full):
        own = full & (swings.club == swings.club[k])
        if own.any():
            longest = float((swings.carry_yd + beyond)[own].max())
            most[k] = min(NEAR_YD, max(longest - swings.carry_yd[k], 0.0))
    return most


def near_swings(swings: Swings, yards: float, full_more: float) -> tuple[Ints, bool]:
    """Return the rows of the swings that are options at a number, nearest first.

    And whether one of them reaches it. Swings under ``FEW`` shots are options only where no other
    reaches within a step of the ladder: a swing moved farther is no better known than they are.
    """
    away = np.abs(swings.finish_yd - yards)
    reaches = swings.finish_yd + most_more(swings, full_more) >= yards - REACHED_YD
    known = swings.shots >= FEW
    order = np.argsort(away, kind="stable")

    def some(which: NDArray[np.bool_], within: float, most: int = 1) -> Ints:
        return order[which[order] & (away[order] <= within)][:most]

    near = some(known, NEAR_YD, NEAREST)
    if reaches[near].any():
        return near, True
    for within, most in ((NEAR_YD, NEAREST), (FAR_YD, 1)):
        for others in (known, ~known):
            longer = some(others & reaches, within, most)
            if len(longer):
                both = np.append(near, longer)
                return both[np.argsort(away[both], kind="stable")][:NEAREST], True
    for others in (known, ~known):
        if not len(near):
            near = some(others, FAR_YD)
    return near, False
