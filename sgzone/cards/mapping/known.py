"""What headers and words mean without a mapping: what a guess leans on."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from sgzone.cards.mapping.content import table_of
from sgzone.cards.tolerant import wording
from sgzone.cards.tolerant.units import without_unit
from sgzone.cards.tolerant.wording import folded as folded
from sgzone.cards.tolerant.wording import header_names as header_names
from sgzone.cards.tolerant.wording import lie_read
from sgzone.terms import HOLED


def bare(header: str) -> str:
    """Return a header as it is looked up, without its unit.

    >>> bare("Dist (yds)")
    'dist'
    """
    return folded(without_unit(header)[0]) or folded(header)


@cache
def words_read(name: str) -> Mapping[str, str]:
    """Return what each word may be read as in a column, by its folded text."""
    return wording.words_read(table_of(name), name)


def meaning(name: str, word: str) -> str:
    """Return the word of ours that a cell is read as, blank where that is none or not sure.

    >>> meaning("lie", "in the bunker"), meaning("lie", "trees")
    ('sand', '')
    """
    found = lie_read(word) if name.endswith("lie") else None
    found = found or words_read(name).get(folded(word))
    if not found and name == "to_lie" and words_read("result").get(folded(word)) == HOLED:
        return HOLED
    return found or ""
