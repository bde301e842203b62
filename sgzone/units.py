"""Exact units of length. Feet are the inner unit: every band edge and knot is a whole foot."""

from __future__ import annotations

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
