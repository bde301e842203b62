"""The cells of one table to a ``TextTable``: every column named, every cell as clear as it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import reduce

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.clock import today
from sgzone.cards.example import without_example
from sgzone.cards.given import NOTHING, Given
from sgzone.cards.grid import Cells, TextTable, no_header
from sgzone.cards.limits import refuse_wide
from sgzone.cards.tolerant.clubs import read_clubs, read_fractions
from sgzone.cards.tolerant.coded import coded, from_codes
from sgzone.cards.tolerant.dates import read_dates
from sgzone.cards.tolerant.distances import LENGTHS, read_distances
from sgzone.cards.tolerant.draft import Draft
from sgzone.cards.tolerant.filling import fill_down
from sgzone.cards.tolerant.holes import number_shots
from sgzone.cards.tolerant.naming import Naming, name_columns, note_extra, tell_missing
from sgzone.cards.tolerant.numbers import ask_mixed_signs, note_decimals, numeric, read_numbers
from sgzone.cards.tolerant.passing import ADDED_UP
from sgzone.cards.tolerant.putts import ask_lengths_of_putts
from sgzone.cards.tolerant.wording import folded
from sgzone.cards.tolerant.words import read_words
from sgzone.errors import Problem

EXTRA_PREFIX = "x"


def arrange(file: str, cells: Cells, given: Given = NOTHING) -> TextTable:
    """Return one table with its columns named and its cells read as a person would.

    Raises ``DataError`` for a header of no known table, or one that is too wide.
    """
    refuse_wide(file, len(cells.headers))
    header = cells.header
    if header is None:
        raise no_header(file, [cells.headers])
    naming = name_columns(file, header, cells.columns)
    table, extra = _table(naming, cells)
    of_example: list[Problem] = []
    if header.kind == "shot":
        table, of_example = without_example(file, table)
    draft = _draft(naming, cells, table, extra, given)
    _say_who(draft)
    _ask_totals(draft)
    tell_missing(naming, set(draft.columns))
    note_extra(naming)
    for step in _STEPS if table.num_rows else ():
        step(draft)
    problems = [*cells.problems, *naming.problems, *draft.problems, *of_example]
    arrays = {name: table[name] for name in ("source_row", "broken")} | draft.columns
    arrays |= {name: table[name] for name in _extra_names(extra)}
    return TextTable(file, header.kind, pa.table(arrays), extra, tuple(problems))


def _ask_mixed_signs(draft: Draft) -> None:
    lengths = [name for name in LENGTHS if name in draft.columns]
    ask_mixed_signs(draft, [*lengths, *(column.name for column in numeric(draft))])


_STEPS: tuple[Callable[[Draft], None], ...] = (
    *(read_fractions, read_words, read_dates, _ask_mixed_signs, read_numbers, read_distances),
    *(note_decimals, fill_down, number_shots, read_clubs, ask_lengths_of_putts),
)
"""In this order: words before what they decide, repeated cells after the cells they repeat."""


def _extra_names(extra: Sequence[str]) -> list[str]:
    return [f"{EXTRA_PREFIX}{place}" for place in range(len(extra))]


def _table(naming: Naming, cells: Cells) -> tuple[pa.Table, tuple[str, ...]]:
    """Return the columns under their names, and the headers of the extra ones."""
    arrays: dict[str, pa.Array] = {
        "source_row": pa.array(cells.row_numbers, pa.int32()),
        "broken": pa.array(cells.broken, pa.bool_()),
    }
    extra: list[str] = []
    for one, name, column in zip(naming.header.headings, naming.names, cells.columns, strict=True):
        if name:
            arrays.setdefault(name, coded(column))
        elif one.written:
            arrays[f"{EXTRA_PREFIX}{len(extra)}"] = column
            extra.append(one.written)
    return _filled(pa.table(arrays)), tuple(extra)


def _filled(table: pa.Table) -> pa.Table:
    """Return the rows with anything in them; a table of which none has stays as it is."""
    columns = table.columns[2:]  # behind the number of the row, and whether its cells are clear
    if not columns or not all(column.null_count for column in columns):
        return table
    blank = reduce(pc.and_, (_is_blank(column) for column in columns))
    return table if pc.all(blank).as_py() else table.filter(pc.invert(blank))


def _is_blank(column: pa.ChunkedArray) -> pa.ChunkedArray:
    return pc.is_null(pa.chunked_array([coded(column.combine_chunks())]))


def _draft(
    naming: Naming, cells: Cells, table: pa.Table, extra: Sequence[str], given: Given
) -> Draft:
    kind = naming.header.kind
    headings = {name: naming.where(name) for name in naming.names if name}
    there = {name: one for name, one in headings.items() if one is not None}
    places = {name: naming.names.index(name) for name in there}
    extras = zip(extra, _extra_names(extra), strict=True)
    return Draft(
        file=naming.file,
        kind=kind,
        header_row=naming.header.row,
        rows=np.asarray(table["source_row"]),
        columns={name: table[name].combine_chunks() for name in there},
        given=given,
        today=today(),
        broken=np.asarray(table["broken"], dtype=bool),
        commas=cells.commas,
        typed=cells.typed,
        lengths_in={name: one.lengths_in for name, one in there.items() if one.lengths_in},
        written={name: one.written for name, one in there.items()},
        ends={name: cells.ends[place] for name, place in places.items() if place in cells.ends},
        extra={header: table[name].combine_chunks() for header, name in extras},
    )


def _ask_totals(draft: Draft) -> None:
    """Ask where a total stands in the player's column, and in its row what only a stroke has."""
    found = [text for text in draft.texts("player") if folded(text) in ADDED_UP]
    if found:
        draft.ask(
            draft.first_row("player", found),
            "player",
            found[0],
            "a total, or a player of that name?",
            "Delete the row, or leave its lie and distance blank; else write the full name.",
        )


def _say_who(draft: Draft) -> None:
    """Take the player from the caller where no column says who played."""
    column, name = draft.columns.get("player"), draft.given.player
    others = [one for key, one in draft.columns.items() if key != "player"]
    if all(one.null_count == len(one) for one in others):  # nothing is said at all
        return
    if column is not None and column.null_count == len(column):
        del draft.columns["player"]
    if name is None:
        return
    if "player" not in draft.columns:
        codes = np.zeros(len(draft.rows), dtype=np.int64)
        draft.columns["player"] = from_codes(codes, pa.array([name], pa.string()))
        return
    other = [text for text in draft.texts("player") if folded(text) != folded(name)]
    if other:
        draft.ask(
            draft.first_row("player", other[:1]),
            "player",
            other[0],
            f'the file says who played; "{name}" is somebody else',
            "Leave --as out, or correct the name in the file.",
        )
