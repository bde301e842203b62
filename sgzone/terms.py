"""The ordered vocabularies: lies, bands, parts, statuses. Each is defined here and nowhere else.

Distances are in feet. A band or part holds its lower edge; the zone also holds its upper edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

LIES = ("tee", "fairway", "rough", "sand", "recovery", "fringe", "green")
LIE_CODE = {lie: code for code, lie in enumerate(LIES)}
HOLED = "holed"

LIE_ALIASES = {
    "tee box": "tee",
    "teeing ground": "tee",
    "teeing area": "tee",
    "fw": "fairway",
    "short grass": "fairway",
    "first cut": "rough",
    "semi-rough": "rough",
    "semi rough": "rough",
    "light rough": "rough",
    "heavy rough": "rough",
    "deep rough": "rough",
    "bunker": "sand",
    "greenside bunker": "sand",
    "fairway bunker": "sand",
    "trap": "sand",
    "blocked": "recovery",
    "punch out": "recovery",
    "apron": "fringe",
    "collar": "fringe",
    "frog hair": "fringe",
    "putt": "green",
    "putting green": "green",
    "on green": "green",
}

RESULTS = ("holed", "conceded", "picked_up")
MEASURED = ("laser", "gps", "paced", "book", "guess")

ZONE_FT = 450.0
"""The zone: strokes that start 150 yards or less from the hole."""

MAX_OFF_GREEN_FT = 2100.0
MAX_PUTT_FT = 200.0
SURE_PUTT_FT = 30.0
"""A hole's last row farther than this must say how the hole ended."""


@dataclass(frozen=True, slots=True)
class Band:
    """A range of start distances, ``low_ft <= d < high_ft`` (the last off-green one is closed)."""

    name: str
    low_ft: float
    high_ft: float
    on_green: bool


BANDS = (
    Band("0-10 yd", 0, 30, False),
    Band("10-20 yd", 30, 60, False),
    Band("20-30 yd", 60, 90, False),
    Band("30-50 yd", 90, 150, False),
    Band("50-75 yd", 150, 225, False),
    Band("75-100 yd", 225, 300, False),
    Band("100-125 yd", 300, 375, False),
    Band("125-150 yd", 375, ZONE_FT, False),
    Band("0-5 ft", 0, 5, True),
    Band("5-10 ft", 5, 10, True),
    Band("10-20 ft", 10, 20, True),
    Band("20-30 ft", 20, 30, True),
    Band("30-60 ft", 30, 60, True),
    Band("60+ ft", 60, inf, True),
)
BAND_NAMES = tuple(band.name for band in BANDS)

OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class Part:
    """A unit of practice: the lies and the range of start distances it takes in."""

    name: str
    words: str
    lies: tuple[str, ...]
    low_ft: float
    high_ft: float
    practised: bool = True  # gets practice hours by default


_TURF = ("tee", "fairway", "rough", "fringe")

PARTS = (
    Part("approach_100_150", "approach 100-150 yd", (*_TURF, "sand"), 300, ZONE_FT),
    Part("wedge_50_100", "wedge 50-100 yd", (*_TURF, "sand"), 150, 300),
    Part("pitch_30_50", "pitch 30-50 yd", _TURF, 90, 150),
    Part("chip_0_30", "chip 0-30 yd", _TURF, 0, 90),
    Part("sand_0_50", "sand 0-50 yd", ("sand",), 0, 150),
    Part("recovery", "recovery", ("recovery",), 0, ZONE_FT, practised=False),
    Part("putt_0_10", "putts 0-10 ft", ("green",), 0, 10),
    Part("putt_10_30", "putts 10-30 ft", ("green",), 10, 30),
    Part("putt_30_up", "putts 30 ft and up", ("green",), 30, inf),
)
PART_NAMES = tuple(part.name for part in PARTS)
PART_WORDS = {part.name: part.words for part in PARTS}

CAUSE_WORDS = {
    "long_short_bias": "tends short/long",
    "long_short_spread": "spread short/long",
    "left_right_bias": "tends left/right",
    "left_right_spread": "spread left/right",
    "penalty": "penalty",
    "direction_unknown": "direction unknown",
    "rest": "not explained",
    "total": "total",
}
"""The factors of a loss, in order, in words for players and coaches."""

BENCHMARK_NAMES = ("tour", "scratch", "amateur-80", "amateur-90", "amateur-100")
WOMEN_NAMES = ("women-scratch", "women-bogey")
"""Levels whose curve differs from 50 yards out only."""

KNOT_STATUSES = ("published", "fitted", "derived", "extrapolated", "uncertain")

MIN_SHOTS = 10
MIN_ROUNDS = 5
NOT_ENOUGH = "not enough shots"
DEFAULT_LEVEL = 0.80
