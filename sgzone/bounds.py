"""Every number that a caller may give: what it is, from where to where, and one to write instead.

Each quantity is named here once. The command line's options (``verbs.options.number``) and the
Python functions (``bounded``) check against the same entry, so that neither lets through what the
other refuses.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from numbers import Integral, Real
from typing import Any, ParamSpec, TypeVar

from sgzone.errors import CallError
from sgzone.harmless import cut

P = ParamSpec("P")
R = TypeVar("R")

MOST_SHOWN = 40  # columns of what was written that a message repeats


@dataclass(frozen=True, slots=True)
class Bound:
    """A quantity: both ends are allowed unless ``above`` leaves the low one out.

    ``noun``: as a message names it; ``example``: a number that will do, as it is written.
    """

    noun: str
    low: float
    high: float
    example: str
    whole: bool = False
    above: bool = False

    def range(self) -> str:
        """Return the range in words.

        >>> BOUNDS["at"].range()
        'above 0 and at most 150'
        """
        low, high = _said(self.low), _said(self.high)
        return f"above {low} and at most {high}" if self.above else f"from {low} to {high}"

    def wrong(self, given: object) -> str:
        """Return the sentence about something else than such a number.

        >>> BOUNDS["level"].wrong("nan")
        'nan: the level must be from 0.5 to 0.999, such as 0.8'
        """
        whole = "a whole number " if self.whole else ""
        return f"{_shown(given)}: {self.noun} must be {whole}{self.range()}, such as {self.example}"

    def read(self, text: str) -> float:
        """Return the number that was written; ``CallError`` with what to write instead."""
        try:
            value = int(text) if self.whole else float(text)
        except ValueError:  # no number, or one of thousands of digits
            raise CallError(self.wrong(text)) from None
        if not self.holds(value):
            raise CallError(self.wrong(text))
        return value

    def check(self, value: Any, name: str = "") -> float:
        """Return a number given in Python; ``CallError`` for any other and for what is no number.

        ``name``: of the argument, for the message.
        """
        kind = Integral if self.whole else Real
        a_number = isinstance(value, kind) and not isinstance(value, bool)
        if not a_number or not self.holds(value):
            said = self.wrong(repr(value) if isinstance(value, str) else value)
            raise CallError(f"{name}={said}" if name else said)
        return int(value) if self.whole else float(value)

    def holds(self, value: Any) -> bool:
        """Tell whether a number is within the range."""
        above = value > self.low if self.above else value >= self.low
        return bool(above and value <= self.high)  # neither is true of nan


BOUNDS = {
    "level": Bound("the level", 0.5, 0.999, "0.8"),
    "seed": Bound("the seed", 0, 2**63 - 1, "7", whole=True),
    # questions
    "ratio": Bound("the ratio", 0.2, 5, "1.2"),
    "at": Bound("the number in yards", 0, 150, "100", above=True),
    "folds": Bound("the number of groups", 2, 1000, "10", whole=True),
    "gain": Bound("strokes per round", 0.01, 20, "0.5"),
    "reach": Bound("the end of the scale in strokes", 0, 1000, "2", above=True),
    # clubs
    "yards": Bound("the number in yards", 20, 180, "97"),
    "step": Bound("the step in yards", 0.1, 160, "5"),
    "on": Bound("yards from the front edge to the hole", 0.1, 200, "12"),
    "left": Bound("yards from the left edge to the hole", 0.1, 200, "8"),
    "deep": Bound("the depth of the green in yards", 1, 200, "31"),
    "wide": Bound("the width of the green in yards", 1, 200, "24"),
    "full_more": Bound("how much more of a full swing in percent", 0, 25, "3"),
    "gap_yd": Bound("the gap in yards", 1, 200, "12"),
    "remind_shots": Bound("the number of shots", 1, 1_000_000, "2000", whole=True),
    "remind_months": Bound("months", 0, 1200, "12"),
    # practice
    "score": Bound("the average score", 68.6, 100, "78"),
    "hours": Bound("hours a week", 0.25, 168, "5"),
    "weeks": Bound("the number of weeks", 1, 104, "6"),
    "week": Bound("the week of the block", 1, 104, "2", whole=True),
    "recoverable": Bound("the share that practice can win back", 0, 1, "0.4"),
    "rate_hours": Bound("hours until 63% is won", 0.5, 1000, "20"),
    "floor_hours": Bound("least hours a block", 0, 1000, "1"),
    "ceiling_hours": Bound("most hours a block", 0, 10_000, "30"),
    "largest_change": Bound("the largest change of a share", 0.01, 1, "0.15"),
    "recoverable_spread": Bound("how unsure the share is (sd of its logarithm)", 0, 3, "0.35"),
    "rate_spread": Bound("how unsure the rate is (sd of its logarithm)", 0, 3, "0.5"),
    "share": Bound("a share of the hours", 0, 1, "0.4"),
    "percent": Bound("the share in percent", 0, 100, "40"),
    "change": Bound("the change in percent", -100, 100, "-20"),
    # seasons
    "rows": Bound("the number of rows", 1, 1_000_000_000, "100", whole=True),
    "round": Bound("the round of that day", 1, 9, "1", whole=True),
    "agreement": Bound("the number of an agreement", 1, 1_000_000_000, "2", whole=True),
    "rounds": Bound("the number of rounds", 1, 10_000, "40", whole=True),
}
"""Quantity -> its bound, by the name that arguments of Python functions have."""


NUMERIC = ("float", "int", "float | None", "int | None")
"""How the module of an argument says that it is a number."""


def bounded(function: Callable[P, R]) -> Callable[P, R]:
    """Have each number that ``BOUNDS`` knows by the argument's name checked on every call.

    None passes where it is the default. Raises ``TypeError`` on a function without such a name.
    """
    signature = inspect.signature(function)
    watched = {
        name: parameter
        for name, parameter in signature.parameters.items()
        if name in BOUNDS and parameter.annotation in NUMERIC
    }
    if not watched:
        raise TypeError(f"{function.__qualname__} takes no number that BOUNDS knows")

    @wraps(function)
    def checked(*args: P.args, **kwargs: P.kwargs) -> R:
        given = signature.bind(*args, **kwargs)
        for name, parameter in watched.items():
            value = given.arguments.get(name, parameter.default)
            if name in given.arguments and not (value is None and parameter.default is None):
                given.arguments[name] = BOUNDS[name].check(value, name)
        return function(*given.args, **given.kwargs)

    checked.__dict__["bounded"] = tuple(watched)
    return checked


def _said(value: float) -> str:
    return str(int(value)) if value == int(value) else f"{value:g}"


def _shown(given: object) -> str:
    """Return what was given, short enough for a message."""
    try:
        text = str(given) if isinstance(given, str | Real) else repr(given)
    except ValueError:  # Python writes no whole number of thousands of digits
        return "a number of thousands of digits"
    if not text.strip():
        return '""'
    short = cut(text, MOST_SHOWN)
    return text if short == text else f"{short} ({len(text)} letters)"
