"""What a season file may hold: its own tables, column by column, and nothing that acts."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import duckdb

from sgzone.season.steps import step_text

Column = tuple[str, str, bool]
"""Name, type, whether it may be empty."""

# The names of system.main cannot be taken by what is in the file; what is asked of them holds no
# function, for a macro of the file could stand for one.
_ACTING = {
    "a view": "view_name FROM system.main.duckdb_views() WHERE NOT internal",
    "a macro": "function_name FROM system.main.duckdb_functions() WHERE NOT internal",
    "a type": "type_name FROM system.main.duckdb_types() WHERE NOT internal",
    "a second schema": "schema_name FROM system.main.duckdb_schemas() WHERE NOT internal",
    "a unique index": "index_name FROM system.main.duckdb_indexes() WHERE is_unique",
}
_TRIGGERS = {"a trigger": "trigger_name FROM system.main.duckdb_triggers()"}  # since DuckDB 2.0
_COLUMNS = (
    "SELECT table_name, column_name, data_type, is_nullable, column_default "
    "FROM system.main.duckdb_columns() WHERE NOT internal ORDER BY table_oid, column_index"
)
_CONSTRAINTS = (
    "SELECT table_name, constraint_type, constraint_column_names "
    "FROM system.main.duckdb_constraints() WHERE constraint_type <> 'NOT NULL'"
)
_TABLE = re.compile(r"CREATE TABLE (\w+) \((.*?)\);", re.DOTALL)
_ADDED = re.compile(r"ALTER TABLE (\w+) ADD COLUMN (\w+ \w+);")
_KEY = re.compile(r"ALTER TABLE (\w+) ADD PRIMARY KEY \((\w+)\);")
_COMMENT = re.compile(r"--.*")


@dataclass(frozen=True, slots=True)
class Tables:
    """The columns of each table in their order, and the keys by constraint: table and column."""

    columns: dict[str, list[Column]]
    keys: frozenset[tuple[str, str]]


def tables_there(connection: duckdb.DuckDBPyConnection) -> dict[str, list[Column]]:
    """Return the columns of each table of a file (and view, which ``faults`` tells)."""
    found: dict[str, list[Column]] = {}
    for table, name, kind, empty, given in connection.execute(_COLUMNS).fetchall():
        # what a column is filled with is a part of what it is; no column of ours is
        made = kind if given is None else f"{kind} AS {given}"
        found.setdefault(table, []).append((name, made, empty))
    return found


def acting(connection: duckdb.DuckDBPyConnection) -> list[str]:
    """Return what in a file could answer in the place of its tables and of what sums them up."""
    try:
        found = _named(connection, _ACTING | _TRIGGERS)
    except duckdb.CatalogException:
        found = _named(connection, _ACTING)
    return [f"{what}, {name}" for what, name in found]


def _named(connection: duckdb.DuckDBPyConnection, asked: dict[str, str]) -> list[tuple[str, str]]:
    query = " UNION ALL ".join(f"SELECT '{what}', {rest}" for what, rest in asked.items())
    return connection.execute(query).fetchall()


@cache
def _made_by(texts: tuple[str, ...]) -> Tables:
    text = _COMMENT.sub("", "\n".join(texts))
    columns = {
        table: [_column(part) for part in body.split(",")] for table, body in _TABLE.findall(text)
    }
    for table, part in _ADDED.findall(text):
        columns[table].append(_column(part))
    return Tables(columns, frozenset(_KEY.findall(text)))


def _column(text: str) -> Column:
    name, kind, *rest = text.split()
    return name, kind, rest != ["NOT", "NULL"]


def made_by(steps: Sequence[str]) -> Tables:
    """Return the tables that these steps of ``sql/`` make."""
    return _made_by(tuple(step_text(step) for step in steps))


def texts_of_tables(connection: duckdb.DuckDBPyConnection) -> dict[str, str]:
    """Return what would make each table of a file anew, by its name; views are none."""
    rows = connection.execute("SELECT table_name, sql FROM system.main.duckdb_tables()").fetchall()
    return dict(rows)


def faults(
    connection: duckdb.DuckDBPyConnection,
    steps: Sequence[str],
    there: Mapping[str, list[Column]],
    made: Mapping[str, str],
) -> list[str]:
    """Return how a file differs from what these steps make; tables beside those may be there.

    ``there``: ``tables_there``; ``made``: ``texts_of_tables``. So many words each: what, and which.
    """
    if found := acting(connection):
        return found
    ours = made_by(steps)
    for table, columns in ours.columns.items():
        if table not in there:
            found.append(f"no table {table}")
        elif there[table] != columns:
            found.append(f"other columns in {table}")
    return found + _rules(connection, ours, made)


def _rules(
    connection: duckdb.DuckDBPyConnection, ours: Tables, made: Mapping[str, str]
) -> list[str]:
    found, lacking = [], set(ours.keys)
    for table, kind, names in connection.execute(_CONSTRAINTS).fetchall():
        key = (table, *names)
        if kind == "PRIMARY KEY" and key in lacking:
            lacking.remove(key)
        elif table in ours.columns or kind == "FOREIGN KEY":
            found.append(f"a rule of its own on {table}")
    found += [f"{table} without a key" for table, _ in lacking]
    # another order or sameness of letters than ours, which the columns do not show
    return found + [f"other letters in {name}" for name, sql in made.items() if " COLLATE " in sql]
