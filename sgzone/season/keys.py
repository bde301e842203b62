"""What of a file is in the season file already, and what it replaces. Names from closed lists.

What is there with equal values is passed over, what is there with others is refused or replaced.
Values are compared as they are stored, not as they were written; a stroke by its place in the hole,
for the number it carries is the writer's own; what stands in one row of a round or hole (course,
event, format, par) counts for all of it, as everywhere else; unknown columns are no values.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import duckdb

from sgzone.cards.columns import names_of
from sgzone.cards.tables import READ_INTO_OTHERS, TABLE
from sgzone.errors import Problem, first_of_a_kind

_NUMBERED = (("loads", "load_id"), ("rounds", "round_key"), ("holes", "hole_key"))
_ROUND = TABLE["shot"].key
_HOLE = (*_ROUND, "hole")
_SAID_ONCE = {"course": _ROUND, "event": _ROUND, "format": _ROUND, "par": _HOLE}
_NO_VALUES = (*READ_INTO_OTHERS, "shot")
"""Of a card: the number of a stroke is that of its place in the hole."""


def next_keys(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
    """Return the first free keys by what the steps bind: after the greatest of the season file.

    Asked before anything is deleted, so that no key stands for two things in one transaction.
    """
    names = [f"(SELECT coalesce(max({key}), 0) + 1 FROM {table})" for table, key in _NUMBERED]
    [(load, round_, hole)] = connection.execute(f"SELECT {', '.join(names)}").fetchall()
    return {"load_id": int(load), "next_round": int(round_), "next_hole": int(hole)}


def rows_in_place(
    connection: duckdb.DuckDBPyConnection, kind: str, digest: str, read_as: str | None
) -> int:
    """Return how many rows of the very same file, read the same way, are there from earlier loads.

    Under whatever name: a player may have been renamed. A row that is there under two names is one.
    """
    one = "(source_row, shot)" if kind == "shot" else "source_row"  # a line may hold a whole hole
    [(rows,)] = connection.execute(
        f"SELECT count(DISTINCT {one}) FROM {TABLE[kind].stored_in} JOIN loads USING (load_id)"
        " WHERE sha256 = $digest AND read_as IS NOT DISTINCT FROM $read_as",
        {"digest": digest, "read_as": read_as},
    ).fetchall()
    return int(rows)


def remember_table(connection: duckdb.DuckDBPyConnection, kind: str, file: str) -> None:
    """Add the staged keys to the temporary table ``earlier``, and what they would replace."""
    connection.execute(
        f"INSERT INTO earlier SELECT DISTINCT $kind, {_one(TABLE[kind].key)}, "
        f"{_one(TABLE[kind].replaced_by)}, $file FROM rows_in_order",
        {"kind": kind, "file": file},
    )


def remove_replaced(connection: duckdb.DuckDBPyConnection, kind: str) -> None:
    """Delete what the staged rows replace: whole rounds, days, blocks, entries of other values.

    What an earlier table of the same file brought is left: two tables never replace each other.
    """
    by = TABLE[kind].replaced_by
    _find(connection, kind, by)
    connection.execute(
        f"DELETE FROM unlike s WHERE ($kind, {_one(by)}) IN (SELECT (kind, whole) FROM earlier)",
        {"kind": kind},
    )
    if not _any(connection, "unlike"):
        return
    tables = ("strokes", "rounds") if kind == "shot" else (TABLE[kind].stored_in,)
    for table in tables:
        connection.execute(
            f"DELETE FROM {table} t WHERE EXISTS (SELECT 1 FROM unlike s WHERE {_same(by)})"
        )
    if kind == "shot":
        remove_orphaned_holes(connection)


def find_present(connection: duckdb.DuckDBPyConnection, kind: str) -> None:
    """Make the temporary tables ``present`` (staged keys that the season file has) and ``unlike``.

    ``unlike`` are those of them that have other values there.
    """
    _find(connection, kind, TABLE[kind].key)


def _find(connection: duckdb.DuckDBPyConnection, kind: str, by: Sequence[str]) -> None:
    keys, stored = ", ".join(by), "rounds" if kind == "shot" else TABLE[kind].stored_in
    connection.execute(
        f"CREATE OR REPLACE TEMP TABLE present AS SELECT s.*, max(file_name) AS file_name, "
        f"max(loaded_at) AS loaded_at "
        f"FROM (SELECT {keys}, min(source_row) AS source_row FROM rows_in_order GROUP BY {keys}) s "
        f"JOIN (SELECT DISTINCT {keys}, load_id FROM {stored}) t ON {_same(by)} "
        f"JOIN loads USING (load_id) GROUP BY ALL"
    )
    hole = "min(hole)" if kind == "shot" else "NULL::INTEGER"
    sides = [_values(kind, table, by) for table in ("staged", TABLE[kind].stored_in)]
    # an empty table decides nothing: the two sides are not even asked for
    differing = (
        f"WITH here AS ({sides[0]}), there AS ({sides[1]}) SELECT {keys}, {hole} AS first_hole "
        f"FROM ((FROM here EXCEPT ALL FROM there) UNION ALL (FROM there EXCEPT ALL FROM here)) "
        f"GROUP BY {keys}"
        if _any(connection, "present")
        else f"SELECT {keys}, NULL::INTEGER AS first_hole FROM present"
    )
    connection.execute(f"CREATE OR REPLACE TEMP TABLE unlike AS {differing}")


def _values(kind: str, table: str, by: Sequence[str]) -> str:
    """Return the query of the values to compare, of what is ``present`` alone."""
    names = [name for name in names_of(kind) if name not in (_NO_VALUES if kind == "shot" else ())]
    values = list(names)
    if kind == "shot":
        end = "end_ft" if table == "staged" else "end_distance_ft"
        place = "row_number() OVER (PARTITION BY player, date, round, hole ORDER BY shot)"
        values = [_said_once(name) for name in names]
        values += [f"{place} AS place", "distance_ft", "end_lie", end]
    return (
        f"SELECT {', '.join(values)} FROM {table} s "
        f"WHERE EXISTS (SELECT 1 FROM present t WHERE {_same(by)})"
    )


def _said_once(name: str) -> str:
    if name not in _SAID_ONCE:
        return name
    first = f"arg_min({name}, hole * 100 + shot)"
    return f"coalesce({name}, {first} OVER (PARTITION BY {', '.join(_SAID_ONCE[name])})) AS {name}"


def present_problems(connection: duckdb.DuckDBPyConnection, file: str, kind: str) -> list[Problem]:
    """Return one problem per staged key that has other values in the season file.

    Or in another table of the same file.
    """
    if not _any(connection, "unlike"):
        return []
    key = TABLE[kind].key
    rows = connection.execute(
        f"SELECT s.source_row, concat_ws(', ', {', '.join(f's.{name}' for name in key)}), "
        f"first_hole, s.file_name, s.loaded_at, e.file FROM present s JOIN unlike t "
        f"ON {_same(key)} LEFT JOIN (SELECT key, min(file) AS file FROM earlier WHERE kind = $kind "
        f"GROUP BY key) e ON e.key = {_one(key, 's.')} ORDER BY s.source_row",
        {"kind": kind},
    ).fetchall()
    found = (_clash(file, kind, *row) for row in rows)
    return first_of_a_kind(found, len(rows))


def _clash(
    file: str,
    kind: str,
    row: int,
    value: str,
    hole: int | None,
    name: str,
    when: datetime,
    own: str | None,
) -> Problem:
    what = TABLE[kind].key_name
    first = "" if hole is None else f", first at hole {hole}"
    if own is not None:
        wrong = f"this {what} is in {own} too, with other values{first}"
        fix = "Keep one of the two"
        fix += ", or number the rounds of the day." if kind == "shot" else "."
    else:
        wrong = (
            f"this {what} is in the season file already, with other values{first} "
            f"(from {name}, loaded {when:%Y-%m-%d %H:%M} UTC)"
        )
        fix = "Load with --replace to replace it whole, or take these rows out."
    return Problem(file, row, TABLE[kind].key[0], value, wrong, fix)


def keep_fresh(connection: duckdb.DuckDBPyConnection, kind: str, columns: Sequence[str]) -> None:
    """Make the view ``fresh``: staged rows whose keys the season file lacks, in their order."""
    lacking = f"WHERE NOT EXISTS (SELECT 1 FROM present t WHERE {_same(TABLE[kind].key)})"
    connection.execute(
        f"CREATE OR REPLACE TEMP VIEW fresh AS SELECT {', '.join(columns)} FROM staged s "
        f"{lacking if _any(connection, 'present') else ''}"
    )


def remove_orphaned_holes(connection: duckdb.DuckDBPyConnection) -> None:
    """Delete holes whose round is gone."""
    connection.execute("DELETE FROM holes WHERE round_key NOT IN (SELECT round_key FROM rounds)")


def _any(connection: duckdb.DuckDBPyConnection, table: str) -> bool:
    # to the end: an unread result forbids what the next step may do
    return bool(connection.execute(f"SELECT 1 FROM {table} LIMIT 1").fetchall())


def _one(columns: Sequence[str], of: str = "") -> str:
    """Return the SQL expression of a key as one text, a blank told from every word."""
    return f"to_json([{', '.join(f'CAST({of}{name} AS VARCHAR)' for name in columns)}])::VARCHAR"


def _same(columns: Sequence[str]) -> str:
    return " AND ".join(f"s.{name} IS NOT DISTINCT FROM t.{name}" for name in columns)
