"""Opening a season file: what it may be, what it may not, and the schema version."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import duckdb

from sgzone.cards.reader import READERS
from sgzone.errors import DataError
from sgzone.season.cells import CELL_VALUES
from sgzone.season.steps import run_step

FIRST_VERSION = 1  # what sql/schema.sql makes; a new file is taken on from there
SCHEMA_VERSION = 3
UPGRADES = {1: "fitted_curves", 2: "stroke_cells"}
"""Version -> the step in ``sql/`` that takes a season file from it to the next one."""

MEMORY = ":memory:"
_TABLES = ("loads", "rounds", "holes", "strokes", "practice_log", "test_balls", "bag")
_UNWRITTEN = (duckdb.IOException, duckdb.FatalException, duckdb.TransactionException)
_MAGIC, _MAGIC_AT = b"DUCK", 8  # every DuckDB file has these bytes there
_CONFIG: dict[str, str | bool | int | float | list[str]] = {
    "threads": 2,
    # inputs are read by Python and handed over: DuckDB itself needs no file but its own
    "enable_external_access": False,
    "autoload_known_extensions": False,
}


def connect(path: Path | None, *, read_only: bool, create: bool) -> duckdb.DuckDBPyConnection:
    """Open or create a season file at the present schema version.

    Raises ``DataError`` where the file is missing, damaged, in use, not a season file, of a newer
    schema, or its folder cannot be written.
    """
    if path is None:
        return _prepared(_open(MEMORY, read_only=False), MEMORY)
    try:
        there = path.exists()
        str(path).encode()
    except (OSError, UnicodeEncodeError) as wrong:
        raise DataError(f"{path} cannot name a season file ({_reason(wrong)}).") from wrong
    if there:
        _refuse_wrong_file(path)
    else:
        _refuse_missing(path, create=create and not read_only)
    if not there:
        return _created(path)
    connection = _open(str(path), read_only=read_only)
    version = _version_or_close(connection, path)
    if version == SCHEMA_VERSION:
        return connection
    if not read_only:
        return _prepared(connection, str(path))
    connection.close()
    _upgrade(path, version)
    return _open(str(path), read_only=True)


def _upgrade(path: Path, version: int | None) -> None:
    """Take a season file that is only to be read to the present schema, which writes once."""
    try:
        connect(path, read_only=False, create=False).close()
    except DataError as wrong:
        raise DataError(
            f"The season file {path} is of an older sgzone (schema {version or 0}; this one reads "
            f"{SCHEMA_VERSION}) and must be taken on once before it is read. {wrong} A copy of it "
            "where you may write will do."
        ) from wrong


def _created(path: Path) -> duckdb.DuckDBPyConnection:
    """Create a season file; where that fails, leave nothing behind that is in the way later."""
    try:
        return _prepared(_open(str(path), read_only=False), str(path))
    except BaseException:
        remove(path)
        raise


def remove(path: Path) -> None:
    """Delete a season file and what DuckDB keeps beside it, as far as that can be deleted."""
    for left in (path, path.with_name(path.name + ".wal")):
        with suppress(OSError):
            left.unlink()


def _reason(wrong: OSError | UnicodeEncodeError) -> str:
    return str(wrong.strerror) if isinstance(wrong, OSError) else "its letters are not UTF-8"


def _refuse_wrong_file(path: Path) -> None:
    if path.is_dir():
        raise DataError(f"{path} is a folder, not a season file. Name a file in it.")
    if not path.is_file():
        raise DataError(f"{path} is a device or a pipe, not a season file. Name a file.")
    try:
        with path.open("rb") as file:
            head = file.read(_MAGIC_AT + len(_MAGIC))
    except OSError as wrong:
        raise DataError(_why_not(str(path), "permission")) from wrong
    if not head:
        raise DataError(f"{path} is empty, not a season file. Delete it, or name another file.")
    # without this DuckDB takes a CSV or Parquet file for a database of its own making
    if head[_MAGIC_AT:] != _MAGIC:
        raise DataError(_why_not(str(path), "damaged"))


def _refuse_missing(path: Path, *, create: bool) -> None:
    if not create:
        raise DataError(
            f"There is no season file {path}. Load a card first (sgzone load CARD), or name the "
            "file with --db."
        )
    if path.suffix.lower() in READERS:
        raise DataError(
            f"{path} is named like a card, not like a season file. Name it sgzone.duckdb, say."
        )
    if not path.parent.is_dir():
        raise DataError(f"There is no folder {path.parent} for the season file. Make it first.")


def _open(target: str, *, read_only: bool) -> duckdb.DuckDBPyConnection:
    try:
        return duckdb.connect(target, read_only=read_only, config=_CONFIG)
    except duckdb.Error as wrong:
        raise DataError(_why_not(target, str(wrong))) from wrong


def _why_not(target: str, message: str) -> str:
    plain = message.lower()
    if "set lock" in plain or "conflicting lock" in plain:
        return f"The season file {target} is open in another program. Close it there and try again."
    if "permission" in plain or "cannot open" in plain or "read-only" in plain:
        return (
            f"The season file {target} cannot be opened for writing. Check the permissions of the "
            "file and its folder, or name another file with --db."
        )
    if "could not write" in plain or "no space" in plain or "too large" in plain:
        return f"The season file {target} cannot be written. Is the disk full?"
    if "different configuration" in plain or "already attached" in plain:
        return f"The season file {target} is open already in this program. Close it there first."
    return (
        f"{target} is not a season file, or it is damaged. Name another file with --db, or go "
        "back to a backup."
    )


def _version_or_close(connection: duckdb.DuckDBPyConnection, path: Path) -> int | None:
    """Return the schema version; None for a database without any table yet."""
    try:
        version = _version(connection, path)
    except duckdb.Error as wrong:
        connection.close()
        raise DataError(_why_not(str(path), "damaged")) from wrong
    except DataError:
        connection.close()
        raise
    return version


def _version(connection: duckdb.DuckDBPyConnection, path: Path) -> int | None:
    tables = {
        name
        for (name,) in connection.execute(
            "SELECT table_name FROM duckdb_tables() WHERE NOT temporary"
        ).fetchall()
    }
    if not tables:
        return None
    rows = connection.execute("SELECT * FROM meta").fetchall() if "meta" in tables else []
    # a view of the same name could ask for anything
    if len(rows) != 1 or not isinstance(rows[0][0], int) or not tables.issuperset(_TABLES):
        raise DataError(f"{path} is a database, but not a season file. Name another file.")
    version = int(rows[0][0])
    if version > SCHEMA_VERSION:
        raise DataError(
            f"{path} was written by a newer sgzone (schema {version}; this one reads up to "
            f"{SCHEMA_VERSION}). Install the newer sgzone."
        )
    return version


def _prepared(connection: duckdb.DuckDBPyConnection, target: str) -> duckdb.DuckDBPyConnection:
    """Create the tables, or take an older file to the present version, in one transaction."""
    path = Path(target)
    try:
        connection.begin()
        version = None if target == MEMORY else _version(connection, path)
        if version is None:
            run_step(connection, "schema")
            version = FIRST_VERSION
            connection.execute("INSERT INTO meta VALUES ($version)", {"version": version})
        for step in range(version, SCHEMA_VERSION):
            run_step(connection, UPGRADES[step], CELL_VALUES)
        connection.execute("UPDATE meta SET schema_version = $version", {"version": SCHEMA_VERSION})
        connection.commit()
    except _UNWRITTEN as wrong:
        connection.close()
        raise DataError(_why_not(target, str(wrong))) from wrong
    except BaseException:
        connection.close()  # the open transaction is rolled back
        raise
    return connection
