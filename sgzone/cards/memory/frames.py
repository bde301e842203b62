"""A table in memory (pandas, polars, arrow) to cells of text, row by row as it stands there.

Rows count from 0, as ``frame.iloc`` counts them, in every message and in what is kept of a stroke.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from enum import Enum
from pathlib import Path
from typing import Protocol, TypeGuard

import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow.interchange import from_dataframe

from sgzone.cards.columns import names_of
from sgzone.cards.given import NOTHING, ORDERS, Given
from sgzone.cards.grid import Cells, TextTable
from sgzone.cards.limits import refuse_long, refuse_wide
from sgzone.cards.memory.canonical import as_a_card
from sgzone.cards.parquet import text_column
from sgzone.cards.tolerant.arranging import arrange
from sgzone.cards.tolerant.header import find_header
from sgzone.errors import CallError, Problem

NAME = "frame"
"""What a frame is called where a message names a file."""
_HEADER = -1
"""The row of its header, which is none of its rows: the first is 0."""

_ARGUMENTS = {
    **{'--as "NAME"': 'player="NAME"', "--as": "player="},
    **{f"--dates {order}": f'dates="{order}"' for order in ORDERS},
    **{"--new-player": "new_player=True", "--replace": "replace=True"},
}
"""Option of the terminal that a fix may name -> what a caller in Python writes."""


class ArrowTable(Protocol):
    """A table of any library that hands its columns over as arrow does: polars, arrow, others."""

    def __arrow_c_stream__(self, requested_schema: object | None = None) -> object:
        """Return its batches."""


Frame = pd.DataFrame | ArrowTable
"""What may stand in for a file."""


def is_file(given: object) -> TypeGuard[str | Path]:
    """Return whether what was given names a file; else it is to be read as a table in memory."""
    return isinstance(given, str | bytes | os.PathLike)


def read_frame(frame: object, given: Given = NOTHING) -> TextTable:
    """Read a table in memory as a file of the same cells would be read.

    Raises ``DataError`` for a header of no known table; ``CallError`` for what is no table, and for
    an answer that only a file can need.
    """
    for name in ("sheet", "mapping"):
        if getattr(given, name) is not None:
            raise CallError(f"{name}= is for files; rename the columns of the frame instead.")
    table = as_arrow(frame)
    refuse_wide(NAME, table.num_columns)
    refuse_long(NAME, table.num_rows)
    texts = [
        text_column(NAME, name, _by_its_clock(column))
        for name, column in zip(table.column_names, table.columns, strict=True)
    ]
    card = as_a_card(pa.Table.from_arrays(texts, names=table.column_names))
    columns = [column.combine_chunks() for column in card.columns]
    rows = range(card.num_rows)
    cells = Cells(card.column_names, _HEADER, columns, rows, [False] * len(rows))
    read = arrange(NAME, cells, given)
    told = tuple(
        replace(problem, row=None) if problem.row == _HEADER else problem
        for problem in read.problems
    )
    return replace(read, problems=told)


def _by_its_clock(column: pa.ChunkedArray) -> pa.ChunkedArray:
    """Return moments with a zone as the clock of that zone showed them: the day is that one's."""
    if pa.types.is_timestamp(column.type) and column.type.tz is not None:
        with suppress(pa.ArrowInvalid):  # an unknown zone: the column is read as it is
            return pc.local_timestamp(column)
    return column


def says_who(headers: Sequence[str]) -> bool:
    """Return whether one of the headers is that of the player, in whatever words."""
    found = find_header([list(headers)])
    return found is not None and any("player" in one.names for one in found.headings)


def as_an_argument(problem: Problem) -> Problem:
    """Return a problem whose way out is an argument in Python, not an option of the terminal.

    >>> as_an_argument(Problem(NAME, 3, "date", "5/6", "which?", "Say --dates dmy.")).fix
    'Say dates="dmy".'
    """
    fix = problem.fix
    for option, argument in _ARGUMENTS.items():
        fix = fix.replace(option, argument)
    return replace(problem, fix=fix)


def as_arrow(frame: object) -> pa.Table:
    """Return a table in memory as one of arrow's, blank cells null.

    Raises ``CallError`` for what is no table, and for columns of several levels.
    """
    if isinstance(frame, pd.DataFrame):
        return _of_pandas(frame)
    if isinstance(frame, pa.Table):
        return frame
    if isinstance(frame, pa.RecordBatch):
        return pa.Table.from_batches([frame])
    if hasattr(frame, "collect") and not hasattr(frame, "__arrow_c_stream__"):
        raise CallError("This is a question not asked yet, no table: write frame.collect().")
    with suppress(pa.ArrowInvalid, pa.ArrowTypeError):  # one column by itself is no table
        # as its own library sees it, in types that every arrow reads
        found = frame.to_arrow() if hasattr(frame, "to_arrow") else frame
        if isinstance(found, pa.Table):
            return found
        if hasattr(found, "__arrow_c_stream__"):
            return pa.table(found)
        if hasattr(found, "__dataframe__"):
            return from_dataframe(found)
    raise CallError(
        f"{type(frame).__name__} is no table; give a pandas or polars frame, or an arrow table."
    )


def _of_pandas(frame: pd.DataFrame) -> pa.Table:
    if frame.columns.nlevels > 1:
        raise CallError(
            "The frame's columns have several levels; join them to one name each: "
            "frame.columns = ['_'.join(names) for names in frame.columns]."
        )
    known = set(names_of("shot")) - {*frame.columns}
    if aside := [name for name in frame.index.names if name in known]:
        raise CallError(
            f"The frame's index holds {', '.join(aside)}, which a card has as columns; write "
            "frame.reset_index()."
        )
    arrays = [_array(frame.iloc[:, place]) for place in range(frame.shape[1])]
    return pa.Table.from_arrays(arrays, names=[str(name) for name in frame.columns])


def _array(column: pd.Series) -> pa.Array:
    try:
        if isinstance(column.dtype, pd.PeriodDtype):  # to arrow it is a number of days
            raise TypeError
        return pa.array(column, from_pandas=True)
    except (pa.ArrowException, TypeError, ValueError):  # numbers and words in one column
        blank = column.isna().to_numpy(bool)
        words = [None if b else _word(cell) for cell, b in zip(column, blank, strict=True)]
        return pa.array(words, pa.string())


def _word(cell: object) -> str:
    return str(cell.value if isinstance(cell, Enum) else cell)


def digest_of(table: pa.Table) -> str:
    """Return the SHA-256 of a table, of its columns' names, types and values."""
    found = _Hashed()
    with pa.ipc.new_stream(pa.PythonFile(found, "w"), table.schema) as stream:
        stream.write_table(table)
    return found.sum.hexdigest()


class _Hashed:
    """A file that keeps nothing but the hash of what is written to it."""

    closed = False

    def __init__(self) -> None:
        self.sum = hashlib.sha256()

    def write(self, some: bytes) -> int:
        """Take what is written."""
        self.sum.update(some)
        return len(some)

    def flush(self) -> None:
        """Nothing waits."""

    def close(self) -> None:
        """Nothing is open."""
