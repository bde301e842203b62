"""Files that are whole or not there: written beside their place, then given their name."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sgzone.errors import DataError

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
_DENIED = (errno.EACCES, errno.EPERM, errno.EROFS)


def unwritten(path: Path, wrong: OSError, what: str = "") -> DataError:
    """Return the error for a file that cannot be written: what, where, why, what to do.

    ``what`` is that which would have been in it, such as ``The report``.
    """
    why = os.strerror(wrong.errno) if wrong.errno else str(wrong)
    where = f"{what} cannot be written to {path}" if what else f"{path} cannot be written"
    return DataError(f"{where} ({why}). {_fix(wrong, path)}")


def _fix(wrong: OSError, path: Path) -> str:
    if wrong.errno in _FULL:
        return "Make room on that disk, or name another place."
    if wrong.errno in _DENIED:
        return "Name a folder that you may write into."
    if not path.parent.is_dir():
        return f"There is no folder {path.parent}: make it first, or name another place."
    return "Name another place."


@contextmanager
def whole(path: Path, *, new: bool = False) -> Iterator[Path]:
    """Give the path to write to: it becomes ``path`` at the end, or nothing is left of it.

    ``new`` refuses a path that is there with ``FileExistsError``. What is there and no plain file
    (a pipe, ``/dev/stdout``) is written to directly.
    """
    if new and os.path.lexists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    if path.exists() and not path.is_file():
        yield path
        return
    target = path.resolve()  # a link stays one, and leads to the new file
    with suppress(FileNotFoundError):
        target.open("r+b").close()  # a file that may not be written may not be replaced either
    half = target.with_name(f".sgzone-{os.getpid()}.part")  # short, however long the name is
    try:
        yield half
        half.replace(target)
    finally:
        with suppress(OSError):  # it has its name, or could not be made
            half.unlink()


def write_whole(path: Path, made: bytes | str, *, new: bool = False) -> None:
    """Write text (UTF-8, its own line ends) or bytes to a file, all of it or nothing.

    Raises ``OSError``; ``new`` as in ``whole``.
    """
    with whole(path, new=new) as half:
        half.write_bytes(made.encode() if isinstance(made, str) else made)
