"""What of a file is in the season file already, and what it replaces. Names from closed lists."""

from __future__ import annotations

from collections.abc import Sequence

import duckdb

from sgzone.cards.tables import TABLE
from sgzone.errors import Problem, first_of_a_kind

_NUMBERED = (("loads", "load_id"), ("rounds", "round_key"), ("holes", "hole_key"))


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
        f"SELECT count(DISTINCT source_row) FROM {TABLE[kind].stored_in} "
        "JOIN loads USING (load_id) WHERE sha256 = $digest",
        {"digest": digest},
    ).fetchone()
    assert row is not None
    return int(row[0])


def find_present(connection: duckdb.DuckDBPyConnection, kind: str) -> None:
    """Make the temporary table ``present``: staged keys that the season file has."""
    keys = ", ".join(TABLE[kind].key)
    connection.execute(
        f"CREATE OR REPLACE TEMP TABLE present AS "
        f"SELECT s.*, loads.sha256, loads.file_name, loads.loaded_at "
        f"FROM (SELECT {keys}, min(source_row) AS source_row FROM rows_in_order GROUP BY {keys}) s "
        f"JOIN (SELECT DISTINCT {keys}, load_id FROM {TABLE[kind].stored_in}) t "
        f"ON {_same(TABLE[kind].key)} JOIN loads USING (load_id)"
    )


def present_problems(
    connection: duckdb.DuckDBPyConnection, file: str, kind: str, digest: str
) -> list[Problem]:
    """Return one problem per key that another file brought into the season file."""
    key = TABLE[kind].key
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
            f"this {TABLE[kind].key_name} is in the season file already (from {name}, loaded "
            f"{when:%Y-%m-%d %H:%M} UTC)",
            "Load with --replace to replace it whole, or take these rows out.",
        )
        for row, value, name, when in rows
    )
    return first_of_a_kind(found, len(rows))


def keep_fresh(connection: duckdb.DuckDBPyConnection, kind: str, columns: Sequence[str]) -> None:
    """Make the view ``fresh``: staged rows whose keys the season file lacks, in their order."""
    some = connection.execute("SELECT 1 FROM present LIMIT 1").fetchone()
    lacking = f"WHERE NOT EXISTS (SELECT 1 FROM present t WHERE {_same(TABLE[kind].key)})"
    connection.execute(
        f"CREATE OR REPLACE TEMP VIEW fresh AS SELECT {', '.join(columns)} FROM staged s "
        f"{lacking if some else ''}"
    )


def remove_replaced(connection: duckdb.DuckDBPyConnection, kind: str) -> None:
    """Delete what the staged rows replace."""
    replaced = f"EXISTS (SELECT 1 FROM staged s WHERE {_same(TABLE[kind].replaced_by)})"
    tables = ("strokes", "rounds") if kind == "shot" else (TABLE[kind].stored_in,)
    for table in tables:
        connection.execute(f"DELETE FROM {table} t WHERE {replaced}")
    if kind == "shot":
        remove_orphaned_holes(connection)


def remove_orphaned_holes(connection: duckdb.DuckDBPyConnection) -> None:
    """Delete holes whose round is gone."""
    connection.execute("DELETE FROM holes WHERE round_key NOT IN (SELECT round_key FROM rounds)")


def _same(columns: tuple[str, ...]) -> str:
    return " AND ".join(f"s.{name} IS NOT DISTINCT FROM t.{name}" for name in columns)
