"""The example text card: how it is written, and how it is known again. It loads as nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from sgzone.cards.example import PLAYER
from sgzone.cards.given import NOTHING
from sgzone.cards.grid import fatal
from sgzone.cards.text.card import card_of, rows_of
from sgzone.errors import DataError

EXAMPLE = f"""\
# A line a hole: its number, then where the ball lay before each stroke, and how far it was.
# t tee, f fairway, r rough, s sand, v recovery, e fringe (30ft or 10yd): yards. 18 alone: feet on
# the green. /50 club, /h half swing (q three-quarter, f full), * a penalty, ! holed from there,
# c given, x picked up, (-8,4) where it finished: 8 ft short, 4 ft right. # and a note.
# Below is an example: it loads as nothing while its player is {PLAYER}.
{PLAYER}, 14 May 2026, Home, practice
1 f112/50 18 2
2 r135 s14 e30ft 2c
3 f60* r75/58/h(-8,4) 9 1
4 3rd r140 x
5 par3 t143/8i wind=into 33 3
"""
_KNOWN_BY = ("hole", "shot", "lie", "distance")


def is_example(row: Mapping[str, str]) -> bool:
    """Return whether a row names the player of the example."""
    return " ".join(row.get("player", "").lower().split()) == PLAYER


def as_written(row: Mapping[str, str]) -> bool:
    """Return whether a row of the example is as it was, by what a stroke is."""
    return tuple(row.get(name) for name in _KNOWN_BY) in _strokes()


@cache
def _strokes() -> frozenset[tuple[str | None, ...]]:
    holes = card_of(EXAMPLE, NOTHING).holes
    return frozenset(
        tuple(row.get(name) for name in _KNOWN_BY) for hole in holes for row in rows_of(hole)
    )


def nothing_else(file: str, lines: Sequence[int]) -> DataError:
    """Return the error of a card that holds no stroke beside the example."""
    return fatal(
        file,
        "there are no strokes yet, only the example hole",
        f"Write the player's name over {PLAYER}, and your strokes over its holes.",
        row=min(lines),
    )
