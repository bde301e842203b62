"""A consistent copy of the season file."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import duckdb

from sgzone.errors import DataError
from sgzone.season.making import private_folder, published
from sgzone.season.naming import database_name
from sgzone.season.opening import new_file, tables
from sgzone.season.sound import refuse_unsound
from sgzone.writing import unwritten


def write_backup(connection: duckdb.DuckDBPyConnection, path: Path) -> Path:
    """Copy every table, as of one moment, into a new season file at ``path``.

    The copy is made where nobody else can reach it, looked over, and given its name last, so that
    a half-written one is never taken for a backup. Raises ``DataError`` where ``path`` exists, a
    link to nowhere included, where it cannot be written, or where the season file is damaged.
    """
    database_name(path)
    if os.path.lexists(path):
        raise _there(path)
    if not path.parent.is_dir():
        raise DataError(f"There is no folder {path.parent} for the backup. Make it first.")
    try:
        with private_folder(path) as folder:
            half = folder / "season.duckdb"
            _write(connection, half, path)
            if not published(half, path):
                raise _there(path)
    except OSError as wrong:
        raise unwritten(path, wrong, "The backup") from wrong
    return path


def _there(path: Path) -> DataError:
    return DataError(f"{path} exists already and is not overwritten. Name another file.")


def _write(connection: duckdb.DuckDBPyConnection, half: Path, path: Path) -> None:
    try:
        copy = new_file(half, path)
    except DataError as wrong:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)) from wrong
    connection.begin()
    try:
        _copy_tables(connection, copy)
    finally:
        connection.rollback()
        copy.close()


def _copy_tables(source: duckdb.DuckDBPyConnection, copy: duckdb.DuckDBPyConnection) -> None:
    copy.begin()
    for table in tables():
        reader = source.sql(f"SELECT * FROM {table}").to_arrow_reader()
        copy.register("rows", reader)
        copy.execute(f"INSERT INTO {table} BY NAME SELECT * FROM rows")
        copy.unregister("rows")
    refuse_unsound(copy, "The season file")
    copy.commit()
