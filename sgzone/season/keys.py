"""What of a file is in the season file already, and what it replaces. Names from closed lists."""

from __future__ import annotations

from collections.abc import Sequence

import duckdb

from sgzone.cards.columns import KEYS
from sgzone.errors import Problem, first_of_a_kind

TABLES = {"shot": "strokes", "log": "practice_log", "test": "test_balls", "bag": "bag"}
REPLACED_BY = {**KEYS, "log": ("player", "date")}
"""Kind -> the columns of what ``replace`` replaces: whole rounds, days, blocks, bag entries."""

_NUMBERED = (("loads", "load_id"), ("rounds", "round_key"), ("holes", "hole_key"))
_KEY_WORDS = {"shot": "round", "log": "entry", "test": "block", "bag": "bag entry"}


def next_keys(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Return the first free keys by what the steps bind: after the greatest of the season file.

    Asked before anything is deleted, so that no key stands for two things in one transaction.
    """
    names = [f"(SELECT coalesce(max({key}), 0) + 1 FROM {table})" for table, key in _NUMBERED]
    [(load, round_, hole)] = connection.execute(f"SELECT {', '.join(names)}").fetchall()
    return {"load_id": int(load), "next_round": int(round_), "next_hole": int(hole)}


def rows_in_place(connection: duckdb.DuckDBPyConnection, kind: str, digest: str) -> int:
    """Return how many rows of the very same file earlier loads brought that are still there.

    Under whatever name: a player may have been renamed. A row that is there under two names is one.
    """
    row = connection.execute(
        f"SELECT count(DISTINCT source_row) FROM {TABLES[kind]} JOIN loads USING (load_id) "
        "WHERE sha256 = $digest",
        {"digest": digest},
    ).fetchone()
    assert row is not None
    return int(row[0])


def find_present(connection: duckdb.DuckDBPyConnection, kind: str) -> None:
    """Make the temporary table ``present``: staged keys that the season file has."""
    keys = ", ".join(KEYS[kind])
    connection.execute(
        f"CREATE OR REPLACE TEMP TABLE present AS "
        f"SELECT s.*, loads.sha256, loads.file_name, loads.loaded_at "
        f"FROM (SELECT {keys}, min(source_row) AS source_row FROM rows_in_order GROUP BY {keys}) s "
        f"JOIN (SELECT DISTINCT {keys}, load_id FROM {TABLES[kind]}) t ON {_same(KEYS[kind])} "
        f"JOIN loads USING (load_id)"
    )


def present_problems(
    connection: duckdb.DuckDBPyConnection, file: str, kind: str, digest: str
) -> list[Problem]:
    """Return one problem per key that another file brought into the season file."""
    key = KEYS[kind]
    rows = connection.execute(
        f"SELECT source_row, concat_ws(', ', {', '.join(key)}), file_name, loaded_at FROM present "
        "WHERE sha256 <> $digest ORDER BY source_row",
        {"digest": digest},
    ).fetchall()
    found = (
        Problem(
            file,
            row,
            key[0],
            value,
            f"this {_KEY_WORDS[kind]} is in the season file already (from {name}, loaded "
            f"{when:%Y-%m-%d %H:%M} UTC)",
            "Load with --replace to replace it whole, or take these rows out.",
        )
        for row, value, name, when in rows
    )
    return first_of_a_kind(found, len(rows))


def keep_fresh(connection: duckdb.DuckDBPyConnection, kind: str, columns: Sequence[str]) -> None:
    """Make the view ``fresh``: staged rows whose keys the season file lacks, in their order."""
    some = connection.execute("SELECT 1 FROM present LIMIT 1").fetchone()
    lacking = f"WHERE NOT EXISTS (SELECT 1 FROM present t WHERE {_same(KEYS[kind])})"
    connection.execute(
        f"CREATE OR REPLACE TEMP VIEW fresh AS SELECT {', '.join(columns)} FROM staged s "
        f"{lacking if some else ''}"
    )


def remove_replaced(connection: duckdb.DuckDBPyConnection, kind: str) -> None:
    """Delete what the staged rows replace."""
    replaced = f"EXISTS (SELECT 1 FROM staged s WHERE {_same(REPLACED_BY[kind])})"
    tables = ("strokes", "rounds") if kind == "shot" else (TABLES[kind],)
    for table in tables:
        connection.execute(f"DELETE FROM {table} t WHERE {replaced}")
    if kind == "shot":
        remove_orphaned_holes(connection)


def remove_orphaned_holes(connection: duckdb.DuckDBPyConnection) -> None:
    """Delete holes whose round is gone."""
    connection.execute("DELETE FROM holes WHERE round_key NOT IN (SELECT round_key FROM rounds)")


def _same(columns: tuple[str, ...]) -> str:
    return " AND ".join(f"s.{name} IS NOT DISTINCT FROM t.{name}" for name in columns)
