"""What may name a season file: DuckDB must never take a path for something else than that file."""

from __future__ import annotations

import os
import re
from pathlib import Path

from sgzone.errors import CallError, DataError
from sgzone.harmless import printable

# "md:", "s3://", "sqlite:" and what the next version adds; one letter is a drive
_ADDRESS = re.compile(r"[A-Za-z][A-Za-z0-9_+.-]+:")
_MEMORY = ":memory:"


def refuse_nul(path: str | Path) -> None:
    """Raise ``CallError`` for a name that no file can have."""
    if "\0" in str(path):
        raise CallError(
            f"{printable(str(path))} cannot name a file: there is a NUL in it. Take it out."
        )


def log_of(path: Path) -> Path:
    """Return where DuckDB keeps what it has not yet written into a season file.

    It is beside the file itself, where the path is a link to it.
    """
    return Path(os.path.realpath(path) + ".wal")


def database_name(path: Path) -> str:
    """Return the whole path of a season file, links followed, as DuckDB may be given it.

    Raises ``CallError`` or ``DataError`` for a name that DuckDB reads as anything else.
    """
    refuse_nul(path)
    name = str(path)
    if name.startswith(_MEMORY):
        raise CallError(
            f'"{name}" keeps nothing: it is gone when the call ends. Name a file, such as '
            "sgzone.duckdb; in Python open_store() without a name is the one in memory."
        )
    if found := _ADDRESS.match(name):
        raise CallError(
            f'"{name}" starts like an address ({found[0]}), not like a file. Name a file; one that '
            f"is called so needs its whole path: {Path(name).absolute()}"
        )
    try:
        name.encode()
    except UnicodeEncodeError as wrong:
        raise unnameable(path, "its letters are not UTF-8") from wrong
    whole = os.path.realpath(path)
    # the log of a?b would be a.wal?b, and a\\b is b in the folder a
    for sign in "?" + "\\" * (os.sep == "/"):
        if sign in whole:
            raise unnameable(path, f"no {sign} may be in it or in the names of its folders")
    return whole


def unnameable(path: Path, why: str) -> DataError:
    """Return the error for a path that names no season file."""
    return DataError(f"{path} cannot name a season file ({why}).")
