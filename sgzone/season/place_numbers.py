"""The place of a ball, lie and whole foot, as one integer: scoring joins the curve on it.

The strokes of the season file carry it (``start_cell``, ``end_cell``); what it means may only
change together with the schema version.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sgzone.terms import EVERY_LIE, HOLED, HOLED_NUMBER

if TYPE_CHECKING:
    import pandas as pd

_NUMBERS = {lie.name: lie.number for lie in EVERY_LIE} | {HOLED: HOLED_NUMBER}
_WORDS = sorted(_NUMBERS, key=_NUMBERS.__getitem__)
_STEP = 4096  # more than the feet of any lie: no two places share a number

CELL_VALUES: dict[str, Any] = {"lies": _WORDS, "lie_step": _STEP}
"""What the steps that store the number bind: ``list_position($lies, lie) * $lie_step + foot``."""


def cell_numbers(lie: pd.Series[str], foot: pd.Series[int]) -> pd.Series[int]:
    """Return the number of each lie and whole foot."""
    return (lie.map(_NUMBERS) * _STEP + foot).astype("int32")
