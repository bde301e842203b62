"""Where a stroke finished, in round brackets: depth, then side, of the hole."""

from __future__ import annotations

import re

from sgzone.units import UNIT_WORDS, to_ft

_MOST_LETTERS = 60
_SIGNED = re.compile(r"([+-]?)\s*(\d+(?:\.\d+)?|\.\d+)\s*([a-z']*)\s*([a-z]*)")
_SIDES = {
    **dict.fromkeys(("long", "past", "over", "deep"), ("depth_ft", "")),
    **dict.fromkeys(("short",), ("depth_ft", "-")),
    **dict.fromkeys(("right", "r"), ("side_ft", "")),
    **dict.fromkeys(("left", "l"), ("side_ft", "-")),
}
_IN_WORDS = re.compile(r"(\d+(?:\.\d+)?)\s*([a-z']*?)\s*(long|past|over|deep|short|right|left)")


def read_miss(text: str, *, metres: bool) -> dict[str, str] | None:
    """Return the cells ``depth_ft`` and ``side_ft`` of what stands in round brackets, or None.

    Two numbers with a comma, the first or the second may be left out; or numbers with their words.
    Bare numbers are feet, in a card in metres metres.

    >>> read_miss("-8,4", metres=False), read_miss("12 short 4 right", metres=False)
    ({'depth_ft': '-8', 'side_ft': '4'}, {'depth_ft': '-12', 'side_ft': '4'})
    """
    plain = " ".join(text.lower().split())
    if len(plain) > _MOST_LETTERS:
        return None
    if any(sign.isalpha() for sign in plain) and (found := _words(plain, metres)):
        return found
    sides = re.split(r"\s*[,;]\s*", plain)
    if len(sides) != 2 or not any(sides):
        return None
    found = {}
    for name, side in zip(("depth_ft", "side_ft"), sides, strict=True):
        if side:
            value = _number(side, metres)
            if value is None:
                return None
            found[name] = value
    return found


def _number(text: str, metres: bool) -> str | None:
    match = _SIGNED.fullmatch(text)
    if not match or match[4]:
        return None
    feet = _feet(match[2], match[3], metres)
    return None if feet is None else f"{'-' if match[1] == '-' else ''}{feet}"


def _feet(number: str, unit: str, metres: bool) -> str | None:
    if not unit and not metres:
        return number
    if unit and unit not in UNIT_WORDS:
        return None
    word = UNIT_WORDS[unit] if unit else "m"
    return number if word == "ft" else repr(round(to_ft(float(number), word), 6))


def _words(plain: str, metres: bool) -> dict[str, str] | None:
    found: dict[str, str] = {}
    rest = plain
    for match in _IN_WORDS.finditer(plain):
        name, sign = _SIDES[match[3]]
        feet = _feet(match[1], match[2], metres)
        if feet is None or name in found:
            return None
        found[name] = f"{sign}{feet}"
        rest = rest.replace(match[0], " ", 1)
    left_over = re.sub(r"\band\b|[\s,;&+]", "", rest)
    return found if found and not left_over else None
