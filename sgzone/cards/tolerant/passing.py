"""Rows that are no part of a table: totals, titles, the header once more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sgzone.cards.tolerant.header import Header, is_same
from sgzone.cards.tolerant.wording import LONGEST, folded

TOTALS = frozenset(
    {
        *("total", "totals", "subtotal", "sum", "average", "mean", "out", "in", "grand total"),
        *("front nine", "back nine", "front 9", "back 9", "total out", "total in", "score"),
        *("gesamt", "summe", "zwischensumme", "hinweg", "ruckweg", "mittelwert", "total aller"),
        *("somme", "sous total", "aller", "retour", "moyenne", "suma", "ida", "vuelta", "media"),
        *("summa", "delsumma", "medel", "ut", "totalt", "totaal"),
    }
)
"""First words of rows that add up what stands above them; folded."""

ADDED_UP = frozenset({"total", "totals", "subtotal", "sum", "average", "gesamt", "summe", "summa"})
"""Those that nobody is called."""

_BLANK_IN = {"shot": {"lie", "distance"}, "log": {"part"}, "test": {"target_yd"}, "bag": {"club"}}
"""Kind -> columns that are blank in a row of totals: whatever fills them is read."""
REMARKS = frozenset({"result", "note", "club", "swing", "event", "course", "penalty"})
"""Columns where such a word is none of a total: a ball is in, or out of bounds."""


@dataclass(frozen=True, slots=True)
class Passed:
    """Rows of a sheet, by their numbers: those of the table, and what the others are.

    ``strokes`` stand above the header, and yet they have what no title has.
    """

    kept: list[int]
    titles: list[int]
    strokes: list[int]
    totals: list[int]
    headers: list[int]


def pass_over(grid: Sequence[Sequence[str]], header: Header) -> Passed:
    """Sort the filled rows of a sheet; blank ones are left out without a word."""
    blank_in = _BLANK_IN[header.kind]
    places = [n for n, one in enumerate(header.headings) if blank_in & set(one.names)]
    labels = [n for n, one in enumerate(header.headings) if not REMARKS & set(one.names)]
    passed = Passed([], [], [], [], [])
    for number, row in enumerate(grid, 1):
        if number == header.row or not any(cell.strip() for cell in row):
            continue
        if number < header.row:
            above = passed.strokes if _is_full(row, places) else passed.titles
            above.append(number)
        elif is_same(header.headings, row):
            passed.titles.extend(_titles_above(grid, passed.kept, number, places))
            passed.headers.append(number)
        elif _is_total(row, places, labels):
            passed.totals.append(number)
        else:
            passed.kept.append(number)
    return passed


def _is_total(row: Sequence[str], places: Sequence[int], labels: Sequence[int]) -> bool:
    """Return whether a row says at ``labels`` that it is a total and has nothing at ``places``."""
    if not places or any(place < len(row) and row[place].strip() for place in places):
        return False
    said = (row[n] for n in labels if n < len(row) and 0 < len(row[n]) <= LONGEST)
    return any(folded(cell) in TOTALS for cell in said)


def _is_full(row: Sequence[str], places: Sequence[int]) -> bool:
    """Return whether a row has something at each of some places."""
    return bool(places) and all(place < len(row) and row[place].strip() for place in places)


def _titles_above(
    grid: Sequence[Sequence[str]], kept: list[int], number: int, places: Sequence[int]
) -> list[int]:
    """Take back the rows straight above a second header that are a title of what is below it."""
    titles: list[int] = []
    while kept and kept[-1] == number - 1 and places:
        row = grid[kept[-1] - 1]
        alone = sum(1 for cell in row if cell.strip()) == 1
        if not alone or any(place < len(row) and row[place].strip() for place in places):
            break
        titles.append(kept.pop())
        number -= 1
    return titles
