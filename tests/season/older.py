"""Season files of older schemas, made from present ones by taking away what each schema added."""

from __future__ import annotations

import duckdb

ADDED = {
    2: ("fitted_curves", "fitted_knots", "fitted_players"),
    3: ("start_cell", "end_cell"),
    4: {"rounds": "round_key", "loads": "load_id"},
    5: "read_as",
    6: ("agreements",),
}
"""Schema -> what it added: tables, columns of the strokes, keys by constraint, one of the loads,
a table."""
SEQUENCES = ("load_ids", "round_keys", "hole_keys")


def taken_back(file: duckdb.DuckDBPyConnection, version: int) -> None:
    """Make an open season file of the present schema one of an older schema.

    Its sequences stand where those of a fresh file do, as in a backup of a backup.
    """
    if version < 6:
        for table in ADDED[6]:
            file.execute(f"DROP TABLE {table}")
    if version < 5:
        file.execute(f"ALTER TABLE loads DROP COLUMN {ADDED[5]}")
    if version < 4:
        for table in ADDED[4]:  # a key by constraint cannot be dropped
            columns = file.execute(
                "SELECT column_name, data_type, is_nullable FROM duckdb_columns() "
                "WHERE table_name = $table ORDER BY column_index",
                {"table": table},
            ).fetchall()
            made = ", ".join(
                f"{name} {kind}{'' if empty else ' NOT NULL'}" for name, kind, empty in columns
            )
            file.execute(f"ALTER TABLE {table} RENAME TO newer")
            file.execute(f"CREATE TABLE {table} ({made})")
            file.execute(f"INSERT INTO {table} SELECT * FROM newer")
            file.execute("DROP TABLE newer")
        for sequence in SEQUENCES:
            file.execute(f"CREATE SEQUENCE {sequence}")
    if version < 3:
        for column in ADDED[3]:
            file.execute(f"ALTER TABLE strokes DROP COLUMN {column}")
    if version < 2:
        for table in ADDED[2]:
            file.execute(f"DROP TABLE {table}")
    file.execute("UPDATE meta SET schema_version = $version", {"version": version})
