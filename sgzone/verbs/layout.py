"""How a wide table goes on a narrow terminal: in blocks, one below the other, and never cut.

A number that loses its end is another number, so no column of numbers is ever folded or cut.
Headings fold to the width of their cells, long texts wrap, and what still does not fit stands
in a further block below, beside the same first columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

GAP = 2
LONG_TEXT = 28
"""A text column whose longest cell is wider may wrap; so wide it stays at least."""
MOST_KEYS = 4
NARROW_HEADING = 10

Rows = Sequence[Sequence[str]]


def folded(headings: Sequence[str], rows: Rows, most: int) -> list[str]:
    """Return the headings folded at words, each about as wide as its cells and ``most`` at most."""
    return [
        fill(heading, min(most, max(_widest(cells), _longest_word(heading), NARROW_HEADING)))
        for heading, cells in zip(headings, _columns(rows, len(headings)), strict=True)
    ]


def may_wrap(rows: Rows, sides: Sequence[str]) -> list[bool]:
    """Return which columns hold texts long enough to wrap."""
    cells = _columns(rows, len(sides))
    return [
        side == "left" and _widest(column) > LONG_TEXT
        for side, column in zip(sides, cells, strict=True)
    ]


def blocks(
    headings: Sequence[str], rows: Rows, sides: Sequence[str], width: int
) -> list[list[int]]:
    """Return the columns of each block, by place: one block where all of them fit.

    Each block starts with the key columns: as few from the left as tell the rows apart.
    ``headings``: folded. ``width``: of the terminal, in characters.
    """
    wrap = may_wrap(rows, sides)
    wide = [
        max(LONG_TEXT if wraps else _widest(cells), _widest(heading.split("\n")))
        for wraps, cells, heading in zip(wrap, _columns(rows, len(sides)), headings, strict=True)
    ]
    keys = list(range(_keys(rows, sides)))
    found: list[list[int]] = [[*keys]]
    for place in range(len(keys), len(sides)):
        taken = sum(wide[at] + GAP for at in found[-1])
        if taken + wide[place] > width and len(found[-1]) > len(keys):
            found.append([*keys])
        found[-1].append(place)
    return found


def _keys(rows: Rows, sides: Sequence[str]) -> int:
    for count in range(1, min(MOST_KEYS, len(sides)) + 1):
        if len({tuple(row[:count]) for row in rows}) == len(rows):
            return count
    return 1


def _columns(rows: Rows, count: int) -> list[Sequence[str]]:
    return [[row[place] for row in rows] for place in range(count)]


def _widest(texts: Sequence[str]) -> int:
    """Return the most places a text takes: a letter of some scripts takes two."""
    from rich.cells import cell_len

    return max(map(cell_len, texts), default=0)


def _longest_word(text: str) -> int:
    return _widest(text.split())
