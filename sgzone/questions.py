"""The questions of the package as callers ask them: the rooms' answers with their notes in words.

Inside the package answers carry facts; whoever is outside wants a ``note``.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from inspect import signature
from typing import ParamSpec

import pandas as pd

from sgzone.clubs import number, sheet, stock
from sgzone.review.beside import field
from sgzone.review.where import counts as plain_counts
from sgzone.review.where import summary
from sgzone.review.why import split
from sgzone.terms import DEFAULT_LEVEL
from sgzone.words.notes import noted, options
from sgzone.words.say import Say

P = ParamSpec("P")


def _noted(answer: str, ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    """Return the question ``ask`` with notes in words, lengths in yards and feet."""
    takes = signature(ask)

    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        level = takes.bind(*given, **named).arguments.get("level", DEFAULT_LEVEL)
        return noted(ask(*given, **named), answer, Say(level=level))

    return asked


summarise = _noted("summary", summary.summarise)
counts = _noted("counts", plain_counts.counts)
why = _noted("why", split.why)
field_strength = _noted("field", field.field_strength)
clubs = _noted("clubs", stock.clubs)


def _played(ask: Callable[P, pd.DataFrame]) -> Callable[P, pd.DataFrame]:
    @wraps(ask)
    def asked(*given: P.args, **named: P.kwargs) -> pd.DataFrame:
        return options(ask(*given, **named))

    return asked


plan_number = _played(number.plan_number)
number_sheet = _played(sheet.number_sheet)
