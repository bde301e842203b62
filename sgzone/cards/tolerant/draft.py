"""A table while it is being read: its columns as they become clear, and what there is to say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from sgzone.cards.given import Given
from sgzone.cards.tolerant.coded import replaced, rows_with, texts_of
from sgzone.errors import Problem

MOST_SAID = 4  # examples in one note


@dataclass(slots=True)
class Draft:
    """One table on its way from cells to a ``TextTable``.

    ``columns``: dictionary-coded, by the names of the kind; ``extra``: those of other headers.
    ``rows``: their numbers in a spreadsheet. ``lengths_in``: the units in a column's header.
    ``commas``: a comma inside a number can only be a decimal comma. ``typed``: numbers stand as
    somebody typed them; a workbook's own numbers have a point however they are shown. ``ends``:
    columns to the rows just below merged cells, which say themselves where they end.
    ``was_blank``: of columns whose cells were repeated, where there was none. ``decimals``: cells
    with a decimal comma, and what was read.
    """

    file: str
    kind: str
    header_row: int
    rows: NDArray[np.int32]
    columns: dict[str, pa.DictionaryArray]
    given: Given
    today: date
    broken: NDArray[np.bool_]
    commas: bool = True
    typed: bool = True
    lengths_in: Mapping[str, frozenset[str]] = field(default_factory=dict)
    written: Mapping[str, str] = field(default_factory=dict)
    ends: Mapping[str, Sequence[int]] = field(default_factory=dict)
    extra: dict[str, pa.DictionaryArray] = field(default_factory=dict)
    was_blank: dict[str, NDArray[np.bool_]] = field(default_factory=dict)
    decimals: list[tuple[str, str]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def note(self, wrong: str, fix: str = "Nothing, if that is right.", column: str = "") -> None:
        """Note one kind of liberty."""
        self.problems.append(Problem(self.file, None, column, "", wrong, fix, "note"))

    def ask(self, row: int | None, column: str, value: str, wrong: str, fix: str) -> None:
        """Ask: the file is refused with the question."""
        self.problems.append(Problem(self.file, row, column, value, wrong, fix))

    def replace(self, name: str, new: Mapping[str, str | None]) -> int:
        """Replace texts of a column; return in how many rows."""
        if not new:
            return 0
        rows = int(rows_with(self.columns[name], new.keys()).sum())
        self.columns[name] = replaced(self.columns[name], new)
        return rows

    def read_as(self, name: str, new: Mapping[str, str | None]) -> None:
        """Replace texts of a column and note what was read as what."""
        if self.replace(name, new):
            self.say_read(name, new)

    def say_read(self, name: str, new: Mapping[str, str | None]) -> None:
        """Note what was read as what."""
        if new:
            self.note(f"{name}: {read_as(new)}", column=name)

    def first_row(self, name: str, texts: Iterable[str]) -> int:
        """Return the number of the first row that holds one of some texts."""
        return int(self.rows[rows_with(self.columns[name], list(texts)).argmax()])

    def texts(self, name: str) -> list[str]:
        """Return the distinct texts of a column; none where it is not there."""
        return texts_of(self.columns[name]) if name in self.columns else []


def read_as(new: Mapping[str, str | None]) -> str:
    """Return in words what was read as what.

    >>> read_as({"F": "fairway", "fwy": "fairway", "G": "green"})
    'F, fwy read as fairway; G as green'
    """
    by_word: dict[str | None, list[str]] = {}
    for text, word in new.items():
        by_word.setdefault(word, []).append(text)
    said = [f"{_listed(texts)} read as {word or 'blank'}" for word, texts in by_word.items()]
    shown = [said[0], *(one.replace(" read as ", " as ", 1) for one in said[1:])]
    return "; ".join(shown[:8]) + (f"; and {len(shown) - 8} more" if len(shown) > 8 else "")


def _listed(texts: Sequence[str]) -> str:
    more = f" and {len(texts) - MOST_SAID} more" if len(texts) > MOST_SAID else ""
    return ", ".join(text[:30] for text in texts[:MOST_SAID]) + more
