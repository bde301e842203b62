"""Cells by their distinct texts: each text is read and judged once, however many rows hold it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass

import duckdb
import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from sgzone.cards.clock import today
from sgzone.cards.columns import ColumnSpec, columns_of
from sgzone.cards.rules import Rule, typed
from sgzone.units import split_distance

BLANKS = " \t\r\n\u00a0\ufeff"
DISTANCES = {
    "distance": ("distance_value", "written_unit"),
    "to_distance": ("to_value", "to_written_unit"),
}
"""Column of distances -> what is read from its cells: the number, and the unit in the cell."""
DISTANCE_VALUES = {value: name for name, values in DISTANCES.items() for value in values}
_PLAIN = r"^[0-9]{1,15}(\.[0-9]{1,25})?$"
"""A distance without a unit, as machines write it."""
_FEW = 8192  # distinct texts; columns of no more are read by one query together
_CODES = ((pa.int8(), 1 << 7), (pa.int16(), 1 << 15))
_TYPES = {"integer": pa.int32(), "number": pa.float64(), "date": pa.date32()}
"""Kind -> type of what is read; of all other kinds it is text."""


@dataclass(frozen=True, slots=True)
class Coded:
    """One column. ``cells``: its distinct texts without blanks around them, null (last) for blank.

    ``codes``: which of them each row holds; integers, none missing.
    """

    codes: pa.Array
    cells: pa.Array

    def spread(self, values: pa.Array) -> pa.DictionaryArray:
        """Return one value per row, given one value per text."""
        return pa.DictionaryArray.from_arrays(self.codes, values)


def coded(column: pa.Array | None, rows: int) -> Coded:
    """Return a column by its distinct texts; None is a column the file lacks."""
    if column is None:
        return Coded(pa.array(np.zeros(rows, np.int8)), pa.nulls(1, pa.string()))
    if not pa.types.is_dictionary(column.type):
        column = column.dictionary_encode()
    plain = pc.utf8_trim(column.dictionary, BLANKS)
    plain = pc.if_else(pc.equal(plain, ""), pa.scalar(None, pa.string()), plain)
    codes, cells = column.indices, column.dictionary
    if not plain.equals(cells):  # "tee" and " tee" are one text
        again = plain.dictionary_encode()
        codes, cells = again.indices.take(codes), again.dictionary
    if codes.null_count or not len(cells):
        codes = codes.fill_null(len(cells))
        cells = pa.concat_arrays([cells, pa.nulls(1, pa.string())])
    narrow = next((kind for kind, most in _CODES if len(cells) <= most), pa.int32())
    return Coded(codes.cast(narrow), cells)


def filled(columns: Sequence[Coded], rows: int) -> pa.Array | None:
    """Return which rows have any text in these columns, None where all of them do."""
    if any(not column.cells.null_count for column in columns):
        return None
    there = np.zeros(rows, dtype=bool)
    for column in columns:
        there |= np.asarray(column.codes) < len(column.cells) - 1
    return None if there.all() else pa.array(there)


def read_cells(
    connection: duckdb.DuckDBPyConnection,
    kind: str,
    columns: Mapping[str, Coded],
    rules: Sequence[Rule],
) -> tuple[dict[str, pa.Array], set[Rule]]:
    """Return what is read from the texts of each column, and which of ``rules`` some text breaks.

    Read is one value per text under the column's name; from a distance come the two of
    ``DISTANCES``. ``rules`` look at nothing but the cell of their column.
    """
    connection.execute(f"SET VARIABLE today = DATE '{today()}'")  # the rules on dates ask for it
    values: dict[str, pa.Array] = {}
    broken = {rule for rule in rules if rule.texts and _holds(columns[rule.column], rule.texts)}
    rules = [rule for rule in rules if not rule.texts]
    judged = {rule.column for rule in rules}
    asked = dict(columns)
    for column in columns_of(kind):
        # the engine takes longer to understand the question than a card to answer it
        if not column.default and column.name not in judged and _textless(columns[column.name]):
            values |= _nothing(column)
            del asked[column.name]
    for group in _groups(asked):
        judging = [rule for rule in rules if rule.column in group]
        found = _ask(connection, kind, group, judging)
        for name in set(found.column_names) - {f"rule_{i}" for i in range(len(judging))}:
            source = DISTANCE_VALUES.get(name, name)
            values[name] = found[name].combine_chunks()[: len(columns[source].cells)]
        broken |= {rule for i, rule in enumerate(judging) if pc.any(found[f"rule_{i}"]).as_py()}
    return values, broken


def _holds(column: Coded, texts: Sequence[str]) -> bool:
    return bool(pc.any(pc.is_in(column.cells, pa.array(texts))).as_py())


def _textless(column: Coded) -> bool:
    return bool(len(column.cells) == column.cells.null_count)


def _nothing(column: ColumnSpec) -> dict[str, pa.Array]:
    """Return what is read from a column without any text."""
    if column.kind == "distance":
        value, unit = DISTANCES[column.name]
        return {value: pa.nulls(1, pa.float64()), unit: pa.nulls(1, pa.string())}
    return {column.name: pa.nulls(1, _TYPES.get(column.kind, pa.string()))}


def _groups(columns: Mapping[str, Coded]) -> Iterator[dict[str, Coded]]:
    few = {name: column for name, column in columns.items() if len(column.cells) <= _FEW}
    if few:
        yield few
    yield from ({name: column} for name, column in columns.items() if name not in few)


def _ask(
    connection: duckdb.DuckDBPyConnection,
    kind: str,
    group: Mapping[str, Coded],
    rules: Sequence[Rule],
) -> pa.Table:
    """Return the values and what each rule finds. Short columns go on with their last text."""
    rows = np.arange(max(len(column.cells) for column in group.values()))
    texts = {"position": pa.array(rows)}
    for name, column in group.items():
        texts[f"cell_{name}"] = column.cells.take(pa.array(np.minimum(rows, len(column.cells) - 1)))
    read = [column for column in columns_of(kind) if column.name in group]
    values = {column.name: typed(column) for column in read if column.kind != "distance"}
    for name in DISTANCES.keys() & group.keys():
        texts |= _distances(name, texts[f"cell_{name}"])
        values |= {value: f"texts.{value}" for value in DISTANCES[name]}
    asked = [f"{value} AS {name}" for name, value in values.items()]
    named = [*values, *(f"{rule.where} AS rule_{i}" for i, rule in enumerate(rules))]
    cells = ", ".join(name for name in texts if name not in values)
    connection.register("texts", pa.table(texts))
    # a long question asked through `sql` is read twice, once to see what it would return
    with _taken_as_written(connection):
        connection.execute(
            f"CREATE TEMP TABLE texts_read AS SELECT position, {', '.join(named)} "
            f"FROM (SELECT {cells}, {', '.join(asked)} FROM texts)"
        )
    connection.unregister("texts")
    in_order = connection.sql("SELECT * EXCLUDE (position) FROM texts_read ORDER BY position")
    found = in_order.to_arrow_table()
    connection.execute("DROP TABLE texts_read")
    return found


@contextmanager
def _taken_as_written(connection: duckdb.DuckDBPyConnection) -> Iterator[None]:
    """Let the engine answer without looking for a better way: the looking takes a fifth of it."""
    [(names,)] = connection.execute(
        "SELECT string_agg(name, ',') FROM duckdb_optimizers()"
    ).fetchall()
    connection.execute(f"SET disabled_optimizers = '{names}'")
    try:
        yield
    finally:
        connection.execute("RESET disabled_optimizers")


def _distances(name: str, cells: pa.Array) -> dict[str, pa.Array]:
    """Return the number and the unit of each distance cell, null where it is none.

    A converted file has as many texts as rows: plain numbers are read all at once, to the same bit.
    """
    plain = pc.fill_null(pc.match_substring_regex(cells, _PLAIN), False)
    numbers = pc.if_else(plain, cells, pa.scalar(None, pa.string())).cast(pa.float64())
    units = pa.nulls(len(cells), pa.string())
    others = pc.indices_nonzero(pc.and_(pc.invert(plain), cells.is_valid()))
    if len(others):
        read = [_split(cell) for cell in cells.take(others).to_pylist()]
        numbers = _put(numbers, others, pa.array([value for value, _ in read], pa.float64()))
        units = _put(units, others, pa.array([unit for _, unit in read], pa.string()))
    return dict(zip(DISTANCES[name], (numbers, units), strict=True))


def _split(cell: str) -> tuple[float | None, str | None]:
    with suppress(ValueError):  # the rules say what is wrong with it
        return split_distance(cell)
    return None, None


def _put(column: pa.Array, places: pa.Array, values: pa.Array) -> pa.Array:
    """Return a column with other values at some places."""
    there = np.zeros(len(column), dtype=bool)
    there[np.asarray(places)] = True
    return pc.replace_with_mask(column, pa.array(there), values)
