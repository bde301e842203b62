"""Clubs, swings and the number: stock carries, what to hit from here, consistency, wear."""

from __future__ import annotations

from sgzone.clubs.consistency import consistency, questions
from sgzone.clubs.cover import cover
from sgzone.clubs.green import Green, green_of
from sgzone.clubs.number import plan_number
from sgzone.clubs.sheet import number_sheet
from sgzone.clubs.stock import clubs
from sgzone.clubs.wear import bag, changes, wear

__all__ = [
    "Green",
    "bag",
    "changes",
    "clubs",
    "consistency",
    "cover",
    "green_of",
    "number_sheet",
    "plan_number",
    "questions",
    "wear",
]
