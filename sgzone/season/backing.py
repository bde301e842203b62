"""A consistent copy of the season file."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import duckdb

from sgzone.errors import DataError
from sgzone.season.opening import connect
from sgzone.writing import unwritten

_TABLES = (
    *("loads", "rounds", "holes", "strokes", "practice_log", "test_balls", "bag"),
    *("fitted_curves", "fitted_knots", "fitted_players"),
)
_SEQUENCES = ("load_ids", "round_keys", "hole_keys")


def write_backup(connection: duckdb.DuckDBPyConnection, path: Path) -> Path:
    """Copy every table, as of one moment, into a new season file at ``path``.

    The copy is written beside it under another name first, so that a half-written one is never
    taken for a backup. Raises ``DataError`` where ``path`` exists or cannot be written.
    """
    if path.exists():
        raise DataError(f"{path} exists already and is not overwritten. Name another file.")
    if not path.parent.is_dir():
        raise DataError(f"There is no folder {path.parent} for the backup. Make it first.")
    half = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        copy = _new(half)
    except OSError as wrong:
        raise unwritten(path, wrong, "The backup") from wrong
    try:
        connection.begin()
        try:
            _copy_tables(connection, copy)
        finally:
            connection.rollback()
        copy.close()
        half.replace(path)
    except OSError as wrong:
        raise unwritten(path, wrong, "The backup") from wrong
    finally:
        copy.close()
        half.unlink(missing_ok=True)
        half.with_name(half.name + ".wal").unlink(missing_ok=True)
    return path


def _new(half: Path) -> duckdb.DuckDBPyConnection:
    """Make the file of the copy, or leave nothing behind; ``OSError`` says why."""
    half.touch(exist_ok=False)  # DuckDB would not tell a missing right from a full disk
    half.unlink()
    try:
        return connect(half, read_only=False, create=True)
    except DataError as wrong:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)) from wrong


def _copy_tables(source: duckdb.DuckDBPyConnection, copy: duckdb.DuckDBPyConnection) -> None:
    copy.begin()
    for table in _TABLES:
        reader = source.sql(f"SELECT * FROM {table}").to_arrow_reader()
        copy.register("rows", reader)
        copy.execute(f"INSERT INTO {table} BY NAME SELECT * FROM rows")
        copy.unregister("rows")
    for sequence in _SEQUENCES:
        row = source.execute(
            "SELECT coalesce(last_value, 0) + 1 FROM duckdb_sequences() "
            "WHERE sequence_name = $name",
            {"name": sequence},
        ).fetchone()
        assert row is not None
        copy.execute(f"CREATE OR REPLACE SEQUENCE {sequence} START WITH {int(row[0])}")
    copy.commit()
