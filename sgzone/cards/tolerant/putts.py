"""A column that counts the putts of a hole: a putt needs a length, so a count alone is asked."""

from __future__ import annotations

import numpy as np

from sgzone.cards.tolerant.coded import coded, codes_of, numbers_of
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.runs import HOLE, groups, lies_of
from sgzone.cards.tolerant.wording import folded
from sgzone.terms import GREEN, LIE_CODE

_HEADERS = frozenset({"putts", "no of putts", "no putts", "putt", "puttar", "antal puttar"})


def ask_lengths_of_putts(draft: Draft) -> None:
    """Ask once where a column counts putts of a hole that has no row on the green.

    A note where the two counts of a hole differ.
    """
    name = next((written for written in draft.extra if folded(written) in _HEADERS), None)
    if name is None or "hole" not in draft.columns:
        return
    said = numbers_of(coded(draft.extra[name]))
    group = groups(draft, HOLE)
    putts = lies_of(draft) == LIE_CODE[GREEN]
    if "result" in draft.columns:  # a given putt was not struck; a holed one was
        ended = np.array([*(t != "holed" for t in draft.texts("result")), False])
        putts &= ~ended[codes_of(draft.columns["result"])]
    there = np.bincount(group, weights=putts)
    counted = np.full(len(there), -1.0)
    np.maximum.at(counted, group, np.nan_to_num(said, nan=-1.0))
    missing, other = (counted > 0) & (there == 0), (counted > 0) & (there > 0) & (there != counted)
    if missing.any():
        row = int(np.flatnonzero(missing[group])[0])
        hole, number = draft.columns["hole"][row].as_py(), int(counted[group[row]])
        draft.ask(
            int(draft.rows[row]),
            name,
            str(number),
            f"{number} putt{'s' if number > 1 else ''} on hole {hole}, and no row says how long",
            "Write a row for each putt with its length; a tap-in is 1 ft.",
        )
    elif other.any():
        row = int(np.flatnonzero(other[group])[0])
        hole, number = draft.columns["hole"][row].as_py(), int(counted[group[row]])
        draft.note(
            f"hole {hole}: putts counted {number}, written {int(there[group[row]])}; what is "
            "written is read",
            "Check the hole.",
            name,
        )
