"""Units as headers and cells write them."""

from __future__ import annotations

import re
from functools import cache

from sgzone.cards.tolerant.wording import folded, words_read
from sgzone.units import UNIT_WORDS

PACES = frozenset({"pace", "paces", "step", "steps", "schritte", "schritt", "pas", "pasos", "steg"})
_OTHERS = {
    **dict.fromkeys(("deg", "degree", "degrees", "grad", "°"), "deg"),
    **dict.fromkeys(("rpm", "u/min", "upm"), "rpm"),
    **dict.fromkeys(("mph",), "mph"),
    **dict.fromkeys(("min", "mins", "minutes", "minute"), "min"),
    **dict.fromkeys(("km/h", "kmh", "kph"), "km/h"),
    **dict.fromkeys(("m/s", "mps"), "m/s"),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), "h"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("cm",), "cm"),
}
_IN_BRACKETS = re.compile(r"(.*?)[\s_]*[(\[]([^()\[\]]*)[)\]]\s*$")
_BEHIND = re.compile(r"(.*\S)[\s_,]+([^\s_,]+)\s*$")
_IN = re.compile(r"[\s_,]+in$", re.IGNORECASE)
_BETWEEN = re.compile(r"[\s,;/&+]+")


@cache
def unit_of(word: str) -> str | None:
    """Return the unit that a word names, None where it is none.

    >>> unit_of("Yds."), unit_of("km/h")
    ('yd', 'km/h')
    """
    plain = word.strip().lower().strip(". ")
    if plain in PACES:
        return "yd"
    known = UNIT_WORDS.get(plain) or _OTHERS.get(plain)
    return known or words_read("shot", "unit").get(folded(plain) or "-")


def without_unit(header: str) -> tuple[str, frozenset[str]]:
    """Return a header without its unit, and the units it names; two for yards and feet.

    >>> without_unit("Dist (yds/ft)")[0]
    'Dist'
    """
    if match := _IN_BRACKETS.match(header):
        return match[1], _units_in(match[2])
    if (match := _BEHIND.match(header)) and (found := _units_in(match[2])):
        return _IN.sub("", match[1]), found
    alone = unit_of(header)
    return header, frozenset({alone} if alone else ())


def _units_in(text: str) -> frozenset[str]:
    whole = unit_of(text)
    if whole:
        return frozenset({whole})
    return frozenset(unit for word in _BETWEEN.split(text) if (unit := unit_of(word)))
