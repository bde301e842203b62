"""Which club and swing a simulated player takes for a number."""

from __future__ import annotations

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from sgzone.demo.player import Player, Stock, Words
from sgzone.terms import LIE_CODE

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

CHIP_YD = 30.0  # nearer than this no stock swing is meant: a chip has a club and no swing
SAND_YD = 50.0
MIND_YD = 4.0  # how far a player's liking may outweigh the closer of two stock carries

PUTTER = "putter"

_FULL_YD = (
    *(("58", 78.0), ("54", 92.0), ("50", 106.0), ("46", 119.0)),
    *(("9i", 131.0), ("8i", 143.0), ("7i", 155.0)),
)
_PART_SWINGS = (("three-quarter", 0.85), ("half", 0.62))
_WEDGES = ("58", "54", "50", "46")

STOCK_BAG = (
    *(Stock(club, "full", carry) for club, carry in _FULL_YD),
    *(
        Stock(club, swing, round(share * carry))
        for club, carry in _FULL_YD
        if club in _WEDGES
        for swing, share in _PART_SWINGS
    ),
)
"""Invented stock carries (yd): full swings of every club, part swings of the wedges."""


def release_yd(swing: Words) -> Floats:
    """How far the ball runs after it lands (yd), by swing; a chip's run is not modelled."""
    out = np.zeros(len(swing))
    for name, run in (("full", 1.0), ("three-quarter", 2.0), ("half", 3.0)):
        out[swing == name] = run
    return out


def choose(
    rng: Generator, player: Player, lie: Ints, yards: Floats, effective: Floats
) -> tuple[Words, Words]:
    """Return club and swing for strokes off the green from ``yards`` that play ``effective`` yards.

    The stock swing nearest to the number, give or take a liking of a few yards; a wedge without a
    stock swing for chips and greenside sand. Strokes beyond the bag have no club.
    """
    n = len(yards)
    club = np.full(n, "", dtype=object)
    swing = np.full(n, "", dtype=object)
    if player.bag:
        carry = np.array([stock.carry_yd for stock in player.bag])
        gap = np.abs(effective[:, None] - carry) + np.abs(rng.normal(0, MIND_YD, (n, len(carry))))
        pick = gap.argmin(axis=1)
        club = np.array([stock.club for stock in player.bag], dtype=object)[pick]
        swing = np.array([stock.swing for stock in player.bag], dtype=object)[pick]
        beyond = effective > carry.max() + 2 * MIND_YD
        club[beyond], swing[beyond] = "", ""
    sand = lie == LIE_CODE["sand"]
    chip = (yards < CHIP_YD) | (sand & (yards < SAND_YD))
    swing[chip] = ""
    club[chip & (yards < CHIP_YD / 2)] = "58"
    club[chip & (yards >= CHIP_YD / 2)] = "54"
    club[chip & sand] = "58"
    return club, swing
