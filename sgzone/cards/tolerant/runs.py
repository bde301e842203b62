"""Rows beside each other: where something changes, what a blank cell repeats, strokes in order."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from sgzone.cards.columns import column_of
from sgzone.cards.tolerant.coded import Codes, codes_of, numbers_of, texts_of
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.wording import lie_read
from sgzone.terms import LIE_CODE

Rows = NDArray[np.bool_]
ROUND = ("player", "date", "round")
HOLE = (*ROUND, "hole")
"""What rows of one round, and of one hole, share."""


def has_blanks(draft: Draft, name: str) -> bool:
    """Return whether some cells of a column are blank, and others are not."""
    column = draft.columns.get(name)
    return column is not None and 0 < column.null_count < len(column)


def carried(codes: Codes, stops: Rows) -> Codes:
    """Return codes with blanks made the one above; a blank where ``stops`` is true stays one."""
    known = (codes >= 0) | stops
    last = np.maximum.accumulate(np.where(known, np.arange(len(codes)), -1))
    return np.where(last >= 0, codes[last], -1)


def changes(draft: Draft, names: Iterable[str]) -> Rows:
    """Return the rows where one of some columns is another than in the row above."""
    found = np.zeros(len(draft.rows), dtype=bool)
    for name in names:
        if name in draft.columns:
            codes = codes_of(draft.columns[name])
            found[1:] |= codes[1:] != codes[:-1]
    return found


def after_merges(draft: Draft, name: str) -> Rows:
    """Return the rows just below merged cells of a column: these say where they end."""
    return np.asarray(np.isin(draft.rows, np.asarray(draft.ends.get(name, ()), dtype=np.int32)))


def unread(draft: Draft, name: str) -> Rows:
    """Return the rows just below a cell that is no value of its column: it is not repeated."""
    spec = column_of(draft.kind, name)
    found = np.zeros(len(draft.rows), dtype=bool)
    if spec.kind == "integer" and spec.low is not None and spec.high is not None:
        values = numbers_of(draft.columns[name])
        there = codes_of(draft.columns[name]) >= 0
        found[1:] = (there & ~((values >= spec.low) & (values <= spec.high)))[:-1]
    return found


def groups(draft: Draft, names: Iterable[str]) -> Codes:
    """Return a number per row that rows with the same cells in some columns share."""
    found = np.zeros(len(draft.rows), dtype=np.int64)
    for name in names:
        if name in draft.columns:
            codes = codes_of(draft.columns[name])
            found = np.unique(found * (codes.max() + 2) + codes + 1, return_inverse=True)[1]
    return found


def places_within(group: Codes) -> Codes:
    """Return which row of its group each row is, from 1."""
    order = np.argsort(group, kind="stable")
    sorted_group = group[order]
    first = np.searchsorted(sorted_group, sorted_group, side="left")
    places = np.empty(len(group), dtype=np.int64)
    places[order] = np.arange(len(group)) - first + 1
    return places


def above(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the value of the row above; NaN in the first."""
    return np.concatenate(([np.nan], values[:-1]))


def lies_of(draft: Draft) -> NDArray[np.float64]:
    """Return the number of each row's lie as ``terms`` orders them, NaN where there is none."""
    if "lie" not in draft.columns:
        return np.full(len(draft.rows), np.nan)
    read = [lie_read(text) for text in texts_of(draft.columns["lie"])]
    codes = [float(LIE_CODE[lie]) if lie else np.nan for lie in read]
    return np.array([*codes, np.nan])[codes_of(draft.columns["lie"])]
