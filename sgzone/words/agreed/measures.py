"""What an agreement counts, in words and in the reader's units."""

from __future__ import annotations

import math
from typing import Any

from sgzone.review.agreed.observed import GAINED
from sgzone.terms import FEET, MEASURE, SHARE, Measure
from sgzone.units import FT_PER_YD
from sgzone.words.digits import number
from sgzone.words.say import Say

_PLURALS = {"try": "tries"}


def about(row: Any, say: Say) -> str:
    """Return what an agreement counts: ``putts holed from 4 to 5 ft``; empty where nothing.

    ``row``: of ``review.agreed.going.agreements``.
    """
    if isinstance(row.measure, str):
        measure = MEASURE[row.measure]
        return f"{measure.words}{_where(row, measure, say)}"
    return f"strokes gained, {say.part(row.part)}" if isinstance(row.part, str) else ""


def _where(row: Any, measure: Measure, say: Say) -> str:
    unit = "ft" if measure.on_green else "yd"
    low, high = (None if math.isnan(end) else _edge(end, unit, say) for end in _ends(row))
    if low is None and high is None:
        return ""
    if high is None:
        return f" from {low} {say.unit(unit)} and up"
    return f" from {low or '0'} to {high} {say.unit(unit)}"


def _ends(row: Any) -> tuple[float, float]:
    return float(row.from_ft), float(row.to_ft)


def _edge(feet: float, unit: str, say: Say) -> str:
    length = feet / (FT_PER_YD if unit == "yd" else 1) * say.factor(unit)
    return f"{round(length, 1):g}"


def noun(row: Any, n: float) -> str:
    """Return what is counted: ``120 putts``; in two digits where it is an estimate of many."""
    word = MEASURE[row.measure].noun if isinstance(row.measure, str) else "shot"
    if not isinstance(row.measure, str) and str(row.part).startswith("putt"):
        word = "putt"
    plural = word if n == 1 else _PLURALS.get(word, f"{word}s")
    return f"{n:,.0f} {plural}"


def value(of: float, unit: str, say: Say) -> str:
    """Return a value: ``79%``, ``19 ft``, ``−0.39``; empty where it is missing.

    >>> value(0.787, "share", Say()), value(19, "ft", Say("metric"))
    ('79%', '5.8 m')
    >>> value(-0.386, "per round", Say())
    '−0.39'
    """
    if of != of:
        return ""
    if unit == SHARE:
        return f"{100 * of:.0f}%"
    if unit == FEET:
        return say.length(of, FEET)
    return number(of, 2, signed=True)


def spread(low: float, high: float, unit: str, say: Say) -> str:
    """Return a range: ``52 to 69%``, ``18 to 21 ft``, ``−0.67 to −0.10``; empty for none."""
    if low != low or high != high:
        return ""
    ends = [value(end, unit, say) for end in (low, high)]
    if unit == GAINED:
        return " to ".join(ends)
    mark = "%" if unit == SHARE else f" {say.unit(FEET)}"
    return f"{ends[0].removesuffix(mark)} to {ends[1]}"


def step(of: float, unit: str, say: Say) -> str:
    """Return the size of a change: ``10 points``, ``2 ft``, ``0.15 strokes a round``."""
    if unit == SHARE:
        points = max(round(100 * of), 1)
        return "1 point" if points == 1 else f"{points} points"
    if unit == FEET:
        return say.length(of, FEET)
    return f"{number(of, 2)} strokes a round"
