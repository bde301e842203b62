"""How numbers, intervals and dates are written in the report: rounded by their standard error."""

from __future__ import annotations

import math
from collections import namedtuple
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from statistics import NormalDist
from typing import TYPE_CHECKING, Any

from sgzone.terms import NOT_ENOUGH

if TYPE_CHECKING:
    import pandas as pd

MINUS = "−"
DAGGER = "†"
PUBLISHED = "published"
NO_INTERVAL = f"none: {NOT_ENOUGH}"
_TWO_DIGITS_BELOW = 3.55
_MOST_DECIMALS = 3
_NO_ERROR = 1e-9  # rounds that are all alike: what is left is the computer's rounding


def decimals(se: float) -> int:
    """Return how many decimals a number with this standard error deserves.

    The particle-physics rule: two digits of the error up to 3.54, one above. At most three.
    """
    if not se > _NO_ERROR or not math.isfinite(se):
        return 2
    power = math.floor(math.log10(se))
    digits = 1 if se / 10.0**power < _TWO_DIGITS_BELOW else 0
    return min(max(digits - power, 0), _MOST_DECIMALS)


def rounded(value: float, se: float, *, signed: bool = False) -> str:
    """Return a number with the decimals that ``decimals(se)`` allows and a true minus sign."""
    return number(value, decimals(se), signed=signed)


def number(value: float, places: int, *, signed: bool = False) -> str:
    """Return a number with so many decimals, a true minus sign, and no minus before zero."""
    text = f"{value:{'+' if signed else ''}.{places}f}"
    if not any(digit in text for digit in "123456789"):
        text = text.lstrip("+-")
    return text.replace("-", MINUS)


def thousands(value: float) -> str:
    """Return a whole number with commas."""
    return f"{value:,.0f}"


def count(value: int, what: str) -> str:
    """Return a whole number with its noun: ``1 round``, ``40 rounds``."""
    return f"{thousands(value)} {what}{'' if value == 1 else 's'}"


def daggered(text: str, basis: str) -> str:
    """Return the text, marked where its benchmark value is not a published one."""
    return text + DAGGER if isinstance(basis, str) and basis not in ("", PUBLISHED) else text


def interval_words(
    low: Iterable[float], high: Iterable[float], places: int, *, signed: bool = True
) -> list[str]:
    """Return ``low to high`` of each pair, or why there is none."""
    return [
        f"{number(a, places, signed=signed)} to {number(b, places, signed=signed)}"
        if a == a and b == b
        else NO_INTERVAL
        for a, b in zip(low, high, strict=True)
    ]


def interval_cells(
    low: Iterable[float], high: Iterable[float], places: int = 0, *, signed: bool = True
) -> list[str]:
    """Return ``interval_words`` for a table that says in another column why there is none."""
    texts = interval_words(low, high, places, signed=signed)
    return ["" if text == NO_INTERVAL else text for text in texts]


def standard_error(low: float, high: float, level: float) -> float:
    """Return the standard error that an interval of this level implies, for rounding only."""
    return (high - low) / 2 / NormalDist().inv_cdf(0.5 + level / 2)


def estimate(value: float, low: float, high: float, level: float) -> str:
    """Return ``1.26 (1.00 to 1.51)`` of a loss or gain, signs left to the sentence.

    ``value`` is shown as its size; where the interval crosses zero its far end keeps a sign.
    """
    if not (low == low and high == high):
        return number(abs(value), 2)
    places = decimals(standard_error(low, high, level))
    ends = (low, high) if value >= 0 else (-high, -low)
    near, far = (number(end, places) for end in ends)
    return f"{number(abs(value), places)} ({near} to {far})"


def day(when: date) -> str:
    """Return a date in words, the same in every locale."""
    months = "January February March April May June July August September October November December"
    return f"{when.day} {months.split()[when.month - 1]} {when.year}"


def span(first: date, last: date) -> str:
    """Return the days a season took."""
    if first == last:
        return f"on {day(first)}"
    start = day(first) if first.year != last.year else day(first).rsplit(" ", 1)[0]
    return f"from {start} to {day(last)}"


def rows(frame: pd.DataFrame) -> Iterator[Any]:
    """Return the rows of a frame, their values by name.

    As ``frame.itertuples`` does, which looks up every column by itself: most tables are short.
    """
    row = namedtuple("Row", [str(name) for name in frame.columns], rename=True)  # type: ignore[misc]
    return map(row._make, frame.to_numpy(object))


def listed(items: Sequence[str]) -> str:
    """Return ``a, b and c``."""
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"
