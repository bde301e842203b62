"""Exact units of length. Feet are the inner unit: every band edge and knot is a whole foot."""

from __future__ import annotations

import re
from typing import Literal

Units = Literal["yards", "metric"]
"""In which lengths are shown: yards, and feet near the hole; or metres."""

FT_PER_YD = 3
M_PER_YD = 0.9144  # exact by definition
M_PER_FT = 0.3048  # exact by definition

FT_PER = {"ft": 1.0, "yd": 3.0, "m": 1 / M_PER_FT}

FT_DECIMALS = 9
"""Lengths are rounded to this many decimals of a foot on entry.

137.16 m is 150 yd by definition; without the rounding it would land one
floating-point step off the edge of a band.
"""


def to_ft(value: float, unit: str) -> float:
    """Convert a length in ``yd``, ``ft`` or ``m`` to feet, rounded to ``FT_DECIMALS``.

    >>> to_ft(137.16, "m")
    450.0
    """
    if unit == "m":
        return round(value / M_PER_FT, FT_DECIMALS)
    return round(value * FT_PER[unit], FT_DECIMALS)


def from_ft(value: float, unit: str) -> float:
    """Convert feet to ``yd``, ``ft`` or ``m``.

    >>> from_ft(450.0, "yd")
    150.0
    """
    if unit == "m":
        return value * M_PER_FT
    return value / FT_PER[unit]


UNIT_WORDS = {
    **dict.fromkeys(("yd", "yds", "y", "yard", "yards"), "yd"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
}
"""How a unit may be written -> the unit."""

_QUOTES = str.maketrans({"’": "'", "′": "'", "”": '"', "″": '"'})
_LENGTH = re.compile(r"(\d+(?:\.\d*)?|\.\d+)\s*([a-z']*)")
_FEET_INCHES = re.compile(r"(\d+)\s*(?:'|ft)\s*(\d+(?:\.\d+)?)\s*(?:\"|''|in)?")
_INCHES_PER_FT = 12


def split_distance(text: str) -> tuple[float, str | None]:
    """Return the number of one written distance and its unit, None where it has none.

    Reads ``87``, ``87.5 yd``, ``80m``, ``14 ft`` and feet and inches, ``7'10"``. Raises
    ValueError, saying what is wrong with the text, for anything else.

    >>> split_distance("80m")
    (80.0, 'm')
    """
    plain = text.strip().lower().translate(_QUOTES)
    if "," in plain:
        raise ValueError(f"{text!r} has a comma; write a decimal point, as in 87.5")
    if match := _FEET_INCHES.fullmatch(plain):
        feet, inches = float(match[1]), float(match[2])
        if inches >= _INCHES_PER_FT:
            raise ValueError(f"{text!r} has 12 inches or more")
        return feet + inches / _INCHES_PER_FT, "ft"
    match = _LENGTH.fullmatch(plain)
    if match is None or (match[2] and match[2] not in UNIT_WORDS):
        raise ValueError(f"{text!r} is not a distance; write 87, 87 yd, 80 m, 14 ft or 7'10\"")
    return float(match[1]), UNIT_WORDS[match[2]] if match[2] else None


def parse_distance(text: str, default_unit: str) -> float:
    r"""Return the feet of one written distance; a bare number is in ``default_unit``.

    ``default_unit`` is ``yd``, ``ft`` or ``m``. Raises ValueError as ``split_distance``.

    >>> parse_distance("7'10\"", "ft")
    7.833333333
    """
    value, unit = split_distance(text)
    return to_ft(value, unit or default_unit)
