"""The named SQL steps in ``sql/`` and how their statements run with bound values."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, partial
from typing import Any

import duckdb
import pandas as pd

from sgzone.resources import sql

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
