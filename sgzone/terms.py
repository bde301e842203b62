"""The ordered vocabularies: lies, bands, parts, measures, statuses. Each has one place.

Distances are in feet. A band or part holds its lower edge; the zone also holds its upper edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Any

HOLED = "holed"
HOLED_NUMBER = 8
"""What the season file keeps where a ball's next place is the hole; the lies have the others."""

ZONE_FT = 450.0
"""The zone: strokes that start 150 yards or less from the hole."""

MAX_OFF_GREEN_FT = 2100.0
MAX_PUTT_FT = 200.0
SURE_PUTT_FT = 30.0
"""A hole's last row farther than this must say how the hole ended."""

TEE, FAIRWAY, ROUGH, SAND = "tee", "fairway", "rough", "sand"
RECOVERY, FRINGE, GREEN = "recovery", "fringe", "green"


@dataclass(frozen=True, slots=True)
class Lie:
    """Where a ball lay before a stroke, and all that follows from it.

    ``number``: what season files keep for it: never changed, never given to another lie.
    ``aliases``: what a card may call it; ``letter``: in short; ``abroad``: in other languages, each
    word behind its own. ``swing``: the lie whose swings those from here count with; none where the
    ball is not aimed with a swing. ``near``: on the green or beside it, so lengths are said in feet
    and a club's shots leave it out. ``bare_unit``: of a bare number on a card; none where it could
    be yards or feet. ``leans_on``: the lies whose curve of expected strokes stands below its own
    first knot, the first that the benchmark has; none: the first value holds down to 0 ft.
    ``mean_of``: the lies whose mean is its curve where nothing is published for it.
    """

    name: str
    number: int
    aliases: tuple[str, ...]
    letter: str = ""
    abroad: tuple[str, ...] = ()
    swing: str | None = None
    near: bool = False
    bare_unit: str | None = "yd"
    farthest_ft: float = MAX_OFF_GREEN_FT
    leans_on: tuple[str, ...] = (GREEN,)
    mean_of: tuple[str, ...] = ()


EVERY_LIE = (
    Lie(
        TEE,
        1,
        ("tee box", "teebox", "teeing ground", "teeing area", "tee shot"),
        letter="t",
        abroad=("de:abschlag", "fr:départ", "es:salida", "sv:utslag"),
        swing=FAIRWAY,
        leans_on=(FAIRWAY, GREEN),
    ),
    Lie(
        FAIRWAY,
        2,
        ("fw", "fwy", "fway", "fair way", "short grass"),
        letter="f",
        abroad=("es:calle",),
        swing=FAIRWAY,
    ),
    Lie(
        ROUGH,
        3,
        (
            *("first cut", "1st cut", "second cut", "2nd cut", "semi", "semi-rough", "semi rough"),
            *("light rough", "heavy rough", "deep rough", "thick rough", "long grass"),
        ),
        letter="r",
        abroad=("de:semirough", "sv:ruff", "sv:semiruff"),
        swing=ROUGH,
    ),
    Lie(
        SAND,
        4,
        ("bunker", "greenside bunker", "fairway bunker", "trap", "sand trap", "greenside sand"),
        letter="s",
        abroad=("de:sandbunker", "es:búnker", "es:arena", "fr:sable"),
        swing=SAND,
    ),
    Lie(RECOVERY, 5, ("blocked", "punch out"), letter="v"),
    Lie(
        FRINGE,
        6,
        ("apron", "collar", "frog hair", "fringe of the green"),
        letter="e",
        abroad=("de:vorgrün", "fr:avant-green", "fr:avant green", "es:antegreen", "sv:foregreen"),
        swing=FAIRWAY,
        near=True,
        bare_unit=None,
        mean_of=(GREEN, FAIRWAY),
    ),
    Lie(
        GREEN,
        7,
        ("putt", "putting green", "on green", "on the green"),
        letter="g",
        abroad=("de:grün", "sv:på green"),
        near=True,
        bare_unit="ft",
        farthest_ft=MAX_PUTT_FT,
        leans_on=(),
    ),
)
"""In the order they are shown in. Every list of lies is made of these."""

LIE = {lie.name: lie for lie in EVERY_LIE}
LIES = tuple(LIE)
LIE_CODE = {lie: code for code, lie in enumerate(LIES)}
LIE_ALIASES = {alias: lie.name for lie in EVERY_LIE for alias in lie.aliases}
LIE_LETTERS = {lie.letter: lie.name for lie in EVERY_LIE if lie.letter}
LIES_ABROAD = {word.partition(":")[2]: lie.name for lie in EVERY_LIE for word in lie.abroad}

SWING_LIE = {lie.name: lie.swing for lie in EVERY_LIE if lie.swing}
"""Lie -> the lie whose swings its own count with."""
SWING_LIES = tuple(dict.fromkeys(SWING_LIE.values()))
AIMED_LIES = tuple(SWING_LIE)
"""Off-green lies from which the hole is the target; of a blocked ball it is not."""
BLOCKED_LIES = tuple(lie for lie in LIES if lie not in (*AIMED_LIES, GREEN))
TURF_LIES = tuple(lie for lie, swing in SWING_LIE.items() if swing != SAND)
SAND_LIES = tuple(lie for lie, swing in SWING_LIE.items() if swing == SAND)
NEAR_LIES = tuple(lie.name for lie in EVERY_LIE if lie.near)
"""The green and what is beside it: lengths there are said in feet."""
CLUB_LIES = tuple(lie for lie in AIMED_LIES if lie not in NEAR_LIES)
"""Where a club's shots are counted from."""
WATER = "water"
AROUND = (*SWING_LIES, WATER)
"""What can lie on a side of a green."""

MEASURED = ("laser", "gps", "paced", "book", "guess")


@dataclass(frozen=True, slots=True)
class Band:
    """A range of start distances, ``low_ft <= d < high_ft`` (the last off-green one is closed)."""

    name: str
    low_ft: float
    high_ft: float
    on_green: bool

    def holds(self, distance_ft: Any) -> Any:
        """Return whether it takes in a distance, or each of an array of distances."""
        return _between(self, distance_ft)


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

    def holds(self, distance_ft: Any) -> Any:
        """Return whether it takes in a distance, or each of an array of distances."""
        return _between(self, distance_ft)


def _between(of: Band | Part, distance_ft: Any) -> Any:
    """Return whether a range holds distances: its lower edge, and the upper one of the zone."""
    inside = (distance_ft >= of.low_ft) & (distance_ft < of.high_ft)
    return inside | (distance_ft == ZONE_FT) if of.high_ft == ZONE_FT else inside


PARTS = (
    Part("approach_100_150", "approach 100-150 yd", (*TURF_LIES, *SAND_LIES), 300, ZONE_FT),
    Part("wedge_50_100", "wedge 50-100 yd", (*TURF_LIES, *SAND_LIES), 150, 300),
    Part("pitch_30_50", "pitch 30-50 yd", TURF_LIES, 90, 150),
    Part("chip_0_30", "chip 0-30 yd", TURF_LIES, 0, 90),
    Part("sand_0_50", "sand 0-50 yd", SAND_LIES, 0, 150),
    Part("recovery", "recovery", BLOCKED_LIES, 0, ZONE_FT, practised=False),
    Part("putt_0_10", "putts 0-10 ft", (GREEN,), 0, 10),
    Part("putt_10_30", "putts 10-30 ft", (GREEN,), 10, 30),
    Part("putt_30_up", "putts 30 ft and up", (GREEN,), 30, inf),
)
PART_NAMES = tuple(part.name for part in PARTS)
PART_WORDS = {part.name: part.words for part in PARTS}

CAUSE_WORDS = {
    "long_short_bias": "usual miss: short or long",
    "long_short_spread": "distance control",
    "left_right_bias": "usual miss: left or right",
    "left_right_spread": "line",
    "penalty": "penalties",
    HOLED: "holed out",
    FRINGE: "from the fringe",
    "direction_unknown": "miss not written down",
    "rest": "other",
    "total": "total",
}
"""The factors of a loss, in order, in words for players and coaches."""

BENCHMARK_NAMES = ("tour", "scratch", "amateur-80", "amateur-90", "amateur-100")
WOMEN_NAMES = ("women-scratch", "women-bogey")
"""Levels whose curve differs from 50 yards out only."""
AUTO = "auto"
"""Not a benchmark: asks for the one of ``BENCHMARK_NAMES`` nearest to a player's whole game."""

KNOT_STATUSES = ("published", "fitted", "derived", "extrapolated", "uncertain")

MIN_SHOTS = 10
MIN_ROUNDS = 5
NOT_ENOUGH = "not enough shots"
DEFAULT_LEVEL = 0.80


SHARE, FEET = "share", "ft"


@dataclass(frozen=True, slots=True)
class Measure:
    """What an agreement may count: in words, in which unit, and whether more of it is better.

    ``noun``: one of what is looked at, a putt or a try.
    ``on_green``: whether the strokes that count are putts, so that their lengths are said in feet;
    ``low_ft``, ``high_ft``: the start distances it takes in where nothing narrower was agreed.
    """

    name: str
    words: str
    noun: str
    unit: str
    more: bool
    on_green: bool
    low_ft: float
    high_ft: float

    def better(self, change: Any) -> Any:
        """Return a change, or an array of them, with a plus where the player is better off."""
        return change if self.more else -change


MEASURES = (
    Measure("holed", "putts holed", "putt", SHARE, True, True, 0, MAX_PUTT_FT),
    Measure("up_and_down", "up-and-downs", "try", SHARE, True, False, 0, 150),
    Measure("sand_save", "sand saves", "try", SHARE, True, False, 0, 150),
    Measure("green_hit", "greens hit", "shot", SHARE, True, False, 0, ZONE_FT),
    Measure("proximity", "median proximity", "shot", FEET, False, False, 0, ZONE_FT),
    Measure("three_putt", "three-putts", "green", SHARE, False, True, 0, MAX_PUTT_FT),
    Measure("short_miss", "shots that finished short", "shot", SHARE, False, False, 0, ZONE_FT),
)
MEASURE = {measure.name: measure for measure in MEASURES}

FINISH_SLACK_FT = 3.0  # common practice, no source: how far two honest paces may differ
FINISH_SLACK_SHARE = 0.2
"""By how much a noted depth and side may differ from the next place: the greater of the two."""
