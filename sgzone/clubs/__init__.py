"""Clubs, swings and the number: stock carries, what to hit from here, consistency, wear."""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import Any

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


class _Callable(ModuleType):
    """The package and its main function share a name: ``sgzone.clubs(store)`` works either way.

    Importing any module of the package makes ``sgzone.clubs`` the package itself.
    """

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        # what a caller gets is made above this room: notes in words, types of columns
        return importlib.import_module("sgzone.public.clubs").clubs(*args, **kwargs)


sys.modules[__name__].__class__ = _Callable
