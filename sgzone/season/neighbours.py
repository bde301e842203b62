"""Rows in the order of play, each beside its neighbours: in the hole, in the round, in the file.

Arrays and not windows of SQL, which cost as much as all the rest of the staging: rows that stand
in the order of play already, as in nearly every file, are compared once and not sorted.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.tables import TABLE

Flags = npt.NDArray[np.bool_]
Whole = npt.NDArray[np.int32]

_BEFORE = ("source_row", "shot", "lie", "penalty", "bad_before")
_AFTER = {"source_row": "next_row", "shot": "next_shot", "lie": "next_lie"}
_AFTER["distance_ft"] = "next_distance_ft"


def in_order_of_play(batch: pa.RecordBatch) -> pa.RecordBatch:
    """Return placed rows, given in file order, by player, date, round, hole and shot.

    Rows of one hole and shot stay as they stand in the file; rows whose keys could not be read
    (``bad_key``) come last. Added are ``round_no`` and ``hole_no`` (from 0, in that order), the
    ``prev_`` and ``next_`` columns of the hole, ``prev_par`` (the last one written in the hole),
    ``prev_event`` and ``prev_course`` (in the round), and ``bad_before`` and ``beside_bad``: how
    many rows with bad keys stand above, this one included, and whether one stands next to it.
    """
    batch = _beside_bad(batch)
    keys = [np.asarray(batch["bad_key"]).astype(np.int32)]
    keys += [_ranks(batch[name]) for name in (*TABLE["shot"].key, "hole", "shot")]
    if not _sorted(keys):
        order = np.lexsort(keys[::-1])
        batch = batch.take(pa.array(order))
        keys = [key[order] for key in keys]
    new_round = _changes(keys[:4])
    new_hole = new_round | _changes(keys[4:5])
    added = {
        "round_no": pa.array(np.cumsum(new_round, dtype=np.int32) - 1),
        "hole_no": pa.array(np.cumsum(new_hole, dtype=np.int32) - 1),
        **_neighbours(batch, new_hole),
        "prev_par": _last_before(batch["par"], new_hole),
        "prev_event": _last_before(batch["event"], new_round),
        "prev_course": _last_before(batch["course"], new_round),
    }
    for name, column in added.items():
        batch = batch.append_column(name, column)
    return batch


def _beside_bad(batch: pa.RecordBatch) -> pa.RecordBatch:
    bad = np.asarray(batch["bad_key"])
    beside = np.zeros(len(bad), dtype=bool)
    beside[1:] |= bad[:-1]
    beside[:-1] |= bad[1:]
    batch = batch.append_column("bad_before", pa.array(np.cumsum(bad, dtype=np.int32)))
    return batch.append_column("beside_bad", pa.array(beside))


def _ranks(column: pa.DictionaryArray) -> Whole:
    """Return numbers in the order of the values of a coded column, the same for equal ones."""
    ranks = pc.rank(column.dictionary, tiebreaker="dense").cast(pa.int32())
    found: Whole = np.asarray(ranks)[np.asarray(column.indices)]
    return found


def _sorted(keys: Sequence[Whole]) -> bool:
    """Return whether the rows stand in the order of their keys, the weightiest first."""
    level = np.ones(max(len(keys[0]) - 1, 0), dtype=bool)
    for key in keys:
        if (level & (key[1:] < key[:-1])).any():
            return False
        level &= key[1:] == key[:-1]
    return True


def _changes(keys: Sequence[Whole]) -> Flags:
    """Return which rows differ from the one before; the first one does."""
    changes = np.ones(len(keys[0]), dtype=bool)
    changes[1:] = False
    for key in keys:
        changes[1:] |= key[1:] != key[:-1]
    return changes


def _neighbours(batch: pa.RecordBatch, new_hole: Flags) -> dict[str, pa.Array]:
    rows = np.arange(len(new_hole))
    last = np.append(new_hole[1:], True)[: len(rows)]
    before = pa.array(rows - 1, mask=new_hole)
    after = pa.array(rows + 1, mask=last)
    found = {
        "prev_row" if name == "source_row" else f"prev_{name}": _taken(batch[name], before)
        for name in _BEFORE
    }
    return found | {to: _taken(batch[name], after) for name, to in _AFTER.items()}


def _taken(column: pa.Array, rows: pa.Array) -> pa.Array:
    if pa.types.is_dictionary(column.type):
        return pa.DictionaryArray.from_arrays(column.indices.take(rows), column.dictionary)
    return column.take(rows)


def _last_before(column: pa.DictionaryArray, new: Flags) -> pa.Array:
    """Return the last value above each row within its group, null where there is none."""
    rows = np.arange(len(new))
    there = np.asarray(column.dictionary.is_valid())[np.asarray(column.indices)]
    first = np.maximum.accumulate(np.where(new, rows, 0))
    latest = np.maximum.accumulate(np.where(there, rows, -1))
    above = np.append(-1, latest)[: len(rows)]
    return _taken(column, pa.array(above, mask=above < first))
