"""Opening a season file: what it may be, what it may not, and the schema version."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from threading import RLock

import duckdb

from sgzone.errors import DataError
from sgzone.season.catalogue import acting, faults, made_by, tables_there, texts_of_tables
from sgzone.season.making import (
    Identity,
    identity,
    open_here,
    private_folder,
    private_log,
    published,
)
from sgzone.season.naming import database_name, log_of, unnameable
from sgzone.season.place_numbers import CELL_VALUES
from sgzone.season.sound import refuse_unsound, refuse_unsound_rounds, unlike
from sgzone.season.steps import run_step
from sgzone.writing import unwritten

FIRST_VERSION = 1  # what sql/schema.sql makes; a new file is taken on from there
SCHEMA_VERSION = 6
UPGRADES = {
    1: "fitted_curves",
    2: "stroke_cells",
    3: "unique_keys",
    4: "read_as",
    5: "agreements",
}
"""Version -> the step in ``sql/`` that takes a season file from it to the next one."""

MEMORY = ":memory:"
_UNWRITTEN = (duckdb.IOException, duckdb.FatalException, duckdb.TransactionException)
_MAGIC, _MAGIC_AT = b"DUCK", 8  # every DuckDB file has these bytes there
_STORAGE_AT, _KNOWN_AGAIN = 12, 67  # its storage version there, and the first with an identity
_NAMELESS = bytes.fromhex("64 00 62 65 00 02 ff ff")  # how a log begins that names no file
_META = [("schema_version", "INTEGER", False)]
_TRIES = 20  # each means that somebody made or deleted the file in these very milliseconds
_CONFIG: dict[str, str | bool | int | float | list[str]] = {
    "threads": 2,
    # inputs are read by Python and handed over: DuckDB itself needs no file but its own
    "enable_external_access": False,
    "autoload_known_extensions": False,
    # of a new file: one that its log knows again, whatever version of DuckDB makes it
    "storage_compatibility_version": "latest",
}
TURN = RLock()
"""One opening or closing at a time: what one looks at, no other changes."""


def connect(path: Path | None, *, read_only: bool, create: bool) -> duckdb.DuckDBPyConnection:
    """Open or create a season file at the present schema version; None makes one in memory.

    Raises ``DataError`` where the file is missing, damaged, in use, not a season file, of a newer
    schema, or its folder cannot be written; ``CallError`` too for what names no file.
    """
    if path is None:
        return _prepared(_open(MEMORY, Path(MEMORY), read_only=False), Path(MEMORY), None)
    return open_file(path, read_only=read_only, create=create)[0]


def open_file(
    path: Path, *, read_only: bool, create: bool, again: bool = False
) -> tuple[duckdb.DuckDBPyConnection, Identity | None]:
    """Open or create a season file; return with it which file that is if this call made it.

    Errors as ``connect``. Whoever finds it missing makes a whole one and gives it the name, if
    nobody was faster; then it is opened like any other. What is open in the end is what stands
    under the name: a file that somebody deleted meanwhile would take rounds and lose them.
    ``again``: this thread may have it open for writing already.
    """
    name = database_name(path)
    made = None
    with TURN:
        for _ in range(_TRIES):
            there = _there(path)
            if there is None:
                _refuse_missing(path, create=create and not read_only)
                made = _made(path)
            elif connection := _opened(
                name, path, there, read_only=read_only, shared=read_only or again
            ):
                ours = made if made == there else None
                return _checked(connection, path, read_only=read_only), ours
    raise DataError(
        f"The season file {path} keeps being moved or deleted, or was moved while open here. "
        "Close it everywhere and try again."
    )


def _there(path: Path) -> Identity | None:
    try:
        return identity(path)
    except OSError as wrong:
        raise unnameable(path, str(wrong.strerror)) from wrong


def _opened(
    name: str, path: Path, there: Identity, *, read_only: bool, shared: bool
) -> duckdb.DuckDBPyConnection | None:
    """Open the file that stood under a name; None where another one stands there by now."""
    try:
        _refuse_wrong_file(path, there, shared=shared)
        connection = _open(name, path, read_only=read_only)
    except (FileNotFoundError, DataError):
        if _there(path) != there:
            return None
        raise
    # a file that was moved while this process has it open is still what DuckDB finds by that name
    if _there(path) != there or open_here(there) is False:
        connection.close()
        return None
    return connection


def _checked(
    connection: duckdb.DuckDBPyConnection, path: Path, *, read_only: bool
) -> duckdb.DuckDBPyConnection:
    """Return a connection to a season file of the present schema, taken on where it is older."""
    try:
        version = _version(connection, path)
        if version is not None:
            refuse_unsound_rounds(connection, f"The season file {path}")
        if version == SCHEMA_VERSION:
            return connection
    except duckdb.Error as wrong:
        connection.close()
        raise unlike(path, "") from wrong
    except BaseException:
        connection.close()
        raise
    if not read_only:
        return _prepared(connection, path, version)
    connection.close()
    _upgrade(path, version)
    return connect(path, read_only=True, create=False)


def _upgrade(path: Path, version: int | None) -> None:
    """Take a season file that is only to be read to the present schema, which writes once."""
    try:
        connect(path, read_only=False, create=False).close()
    except DataError as wrong:
        raise DataError(
            f"The season file {path} is of an older sgzone (schema {version or 0}; this one reads "
            f"{SCHEMA_VERSION}). It must be upgraded once before it is read. {wrong} Use a copy "
            "where you may write."
        ) from wrong


def _made(path: Path) -> Identity | None:
    """Make a season file; return which it is, None where somebody else made one first."""
    try:
        with private_folder(path) as folder:
            whole = folder / "season.duckdb"
            new_file(whole, path).close()
            file = identity(whole)
            return file if published(whole, path) else None
    except OSError as wrong:
        raise unwritten(path, wrong, "The season file") from wrong


def new_file(file: Path, path: Path) -> duckdb.DuckDBPyConnection:
    """Make a whole season file, to be called ``path``, under another name; it is open."""
    return _prepared(_open(os.path.realpath(file), path, read_only=False), path, None)


def _refuse_wrong_file(path: Path, there: Identity, *, shared: bool) -> None:
    mode = path.stat().st_mode
    if stat.S_ISDIR(mode):
        raise DataError(f"{path} is a folder, not a season file. Name a file in it.")
    if not stat.S_ISREG(mode):
        raise DataError(f"{path} is a device or a pipe, not a season file. Name a file.")
    if open_here(there):
        # DuckDB would let two threads write it, and does not know it again under a second name
        if not shared or path.stat().st_nlink > 1:
            raise DataError(_why_not(path, "already attached"))
        return
    try:
        with path.open("rb") as file:
            head = file.read(_STORAGE_AT + 8)
    except PermissionError as wrong:
        raise DataError(_why_not(path, "permission")) from wrong
    if not head:
        raise DataError(f"{path} is empty, not a season file. Delete it, or name another file.")
    # without this DuckDB takes a CSV or Parquet file for a database of its own making
    if head[_MAGIC_AT:_STORAGE_AT] != _MAGIC:
        raise unlike(path, "")
    # DuckDB would take it for the log of this file, for it says nothing else
    if int.from_bytes(head[_STORAGE_AT:], "little") >= _KNOWN_AGAIN and _has_log(path):
        with log_of(path).open("rb") as log:
            if log.read(len(_NAMELESS)) == _NAMELESS:
                raise _foreign_log(path)


def _refuse_missing(path: Path, *, create: bool) -> None:
    if path.is_symlink():
        raise DataError(
            f"{path} is a link to {path.readlink()}, where there is no season file. Bring that "
            "back, or delete the link."
        )
    if not create:
        raise DataError(
            f"There is no season file {path}. Load a card first (sgzone load CARD), or name the "
            "file with --db."
        )
    from sgzone.cards.reader import READERS

    if path.suffix.lower() in READERS:
        raise DataError(
            f"{path} is named like a card, not like a season file. Name it sgzone.duckdb, say."
        )
    if not path.parent.is_dir():
        raise DataError(f"There is no folder {path.parent} for the season file. Make it first.")
    if _has_log(path):
        raise DataError(
            f"There is no season file {path}, but its log {log_of(path).name}, which may hold "
            "rounds. Put the season file back beside it, or move the log away."
        )


def _has_log(path: Path) -> bool:
    log = log_of(path)
    return log.is_file() and log.stat().st_size > 0


def _open(name: str, path: Path, *, read_only: bool) -> duckdb.DuckDBPyConnection:
    try:
        return duckdb.connect(name, read_only=read_only, config=_CONFIG)
    except duckdb.Error as wrong:
        raise DataError(_why_not(path, str(wrong))) from wrong


def _why_not(path: Path, message: str) -> str:
    plain = message.lower()
    if "set lock" in plain or "conflicting lock" in plain:
        return f"The season file {path} is open in another program. Close it there and try again."
    if "permission" in plain or "cannot open" in plain or "read-only" in plain:
        return (
            f"The season file {path} cannot be opened for writing. Check the permissions of the "
            "file and its folder, or name another file with --db."
        )
    if "could not write" in plain or "no space" in plain or "too large" in plain:
        return f"The season file {path} cannot be written. Is the disk full?"
    if "different configuration" in plain or "already attached" in plain:
        return f"The season file {path} is open already in this program. Close it there first."
    if "wal" in plain and _has_log(path):
        if "does not match" not in plain or "checksum" in plain:
            return str(unlike(path, f", or its log {log_of(path).name} is"))
        return str(_foreign_log(path))
    return str(unlike(path, ""))


def _foreign_log(path: Path) -> DataError:
    return DataError(
        f"{log_of(path).name} is the log of another file than {path} is now: was a backup put in "
        "its place? Move the log away to go on with this file. Keep it: it may have the rounds "
        "you loaded last."
    )


def _version(connection: duckdb.DuckDBPyConnection, path: Path) -> int | None:
    """Return the schema version; None for a database without anything in it yet."""
    tables = tables_there(connection)
    if not tables:
        if found := acting(connection):
            raise unlike(path, f" (it holds {found[0]})")
        return None
    # a table, whose one column is as it is stored: what stands beside it is not looked at yet
    made = texts_of_tables(connection)
    if tables.get("meta") != _META or "meta" not in made:
        raise DataError(f"{path} is a database, but not a season file. Name another file.")
    rows = connection.execute("SELECT schema_version FROM meta LIMIT 2").fetchall()
    if len(rows) != 1 or not isinstance(rows[0][0], int) or rows[0][0] < FIRST_VERSION:
        raise unlike(path, f" (its schema is {', '.join(str(n) for (n,) in rows) or 'missing'})")
    version = int(rows[0][0])
    if version > SCHEMA_VERSION:
        raise DataError(
            f"{path} was written by a newer sgzone (schema {version}; this one reads up to "
            f"{SCHEMA_VERSION}). Install the newer sgzone."
        )
    if found := faults(connection, _steps_to(version), tables, made):
        raise unlike(path, f" (it holds {found[0]})")
    return version


def _steps_to(version: int) -> list[str]:
    return ["schema", *(UPGRADES[step] for step in range(FIRST_VERSION, version))]


def tables() -> tuple[str, ...]:
    """Return the names of the tables that hold what was loaded and fitted."""
    return tuple(name for name in made_by(_steps_to(SCHEMA_VERSION)).columns if name != "meta")


def _prepared(
    connection: duckdb.DuckDBPyConnection, path: Path, version: int | None
) -> duckdb.DuckDBPyConnection:
    """Create the tables, or take an older file to the present version, in one transaction."""
    try:
        connection.begin()
        if version is None:
            run_step(connection, "schema")
            version = FIRST_VERSION
            connection.execute("INSERT INTO meta VALUES ($version)", {"version": version})
        else:
            refuse_unsound(connection, f"The season file {path}")
            private_log(path)
        for step in range(version, SCHEMA_VERSION):
            run_step(connection, UPGRADES[step], CELL_VALUES)
        connection.execute("UPDATE meta SET schema_version = $version", {"version": SCHEMA_VERSION})
        connection.commit()
    except _UNWRITTEN as wrong:
        connection.close()
        raise DataError(_why_not(path, str(wrong))) from wrong
    except BaseException:
        connection.close()  # the open transaction is rolled back
        raise
    return connection
