"""The named SQL steps in ``sql/`` and how their statements run with bound values."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from functools import cache, partial
from typing import TYPE_CHECKING, Any

import duckdb

from sgzone.resources import sql

if TYPE_CHECKING:
    import pandas as pd

_LEFT_OVER = 2**24  # bytes of the file that may stay

step_text = partial(sql, "season")
"""Return the text of ``sql/<name>.sql``."""


@cache
def statements(name: str) -> tuple[tuple[str, frozenset[str]], ...]:
    """Return the statements of ``sql/<name>.sql``, each with the names of its bound values."""
    return tuple(
        (statement.query, frozenset(statement.named_parameters))
        for statement in duckdb.extract_statements(step_text(name))
    )


def bindable(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return values that can be bound; stray bytes of a file name are spelt out."""
    return {
        name: value.encode("utf-8", "backslashreplace").decode()
        if isinstance(value, str)
        else value
        for name, value in values.items()
    }


def plain_columns(
    connection: duckdb.DuckDBPyConnection, name: str, values: Mapping[str, Any]
) -> dict[str, list[Any]]:
    """Return the columns that a step of one statement selects, None where a value is missing."""
    found = connection.execute(step_text(name), bindable(values))
    names = [column[0] for column in found.description or ()]
    rows = found.fetchall()
    return {column: [row[place] for row in rows] for place, column in enumerate(names)}


def give_back_memory(connection: duckdb.DuckDBPyConnection) -> None:
    """Drop what was read of the file and is not in use."""
    [(used,)] = connection.execute(step_text("memory_used")).fetchall()
    [(limit,)] = connection.execute("SELECT current_setting('memory_limit')").fetchall()
    try:
        # what does not fit under a limit is dropped at once; what is in use refuses it
        with suppress(duckdb.OutOfMemoryException, duckdb.IOException):
            connection.execute(f"SET memory_limit = '{used + _LEFT_OVER}B'")
    finally:
        connection.execute(f"SET memory_limit = '{limit}'")


def run_step(
    connection: duckdb.DuckDBPyConnection, name: str, values: Mapping[str, Any] | None = None
) -> None:
    """Run every statement of a step, each with those of ``values`` it names."""
    for query, names in statements(name):
        connection.execute(query, {key: v for key, v in (values or {}).items() if key in names})


def temp_table(connection: duckdb.DuckDBPyConnection, name: str, frame: pd.DataFrame) -> None:
    """Make (or replace) a temporary table from a pandas frame; ``name`` is a plain word."""
    connection.register("temp_frame", frame)
    try:
        connection.execute(f"CREATE OR REPLACE TEMP TABLE {name} AS FROM temp_frame")
    finally:
        connection.unregister("temp_frame")
