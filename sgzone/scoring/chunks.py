"""Sums per cell and round of many rounds: added up chunk by chunk, put together in order.

A round lies in one chunk, so each sum is made in one piece and the size of chunks changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sgzone.scoring.places import WORDS, in_categories

if TYPE_CHECKING:
    from sgzone.season.store import Column

STROKES_AT_A_TIME = 1_000_000
"""Strokes of a chunk: more than any player has, and what a federation's file costs little memory
by."""
_LARGEST = 2**62

Ints = NDArray[np.integer[Any]]


def spans(key: Ints, strokes: Ints, most: int) -> list[tuple[int, int]]:
    """Return the first and last key of each chunk of rounds, neighbours by key together.

    Strokes are stored in the order of the keys, so that a chunk is read without the others. A
    chunk starts with the first round after each ``most`` strokes; no round at all is one chunk
    without any.
    """
    order = np.argsort(key)
    key, strokes = key[order], strokes[order]
    number = (np.cumsum(strokes) - strokes) // most
    first = np.flatnonzero(np.diff(number, prepend=-1))
    last = np.append(first[1:], len(key))[: len(first)] - 1
    return list(zip(key[first].tolist(), key[last].tolist(), strict=True)) or [(0, -1)]


def sum_key(name: str) -> str:
    """Return the column that strokes are grouped by for a ``by`` column: its code if it has one.

    A word per group costs more than all the rest.
    """
    return f"{name}_code" if name in WORDS else name


def put_together(
    chunks: Iterable[Mapping[str, Column]], by: Sequence[str], rounds: pd.DataFrame
) -> pd.DataFrame:
    """Return the sums of all chunks by the keys and the rounds in their order.

    ``rounds``: player (a category) and round_place (the key of a round in what is returned) of the
    rounds in order; the ``round_place`` of the chunks counts these from 0. Codes become categories,
    counts are of four bytes.
    """
    columns = _columns([_narrow(chunk) for chunk in chunks])
    keys = [columns.pop(sum_key(name)) for name in by]
    place = columns.pop("round_place").to_numpy()
    order = _order([_ranks(key) for key in keys], place)
    found: dict[str, object] = {}
    for name in by:  # one column after the other: what is done with is given back
        key = keys.pop(0).take(order)
        found[name] = in_categories(name, key) if name in WORDS else key.array
    row = place[order]
    del place
    found |= {"player": rounds["player"].array.take(row)}
    found |= {"round_key": rounds["round_place"].array.take(row)}
    for name in list(columns):
        found[name] = columns.pop(name).to_numpy()[order]
    return pd.DataFrame(found, copy=False)


def in_full(sums: pd.DataFrame, by: Sequence[str]) -> pd.DataFrame:
    """Return the sums with words for categories, counts of eight bytes; takes the given apart."""
    found: dict[str, object] = {}
    for name in list(sums.columns):
        values = sums.pop(name)
        if isinstance(values.dtype, pd.CategoricalDtype):
            found[name] = words_of(values.array)
        else:
            short = values.dtype == np.int32 and name not in by
            found[name] = values.astype(np.int64) if short else values
    return pd.DataFrame(found, copy=False)


def words_of(category: pd.Categorical) -> pd.api.extensions.ExtensionArray:
    """Return the words of a category, missing where it is."""
    # the place -1 of what is missing is the last
    return pd.array([*category.categories, None], dtype="str").take(category.codes)


def _narrow(chunk: Mapping[str, Column]) -> dict[str, pd.Series[Any]]:
    """Return the chunk with counts of four bytes, which they are far from filling."""
    return {
        name: pd.Series(values, dtype=np.int32 if values.dtype == np.int64 else None, copy=False)
        for name, values in chunk.items()
    }


def _columns(chunks: list[dict[str, pd.Series[Any]]]) -> dict[str, pd.Series[Any]]:
    """Return the columns of all chunks under each other, taken out of the chunks one by one."""
    return {
        name: pd.concat([chunk.pop(name) for chunk in chunks], ignore_index=True)
        for name in list(chunks[0])
    }


def _order(ranks: Sequence[NDArray[np.integer[Any]]], place: Ints) -> Ints:
    """Return the order by the ranks, the first before the others, and the place in each.

    No two rows are alike in all of them. As one number where an integer holds it: sorting that
    takes a third of the time of one sort for each.
    """
    number, size = np.zeros(len(place), np.int64), 1
    for own in (*ranks, place):
        width = int(own.max(initial=0)) + 1
        size *= width
        if size > _LARGEST:
            return np.lexsort([place, *reversed(ranks)])
        number = number * width + own
    return np.argsort(number)


def _ranks(key: pd.Series[int]) -> NDArray[np.integer[Any]]:
    """Return numbers in the order of the values, missing ones last."""
    if key.dtype == np.int8:  # a code
        return key.to_numpy(np.int8)
    number, values = pd.factorize(key, sort=True)
    return np.where(number < 0, len(values), number)
