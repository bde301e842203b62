"""What ``read_card`` gives, as the card it was read from: lengths with their unit, own columns."""

from __future__ import annotations

import json
from typing import Any

import pyarrow as pa
import pyarrow.compute as pc

_LENGTHS = {"distance_ft": "distance", "to_distance_ft": "to_distance"}
_MARKS = {*_LENGTHS, "played", "extra"}
"""Columns that ``read_card`` alone gives, all of them together."""
_EXTRA = "extra"


def as_a_card(table: pa.Table) -> pa.Table:
    """Return a table of texts in a card's own columns; any other than ``read_card``'s as it is.

    ``played`` is left out: the result says it. Unknown columns, one JSON object a row, become
    columns again.
    """
    if not set(table.column_names) >= _MARKS:
        return _with_extra(table) if _is_extra(table) else table
    columns = dict(zip(table.column_names, table.columns, strict=True))
    del columns["played"]
    for feet in _LENGTHS:
        columns[feet] = pc.binary_join_element_wise(columns[feet], "ft", " ")
    names = [_LENGTHS.get(name, name) for name in columns]
    return _with_extra(pa.Table.from_arrays(list(columns.values()), names=names))


def _is_extra(table: pa.Table) -> bool:
    """Return whether the last column holds unknown ones, as ``read_card`` has them of any table."""
    if not table.num_columns or table.column_names[-1] != _EXTRA:
        return False
    return all(isinstance(_object(text), dict) for text in _distinct(table[_EXTRA]))


def _with_extra(table: pa.Table) -> pa.Table:
    place = table.column_names.index(_EXTRA)
    coded = table[_EXTRA].combine_chunks().dictionary_encode()
    found = [_object(text) or {} for text in coded.dictionary.to_pylist()]
    table = table.remove_column(place)
    for name in dict.fromkeys(name for one in found for name in one):
        texts = pa.array([one.get(name) for one in found], pa.string())
        table = table.append_column(name, texts.take(coded.indices))
    return table


def _distinct(column: pa.ChunkedArray) -> list[str]:
    texts: list[str] = column.unique().drop_null().to_pylist()
    return texts


def _object(text: str) -> dict[str, Any] | None:
    try:
        found = json.loads(text)
    except ValueError:
        return None
    return found if isinstance(found, dict) else None
