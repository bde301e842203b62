"""Rows come into the order of play whatever the order and the number of their keys."""

from __future__ import annotations

import numpy as np
import pyarrow as pa
from hypothesis import given
from hypothesis import strategies as st

from sgzone.season import neighbours
from sgzone.season.neighbours import _folded, _moved, _reordered

KEYS = st.lists(st.tuples(*[st.integers(0, 4)] * 3), max_size=30)
MANY = 1 << 30  # three such keys do not fit into one number of 64 bits


def folded(rows: list[tuple[int, ...]], times: int = 1) -> list[int]:
    keys = [np.array(column, dtype=np.int64) * times for column in zip(*rows, strict=True)]
    return list(_folded(keys)) if rows else []


@given(KEYS)
def test_a_folded_key_sorts_as_its_keys_do(rows: list[tuple[int, ...]]) -> None:
    for times in (1, MANY):
        found = folded(rows, times)
        assert sorted(range(len(rows)), key=found.__getitem__) == sorted(
            range(len(rows)), key=rows.__getitem__
        )
        assert [a == b for a in found for b in found] == [a == b for a in rows for b in rows]


def test_the_numbers_stay_below_the_largest() -> None:
    assert (4 * MANY) ** 2 > neighbours._LARGEST
    assert max(folded([(0, 0, 0), (4, 4, 4), (4, 4, 3)], MANY)) < neighbours._LARGEST


def test_columns_of_the_same_codes_stay_apart_in_their_values() -> None:
    codes = pa.array([0, 1, 2, 1], pa.int8())
    words = pa.DictionaryArray.from_arrays(codes, pa.array(["a", "b", "c"]))
    numbers = pa.DictionaryArray.from_arrays(codes, pa.array([1.0, None, 3.0]))
    part = pa.DictionaryArray.from_arrays(pa.concat_arrays([codes, codes])[2:6], words.dictionary)
    batch = pa.RecordBatch.from_arrays(
        [words, numbers, part, pa.array([9, 8, 7, 6])], names=["word", "number", "part", "row"]
    )
    found = _reordered(batch, np.array([3, 0, 2, 1]))
    assert found.to_pydict() == {
        "word": ["b", "a", "c", "b"],
        "number": [None, 1.0, 3.0, None],
        "part": ["b", "c", "a", "b"],
        "row": [6, 9, 7, 8],
    }


def test_a_moved_column_has_nothing_where_no_row_of_the_hole_stands() -> None:
    new = np.array([True, False, False, True])
    assert _moved(pa.array([1.5, None, 3.0, 4.0]), 1, new).to_pylist() == [None, 1.5, None, None]
    last = np.array([False, False, True, True])
    coded = pa.array(["x", "y", None, "z"]).dictionary_encode()
    lies = pa.DictionaryArray.from_arrays(coded.indices.fill_null(0), coded.dictionary)
    assert _moved(lies, -1, last).to_pylist() == ["y", "x", None, None]
