"""Names in a season file, for a shell that completes what is typed.

It takes nothing but DuckDB, so that no key waits for pandas. Whatever is wrong with the file is
told by the verb that is run in the end, never in the middle of a line.
"""

from __future__ import annotations

import stat
from pathlib import Path

import duckdb

from sgzone.resources import sql

_STEPS = {"players": "known_players", "fitted": "fitted_names"}
_CONFIG: dict[str, str | bool | int | float | list[str]] = {
    "threads": 1,
    "enable_external_access": False,
    "autoload_known_extensions": False,
}


def names_in(path: Path, what: str) -> list[str]:
    """Return the ``players`` or the ``fitted`` benchmarks of a season file; none where it fails.

    It is opened to be read only, in a process that has no season file open. A name that a line
    cannot hold is left out.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):  # a pipe would be waited for
            return []
        with duckdb.connect(str(path), read_only=True, config=_CONFIG) as connection:
            rows = connection.execute(sql("season", _STEPS[what])).fetchall()
    except (duckdb.Error, OSError, ValueError, RuntimeError):
        return []
    return [name for (name,) in rows if isinstance(name, str) and name.isprintable()]
