"""Columns by their distinct texts: what is done to a text is done once for all its rows."""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

BLANKS = " \t\r\n\u00a0\ufeff"

Codes = NDArray[np.int64]
"""Which distinct text each row has; -1 for a blank cell."""


def coded(column: pa.Array) -> pa.DictionaryArray:
    """Return a column coded: its texts distinct, without blanks around them, null for none."""
    if not pa.types.is_dictionary(column.type):
        column = column.cast(pa.string()).dictionary_encode()
    texts = column.dictionary
    plain = pc.utf8_trim(texts, BLANKS)
    plain = pc.if_else(pc.equal(plain, ""), pa.scalar(None, pa.string()), plain)
    if not plain.null_count and plain.equals(texts):
        return column
    return _recoded(column.indices, plain)


def _recoded(indices: pa.Array, texts: pa.Array) -> pa.DictionaryArray:
    again = texts.dictionary_encode()
    return pa.DictionaryArray.from_arrays(again.indices.take(indices), again.dictionary)


def texts_of(column: pa.DictionaryArray) -> list[str]:
    """Return the distinct texts of a column, in the order in which they come."""
    return list(column.dictionary.to_pylist())


def replaced(column: pa.DictionaryArray, new: Mapping[str, str | None]) -> pa.DictionaryArray:
    """Return a column with some of its texts replaced; None makes a cell blank."""
    texts = [new.get(text, text) for text in texts_of(column)]
    return _recoded(column.indices, pa.array(texts, pa.string()))


def rows_with(column: pa.DictionaryArray, texts: Collection[str]) -> NDArray[np.bool_]:
    """Return which rows hold one of some texts."""
    wanted = pc.is_in(column.dictionary, pa.array(list(texts), pa.string()))
    there = np.append(np.asarray(wanted, dtype=bool), False)
    return np.asarray(there[codes_of(column)], dtype=bool)


def codes_of(column: pa.DictionaryArray) -> Codes:
    """Return the code of each row, -1 for a blank cell."""
    return np.asarray(column.indices.fill_null(-1)).astype(np.int64)


def from_codes(codes: Codes, texts: pa.Array) -> pa.DictionaryArray:
    """Return a column of codes and what they stand for; -1 is a blank cell."""
    blank = codes < 0
    indices = pa.array(np.where(blank, 0, codes).astype(np.int32), mask=blank)
    return _recoded(indices, texts)


def numbers_of(column: pa.DictionaryArray) -> NDArray[np.float64]:
    """Return the number each row holds, NaN where it holds none."""
    values = [_number(text) for text in texts_of(column)]
    return np.array([*values, np.nan])[codes_of(column)]


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return np.nan
