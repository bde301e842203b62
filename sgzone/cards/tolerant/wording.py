"""Words as they are compared: without capitals, accents and signs; what each may mean."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache

from sgzone.cards.columns import column_of, columns_of
from sgzone.terms import LIE_ALIASES, LIE_LETTERS, LIES, LIES_ABROAD, PART_WORDS
from sgzone.units import UNIT_WORDS

_SIGNS = re.compile(r"[\s_\-/.,:;*?!'’´`\"()\[\]]+")
_NUMBER_SIGN = re.compile(r"#|n[°º]|№")
_NUMBER_WORDS = frozenset({"no", "nr", "num", "number", "nummer", "numero", "n"})
_LEADING = frozenset(
    {
        *("on", "in", "from", "the", "a", "left", "right", "im", "auf", "dem", "dans", "le", "la"),
        *("en", "el", "i", "pa"),
    }
)
LONGEST = 60  # letters of anything that is a word


def folded(text: str) -> str:
    """Return a text as it is compared with others.

    >>> folded("  Loch-Nr. ")
    'loch no'
    """
    apart = unicodedata.normalize("NFKD", _NUMBER_SIGN.sub(" no ", text.casefold()))
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign))
    words = _SIGNS.sub(" ", plain).split()
    return " ".join("no" if word in _NUMBER_WORDS else word for word in words)


@cache
def header_names(kind: str) -> Mapping[str, tuple[str, ...]]:
    """Return what each header may stand for in a table of one kind, by its folded text."""
    found: dict[str, tuple[str, ...]] = {}
    for column in columns_of(kind):
        said = {column.name.rpartition("_")[0] if column.unit else "", column.name}
        for words in (*said, *(spoken.words for spoken in column.headers)):
            if words and column.name not in (there := found.get(folded(words), ())):
                found[folded(words)] = (*there, column.name)
    # a column's own name is that column, whatever else it may be called
    return found | {folded(column.name): (column.name,) for column in columns_of(kind)}


@cache
def words_read(table: str, name: str) -> Mapping[str, str]:
    """Return what each word may be read as in a column of a table, by its folded text."""
    column = column_of(table, name)
    if column.name == "lie":
        told = LIES_ABROAD | LIE_LETTERS | LIE_ALIASES | {lie: lie for lie in LIES}
        return {folded(said): lie for said, lie in told.items()}
    if column.name == "part":
        return {folded(said): part for part, said in PART_WORDS.items()}
    found = {folded(word): word for word in column.words}
    if column.name == "unit":
        found |= UNIT_WORDS
    return found | {folded(said.words): word for said, word in column.synonyms.items()}


def lie_read(text: str) -> str | None:
    """Return the lie that a text names, None where it names none.

    >>> lie_read("in the left bunker")
    'sand'
    """
    known, words = words_read("shot", "lie"), folded(text).split()
    while words:
        if (lie := known.get(" ".join(words))) is not None:
            return lie
        if words[0] not in _LEADING:
            return None
        words = words[1:]
    return None
