"""Strokes of one lie, club or part: what is left of an answer's strokes once each has its value."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import pandas as pd

from sgzone.errors import CallError, did_you_mean
from sgzone.terms import LIES, PART_NAMES, PART_WORDS

_EXAMPLE = {"lie": 'lie="rough"', "club": 'club="58"', "part": 'part="chip_0_30"'}


@dataclass(frozen=True, slots=True)
class Only:
    """The strokes that count: of this lie, club and part, each None for all.

    Rounds are chosen elsewhere (``Selection``): per round stays over all of them. ``part`` may be
    said in words. Raises ``CallError`` for an unknown lie or part, and for what is no text.
    """

    lie: str | None = None
    club: str | None = None
    part: str | None = None

    def __post_init__(self) -> None:
        for name in ("lie", "club", "part"):
            given = getattr(self, name)
            if given is not None and not isinstance(given, str):
                number = isinstance(given, int | float)
                fix = f'{name}="{given}"' if number else f"one, as in {_EXAMPLE[name]}"
                raise CallError(f"{name}={given!r} is no text; write {fix}.")
        codes = {words: name for name, words in PART_WORDS.items()}
        if self.part in codes:
            object.__setattr__(self, "part", codes[self.part])
        _refuse("lie", self.lie, LIES)
        _refuse("part", self.part, PART_NAMES)

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns that tell which strokes count."""
        return tuple(name for name in ("lie", "club", "part") if getattr(self, name) is not None)

    def of(self, strokes: pd.DataFrame) -> pd.DataFrame:
        """Return the rows that count; all of them where nothing was asked for."""
        for name in self.columns:
            strokes = strokes[(strokes[name] == getattr(self, name)).to_numpy(bool)]
        return strokes.reset_index(drop=True) if self.columns else strokes


def _refuse(name: str, word: str | None, known: Iterable[str]) -> None:
    if word is not None and word not in known:
        raise CallError(
            f'no {name} "{word}".{did_you_mean(word, known)} Choose of: {", ".join(known)}.'
        )


ALL_STROKES = Only()
