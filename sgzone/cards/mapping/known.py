"""What headers and words mean without a mapping: what a guess leans on."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from sgzone.cards.columns import columns_of
from sgzone.cards.mapping.content import spec_of
from sgzone.cards.mapping.schema import plain
from sgzone.terms import LIE_ALIASES, PART_WORDS
from sgzone.units import UNIT_WORDS


def folded(text: str) -> str:
    """Return a text as it is compared with others."""
    return plain(text).replace("_", " ")


@cache
def header_names(kind: str) -> Mapping[str, tuple[str, ...]]:
    """Return what each header may stand for in a table of one kind, by its folded text."""
    return {folded(column.name): (column.name,) for column in columns_of(kind)}


@cache
def words_read(name: str) -> Mapping[str, str]:
    """Return what each word may be read as in a column, by its folded text."""
    found = {folded(word): word for word in spec_of(name).words}
    if name.endswith("lie"):
        found |= {folded(said): lie for said, lie in LIE_ALIASES.items()}
    if name == "unit":
        found |= UNIT_WORDS
    if name == "part":
        found |= {folded(said): part for part, said in PART_WORDS.items()}
    return found
