"""Small cards with start and finish in one row, each breaking one rule of the finish."""

from __future__ import annotations

from tests.season.cardfiles import HEADER, card_text

WITH_FINISH = HEADER + ",to_lie,to_distance,unit"


def finish_text(*rows: str) -> str:
    """Return a card: ``1,1,fairway,100,,,green,20``."""
    return card_text(*rows, header=WITH_FINISH)


def ended(finish: str) -> str:
    """Return a card of one stroke with a finish: ``green,20``."""
    return finish_text(f"1,1,fairway,100,,,{finish}")


def followed(finish: str, after: str = "green,20") -> str:
    """Return a card of a stroke with a finish and the putt that follows it."""
    return finish_text(f"1,1,fairway,100,,,{finish}", f"1,2,{after}")


FINISH_ERRORS = {
    "finish: lie": (ended("gren,20"), 2, "to_lie", "not a known word for to_lie"),
    "finish: words": (ended("green,far"), 2, "to_distance", "not a distance"),
    "finish: below 0": (ended("green,-3"), 2, "to_distance", "not a distance"),
    "finish: comma": (ended('green,"7,5",'), 2, "to_distance", "a comma inside"),
    "finish: fringe": (ended("fringe,12"), 2, "to_distance", "could be feet or yards"),
    "finish: whose unit": (ended("green,12,yd"), 2, "to_distance", "is the unit of this row (yd)"),
    "finish: holed at 4": (ended("holed,4"), 2, "to_distance", "to_lie says holed"),
    "finish: putt of 201 ft": (ended("green,201"), 2, "to_distance", "a putt over 200 ft"),
    "finish: 701 yd": (ended("rough,701"), 2, "to_distance", "over 700 yd"),
    "finish: no lie": (ended(",20 ft"), 2, "to_lie", "says 20 ft, but not what the ball lay on"),
    "finish: no distance": (ended("green,"), 2, "to_distance", "says green, but not how far"),
    "finish: of no stroke": (
        finish_text("1,1,fairway,100", "1,2,green,20,,conceded,holed,"),
        3,
        "to_lie",
        "no stroke is played on a conceded row",
    ),
    "finish: holed elsewhere": (
        finish_text("1,1,fairway,100,,holed,green,20"),
        2,
        "to_lie",
        "the result says holed, to_lie says green",
    ),
    "finish: ball lost": (
        finish_text("1,1,fairway,100,,,green,20", "1,2,,,,picked_up"),
        2,
        "to_lie",
        "to_lie says green, the next row (3) says the ball was lost",
    ),
    "finish: another lie": (
        followed("green,20", "fringe,20 ft,,holed"),
        2,
        "to_lie",
        "to_lie says green, the next row (3) starts from fringe",
    ),
    "finish: holed, then a putt": (
        followed(",0"),
        2,
        "to_lie",
        "to_lie says holed, the next row (3) starts from green",
    ),
    "finish: another distance": (
        followed("green,22"),
        2,
        "to_distance",
        "to_distance is 22.0 ft, the next row (3) starts 20.0 ft from the hole",
    ),
}

FINISH_FINE = {
    "finish: on the green": ended("green,20"),
    "finish: an alias, and yards": ended("Bunker,12"),
    "finish: holed": ended("holed,"),
    "finish: holed at 0": ended("green,0"),
    "finish: 0 alone": ended(",0"),
    "finish: holed and 0": ended("holed,0"),
    "finish: with the result": finish_text("1,1,fairway,100,,holed,holed,"),
    "finish: unit in the cell": ended("fringe,12 ft"),
    "finish: unit of the row": ended("fringe,12,ft"),
    "finish: as the next row": followed("green,20"),
    "finish: rounded as the next row": followed("green,7 yd"),
    "finish: lie alone, then the next row": followed("green,"),
    "finish: a drop elsewhere": finish_text(
        "1,1,fairway,100,1,,recovery,60", "1,2,rough,40", "1,3,green,20"
    ),
}
