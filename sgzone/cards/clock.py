"""Which day it is: the one place that asks the computer's clock for the rules of a card."""

from __future__ import annotations

import os
from datetime import date

from sgzone.errors import CallError

VARIABLE = "SGZONE_TODAY"  # the day to take for today, as year-month-day; the tests set it


def today() -> date:
    """Return today's date, or the day that ``SGZONE_TODAY`` names.

    Raises ``CallError`` where that names none.
    """
    said = os.environ.get(VARIABLE)
    if not said:
        return date.today()
    try:
        return date.fromisoformat(said)
    except ValueError as wrong:
        raise CallError(f"{VARIABLE} must be a date such as 2026-05-14, not {said!r}.") from wrong
