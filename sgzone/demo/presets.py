"""Ready-made players. All invented; the tour-level one lands on the published tour curve."""

from __future__ import annotations

from dataclasses import replace

from sgzone.demo.clubs import STOCK_BAG
from sgzone.demo.player import Effect, LongGame, Player, Putting

LONG_HITTER_YD = 15.0  # farther than the average; common practice, no source


def tour_level() -> Player:
    """Return the player whose strokes are worth what the published tour curve says."""
    return Player(bag=STOCK_BAG)


def long_hitter() -> Player:
    """Return a tour-level player who drives farther than most."""
    usual = LongGame()
    longer = replace(
        usual,
        drive_yd=usual.drive_yd + LONG_HITTER_YD,
        advance_yd=usual.advance_yd + LONG_HITTER_YD,
    )
    return replace(tour_level(), name="tour-level, long-hitting", long_game=longer)


STRONG_AMATEUR_GAME = LongGame(
    drive_yd=248.0,
    drive_sd_yd=16.0,
    drive_angle_deg=4.4,
    reach_yd=215.0,
    reach_rough_yd=180.0,
    advance_yd=205.0,
    advance_rough_yd=165.0,
    layup_yd=85.0,
)


def strong_amateur(name: str = "strong amateur", *effects: Effect) -> Player:
    """Return a good club player with one even handicap everywhere, plus the effects given."""
    even = Effect(depth_spread=1.18, side_spread=1.18)
    return Player(
        name=name,
        effects=(even, *effects),
        putting=Putting(direction_deg=1.17, distance_share=0.098),
        long_game=STRONG_AMATEUR_GAME,
        bag=STOCK_BAG,
        mishits=1.3,
        trees=0.15,
        unplayable=0.04,
        wind_spread=0.006,
    )


PART_SWINGS_SHORT = (
    Effect(swing="half", depth_spread=1.45, depth_bias=-0.06),
    Effect(swing="three-quarter", depth_spread=1.3, depth_bias=-0.04),
)
WEAK_SAND = (Effect(lie="sand", high_yd=50.0, depth_spread=1.4, side_spread=1.2, depth_bias=-0.05),)
SLIGHTLY_LEFT = (Effect(low_yd=30.0, side_bias=-0.015),)

DEMO_NAME = "Wrenna Oddlethorpe"
"""Nobody's name."""


def demo_player() -> Player:
    """Return the demo season's player: part swings short and scattered, weak sand, a bit left."""
    return strong_amateur(DEMO_NAME, *PART_SWINGS_SHORT, *WEAK_SAND, *SLIGHTLY_LEFT)
