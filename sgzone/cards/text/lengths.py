"""How a length is written so that it is read back as the very same."""

from __future__ import annotations

from sgzone.terms import LIE
from sgzone.units import FT_DECIMALS, from_ft, parse_distance

_SHORT = 1  # decimals of a bare number


def length(feet: float, lie: str | None) -> tuple[str, bool]:
    """Return the shortest text of a length, and whether it is a bare number.

    ``feet``: as they are stored. ``lie``: whose bare number may be written, in yards or feet; None:
    the unit is written. Bare numbers have one decimal at most.

    >>> length(336.0, "fairway"), length(14.0, "fairway"), length(3.5, None)
    (('112', True), ('14 ft', False), ('3.5 ft', False))
    """
    unit = LIE[lie].bare_unit if lie is not None else None
    if unit is not None and (text := _exact(feet, unit, _SHORT)):
        return text, True
    for places in (_SHORT, FT_DECIMALS, 2 * FT_DECIMALS):
        for other in ("ft", "yd", "m"):
            if text := _exact(feet, other, places):
                return f"{text} {other}", False
    return f"{feet!r} ft", False


def _exact(feet: float, unit: str, most: int) -> str | None:
    """Return the number in a unit with as few decimals as bring the length back, or None."""
    value = from_ft(feet, unit)
    for places in range(most + 1):
        text = f"{value:.{places}f}"
        if float(text) > 0 and parse_distance(text, unit) == feet:
            return text
    return None
