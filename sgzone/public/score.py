"""A frame of card rows valued where it is: its own rows, in its own order, with columns added."""

from __future__ import annotations

from typing import Any, TypeVar

import pandas as pd
import pyarrow as pa

from sgzone import questions
from sgzone.benchmarks import Benchmark
from sgzone.cards.memory.frames import Frame, as_arrow
from sgzone.errors import CallError
from sgzone.public.dtypes import out
from sgzone.public.seasons import season_of
from sgzone.review.where.nearest import is_auto

VALUE_COLUMNS = ("part", "band", "expected_before", "expected_after", "gained", "status")
"""What is added; ``benchmark`` too where it was asked for as ``auto``."""

F = TypeVar("F", bound=Frame)


def score(frame: F, benchmark: str | Benchmark = "tour", *, player: str | None = None) -> F:
    """Return the frame with what every row gained: the same rows, order and index.

    ``frame``: pandas, polars or arrow, the rows of a card; another kind of table comes back as an
    arrow table. ``player``: who played, where no column says it. Added are part, band,
    expected_before, expected_after, gained and status, in strokes. ``status`` says why a row has no
    value: ``outside`` (over 150 yards, before the hole came nearer), ``no_stroke`` (the row only
    marks where the ball lay), ``unknown_end``, ``no_benchmark``. Raises ``DataError`` with every
    problem of the frame, ``CallError`` where it has such a column already.

    >>> import pandas as pd
    >>> import sgzone as sg
    >>> card = pd.DataFrame({
    ...     "player": "Ada", "date": "2026-05-14", "hole": 1, "shot": [1, 2],
    ...     "lie": ["fairway", "green"], "distance": [112, 18], "result": [None, "holed"],
    ... })
    >>> sg.score(card, "tour")[["lie", "distance", "gained"]].round(2)
           lie  distance  gained
    0  fairway       112   -0.01
    1    green        18    0.84
    """
    table = as_arrow(frame)
    added = (*VALUE_COLUMNS, "benchmark") if is_auto(benchmark) else VALUE_COLUMNS
    there = [name for name in added if name in table.column_names]
    if there:
        raise CallError(
            f"The frame has {', '.join(there)} already; leave out or rename what is there, such "
            f"as frame.drop(columns={there})."
        )
    with season_of(table, player) as store:
        found = questions.gained_by_row(store, benchmark).set_index("source_row")
    rows = pd.RangeIndex(table.num_rows)
    values = found.reindex(rows).reindex(columns=list(added))
    scored: F = _beside(frame, table, out(values, "strokes_gained"))
    return scored


def _beside(frame: Any, table: pa.Table, values: pd.DataFrame) -> Any:
    if isinstance(frame, pd.DataFrame):
        return frame.assign(**{str(name): values[name].array for name in values})
    more = pa.Table.from_pandas(values, preserve_index=False)
    if hasattr(frame, "hstack"):  # as polars puts columns beside each other
        return frame.hstack(type(frame)(more))
    for name, column in zip(more.column_names, more.columns, strict=True):
        table = table.append_column(name, column)
    return table
