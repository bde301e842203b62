"""New files: made where nobody else can reach them, then given their name in one step."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp

from sgzone.season.naming import log_of

Identity = tuple[int, int]
"""Device and number: two names of one file have the same."""

_OWNER_ALONE = 0o600
_OPEN_FILES = Path("/dev/fd")  # of this process, where the system shows them


def identity(path: Path) -> Identity | None:
    """Return which file stands under a name, None where there is none. Raises ``OSError``."""
    try:
        there = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    return there.st_dev, there.st_ino


def open_here(file: Identity) -> bool | None:
    """Return whether this process has the file open; None where the system does not show it.

    If so, nothing else in it may open and close it: POSIX drops every lock of a process on a file
    as soon as one of its descriptors of that file is closed, DuckDB's lock too.
    """
    try:
        descriptors = [int(entry.name) for entry in _OPEN_FILES.iterdir()]
    except OSError:
        return None
    return any(_is(descriptor, file) for descriptor in descriptors)


def _is(descriptor: int, file: Identity) -> bool:
    with suppress(OSError):  # closed meanwhile, as that of the listing
        there = os.fstat(descriptor)
        return (there.st_dev, there.st_ino) == file
    return False


@contextmanager
def private_folder(beside: Path) -> Iterator[Path]:
    """Make a folder beside a file to be, that only its owner can look into; gone at the end."""
    folder = mkdtemp(prefix=".sgzone-", suffix=".part", dir=beside.parent)
    try:
        yield Path(folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def published(made: Path, path: Path) -> bool:
    """Give a whole file its name, readable for its owner alone.

    Returns False where something has that name already: it stays as it is. Raises ``OSError``.
    """
    made.chmod(_OWNER_ALONE)
    try:
        os.link(made, path)
    except FileExistsError:
        return False
    except OSError:  # a disk without second names
        return _claimed(made, path)
    return True


def _claimed(made: Path, path: Path) -> bool:
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, _OWNER_ALONE))
    except FileExistsError:
        return False
    try:
        made.replace(path)
    except BaseException:
        path.unlink()
        raise
    return True


def private_log(path: Path) -> None:
    """Make the log that DuckDB is about to write, readable for whom the season file is."""
    with suppress(OSError):  # it is there; or cannot be made, which DuckDB will say
        mode = path.stat().st_mode & 0o666
        os.close(os.open(log_of(path), os.O_CREAT | os.O_EXCL | os.O_WRONLY, mode))


def remove(path: Path) -> None:
    """Delete a season file and its log, as far as they can be deleted; the log first.

    A season file without its log is a whole one; a log without its file is in the way of the next.
    """
    for left in (log_of(path), path):
        with suppress(OSError):
            left.unlink()
