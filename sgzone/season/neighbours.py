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
Whole = npt.NDArray[np.int64]
_LARGEST = 1 << 62  # what a number may be that is folded of several

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
    bad = np.asarray(batch["bad_key"]).astype(np.int64)
    rounds = _folded([bad, *(_ranks(batch[name]) for name in TABLE["shot"].key)])
    holes = _folded([rounds, _ranks(batch["hole"])])
    shots = _folded([holes, _ranks(batch["shot"])])
    if (shots[1:] < shots[:-1]).any():
        order = np.argsort(shots, kind="stable")
        batch = _reordered(batch, order)
        rounds, holes = rounds[order], holes[order]
    new_round, new_hole = _changes(rounds), _changes(holes)
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
    ranks = pc.rank(column.dictionary, tiebreaker="dense").cast(pa.int64())
    found: Whole = np.asarray(ranks)[np.asarray(column.indices)]
    return found


def _folded(keys: Sequence[Whole]) -> Whole:
    """Return one number per row, in the order of its keys, the weightiest first.

    One sort of such numbers takes a third of what one for each key does.
    """
    found, size = np.zeros(len(keys[0]), dtype=np.int64), 1
    for key in keys:
        more = int(key.max(initial=0)) + 1
        if size * more > _LARGEST:
            distinct, found = np.unique(found, return_inverse=True)
            size = len(distinct)
        found, size = found * more + key, size * more
    return found


def _reordered(batch: pa.RecordBatch, order: Whole) -> pa.RecordBatch:
    """Return the rows in another order. Columns of the same codes share them afterwards too."""
    rows = pa.array(order)
    taken: dict[tuple[int, int], pa.Array] = {}
    columns = []
    for column in batch.columns:
        if pa.types.is_dictionary(column.type):
            codes = column.indices
            place = codes.buffers()[1].address, codes.offset
            if place not in taken:
                taken[place] = codes.take(rows)
            columns.append(pa.DictionaryArray.from_arrays(taken[place], column.dictionary))
        else:
            columns.append(column.take(rows))
    return pa.RecordBatch.from_arrays(columns, names=batch.schema.names)


def _changes(key: Whole) -> Flags:
    """Return which rows differ from the one before; the first one does."""
    return np.append(True, key[1:] != key[:-1])[: len(key)]


def _neighbours(batch: pa.RecordBatch, new_hole: Flags) -> dict[str, pa.Array]:
    last = np.append(new_hole[1:], True)[: len(new_hole)]
    found = {
        "prev_row" if name == "source_row" else f"prev_{name}": _moved(batch[name], 1, new_hole)
        for name in _BEFORE
    }
    return found | {to: _moved(batch[name], -1, last) for name, to in _AFTER.items()}


def _moved(column: pa.Array, rows: int, lacking: Flags) -> pa.Array:
    """Return a column some rows further down, null where that is of no hole of theirs."""
    if pa.types.is_dictionary(column.type):
        return pa.DictionaryArray.from_arrays(
            _moved(column.indices, rows, lacking), column.dictionary
        )
    there = np.asarray(column.is_valid())
    values = np.asarray(column.fill_null(0))
    return pa.array(np.roll(values, rows), mask=lacking | ~np.roll(there, rows))


def _last_before(column: pa.DictionaryArray, new: Flags) -> pa.Array:
    """Return the last value above each row within its group, null where there is none."""
    rows = np.arange(len(new))
    there = np.asarray(column.dictionary.is_valid())[np.asarray(column.indices)]
    first = np.maximum.accumulate(np.where(new, rows, 0))
    latest = np.maximum.accumulate(np.where(there, rows, -1))
    above = np.append(-1, latest)[: len(rows)]
    codes = column.indices.take(pa.array(above, mask=above < first))
    return pa.DictionaryArray.from_arrays(codes, column.dictionary)
