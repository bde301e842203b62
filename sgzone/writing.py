"""Every file that is written: what it may not go over, and that it is whole or not there.

One rule for the whole package. An output is never the season file of its call or what DuckDB keeps
beside it, never any DuckDB file, never a file that the call reads, never the same file as another
output of the call, and never a file of another kind. The kind is what a file holds, not its name.
"""

from __future__ import annotations

import csv
import errno
import os
import secrets
import stat
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from typing import BinaryIO, Self

from sgzone.errors import CallError, DataError
from sgzone.harmless import named
from sgzone.inputs import refuse_no_name

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
_DENIED = (errno.EACCES, errno.EPERM, errno.EROFS)
_DUCKDB, _DUCKDB_AT = b"DUCK", 8  # every DuckDB file has these bytes there
_WAL = ".wal"  # what DuckDB keeps beside a file that is open, by the file's name
_HEAD, _MOST_OF_A_LINE = 64, 10_000
_MOST_BYTES = 64_000_000  # of a file, to know its kind by
_ALONE = os.O_WRONLY | os.O_CREAT | os.O_EXCL
# a link is never followed, Windows never changes an end of line
_PLAINLY = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


def unwritten(path: Path, wrong: OSError, what: str = "") -> DataError:
    """Return the error for a file that cannot be written: what, where, why, what to do.

    ``what`` is that which would have been in it, such as ``The report``.
    """
    why = os.strerror(wrong.errno) if wrong.errno else str(wrong)
    where = (
        f"{what} cannot be written to {named(path)}" if what else f"{named(path)} cannot be written"
    )
    return DataError(f"{where} ({why}). {_fix(wrong, path)}")


def _fix(wrong: OSError, path: Path) -> str:
    if wrong.errno in _FULL:
        return "Make room on that disk, or name another place."
    if wrong.errno in _DENIED:
        return "Name a folder that you may write into."
    if not path.parent.is_dir():
        return f"There is no folder {named(path.parent)}: make it first, or name another place."
    return "Name another place."


def make_folder(folder: Path, what: str = "") -> None:
    """Make a folder and those above it; ``DataError`` (of ``what``) where that cannot be done."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as wrong:
        raise unwritten(folder, wrong, what) from wrong


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of file: what one is called, and whether a file is one, by what it holds.

    ``database``: one of this kind may be a DuckDB file; of all others none is.
    """

    name: str
    known: Callable[[bytes], bool]
    database: bool = False


def headings(held: bytes) -> list[str]:
    """Return the column names of a CSV, plain and in small letters; none where it has none."""
    first = held[:_MOST_OF_A_LINE].decode("utf-8-sig", errors="replace").splitlines()[:1]
    with suppress(csv.Error):
        return [name.strip().lower() for row in csv.reader(first) for name in row]
    return []


@dataclass(frozen=True, slots=True)
class Reads:
    """What a call reads, so that none of it is written over."""

    season: Path | None = None
    files: tuple[Path, ...] = ()


NOTHING = Reads()


@dataclass(frozen=True, slots=True)
class Output:
    """A file to be written: over nothing, or over an empty one or one of the same kind.

    ``kind``: None where nothing may be there yet. ``what``: that which will be in it, for the
    sentence that it cannot be written. ``private``: for its owner alone, whatever was there; it
    takes the place of a link.
    """

    path: Path
    kind: Kind | None
    reads: Reads = NOTHING
    what: str = ""
    private: bool = False

    def check(self) -> Self:
        """Return itself where it may be written; asked before long work, and when it is written.

        Raises ``CallError`` where it is what the call reads or a database's log, ``DataError``
        where something else is there that stays, or where that cannot be found out.
        """
        refuse_no_name(self.path)
        try:
            _refuse_read(self.path, self.reads)
            _refuse_log(self.path)
            if self.kind is None and os.path.lexists(self.path):
                raise _taken(self.path)
            if self.kind is not None:
                _refuse_strange_link(self.path)
                _refuse_other(self.path, self.kind)
        except OSError as wrong:
            raise unwritten(self.path, wrong, self.what) from wrong
        return self

    def write(self, made: bytes | str) -> None:
        """Write text (UTF-8, its own line ends) or bytes: all of it or nothing.

        Raises as ``check``, and ``DataError`` where the file cannot be written.
        """
        with self.file() as half:
            half.write(made.encode() if isinstance(made, str) else made)

    def remove(self) -> None:
        """Delete what is there of its kind. Raises as ``write``."""
        self.check()
        try:
            self.path.unlink(missing_ok=True)
        except OSError as wrong:
            raise unwritten(self.path, wrong, self.what) from wrong

    @contextmanager
    def file(self) -> Iterator[BinaryIO]:
        """Give a file to write to: it gets its name at the end, or nothing is left of it.

        A device or a pipe is written to directly. Raises as ``write``.
        """
        self.check()
        try:
            with _whole(self) as half:
                yield half
        except FileExistsError as wrong:  # since it was looked for
            raise _taken(self.path) from wrong
        except OSError as wrong:
            raise unwritten(self.path, wrong, self.what) from wrong


def refuse_twice(outputs: Sequence[Output]) -> None:
    """Raise ``CallError`` where two outputs of a call are one file, the second over the first."""
    for one, other in combinations(outputs, 2):
        if _same(one.path, other.path):
            also = "" if one.path == other.path else f", which {named(other.path)} names too"
            raise CallError(
                f"Two files would be written to {named(one.path)}{also}: name one of each."
            )


def _taken(path: Path) -> DataError:
    return DataError(f"{named(path)} exists already and is not overwritten. Name another file.")


def _refuse_read(path: Path, reads: Reads) -> None:
    """Raise ``CallError`` for the season file, its log and every other file that is read."""
    season = reads.season
    if season is not None:
        if _same(path, season):
            raise CallError(
                f"{named(path)} is the season file that is read. Name another file to write."
            )
        if any(_same(path, Path(f"{name}{_WAL}")) for name in (season, os.path.realpath(season))):
            raise _logged(path, season)
    for file in reads.files:
        if _same(path, file):
            raise CallError(f"{named(path)} is read by this very call. Name another file to write.")


def _logged(path: Path, season: Path) -> CallError:
    return CallError(
        f"{named(path)} is where the database keeps what is new in {named(season)}. Name another "
        "file to write."
    )


def _refuse_log(path: Path) -> None:
    """Raise ``CallError`` for the log of any DuckDB file, which need not be there now."""
    real = os.path.realpath(path)
    if real.lower().endswith(_WAL):
        database = Path(real[: -len(_WAL)])
        if database.is_file() and _starts_duckdb(_held(database, _HEAD)):
            raise _logged(path, database)


def _same(one: Path, other: Path) -> bool:
    """Return whether two paths are one file: by links, by other spellings, by hard links."""
    with suppress(OSError):  # one of them is not there
        return one.samefile(other)
    return os.path.normcase(os.path.realpath(one)) == os.path.normcase(os.path.realpath(other))


def _refuse_other(path: Path, kind: Kind) -> None:
    """Raise ``DataError`` where a file that is there is not empty and of another kind."""
    state = _state(path)
    if state is None or not stat.S_ISREG(state.st_mode) or not state.st_size:
        return
    held = _held(path)
    if _starts_duckdb(held) and not kind.database:
        raise DataError(
            f"{named(path)} is a database, such as a season file, and is not overwritten. Name "
            "another file."
        )
    if not kind.known(held):
        raise DataError(
            f"{named(path)} exists already and is not {kind.name}, so it is not overwritten. Move "
            "it away, or name another file."
        )


def _starts_duckdb(held: bytes) -> bool:
    return held[_DUCKDB_AT:].startswith(_DUCKDB)


def _held(path: Path, most: int = _MOST_BYTES) -> bytes:
    with path.open("rb") as file:
        return file.read(most)


def _refuse_strange_link(path: Path) -> None:
    """Raise ``DataError`` for a link that another user left in a folder where all may write.

    Such as /tmp: it could lead anywhere. Linux can refuse it too, but not where it is resolved.
    """
    at, seen = path, 0
    while at.is_symlink() and seen < 40:  # as many as Linux follows
        folder = at.parent.stat()
        strange = at.lstat().st_uid not in (_user(), folder.st_uid)
        if strange and folder.st_mode & stat.S_IWOTH:
            raise DataError(
                f"{named(path)} is a link of another user in a folder that all may write into, and "
                "is not followed. Name another place."
            )
        at, seen = at.parent / at.readlink(), seen + 1


def _user() -> int:
    return os.geteuid() if hasattr(os, "geteuid") else 0


def _state(path: Path) -> os.stat_result | None:
    with suppress(FileNotFoundError):
        return path.stat()
    return None


@contextmanager
def _whole(output: Output) -> Iterator[BinaryIO]:
    state = _state(output.path)
    if state is not None and not stat.S_ISREG(state.st_mode):
        with output.path.open("wb") as file:
            yield file
        return
    target = output.path
    if not output.private:  # a link stays one, and leads to the new file
        target = Path(os.path.realpath(target))
    if state is not None:  # a file that may not be written may not be replaced either
        os.close(os.open(target, os.O_WRONLY))
    half = target.with_name(f".sgzone-{secrets.token_hex(8)}.part")  # not to be guessed
    mode = 0o600 if output.private else 0o666 if state is None else state.st_mode & 0o777
    opened = os.open(half, _ALONE | _PLAINLY, mode)  # by the umask; nothing was there before
    try:
        with os.fdopen(opened, "wb") as file:
            if state is not None and not output.private:
                _as_it_was(opened, state)
            yield file
        output.check()  # what came there meanwhile
        _name(half, target, new=output.kind is None)
    finally:
        with suppress(OSError):  # it has its name
            half.unlink()


def _as_it_was(opened: int, state: os.stat_result) -> None:
    """Give an open file the mode and group of the one it replaces, and its owner if root may."""
    if not hasattr(os, "fchown"):  # Windows: a file has the rights of its folder
        return
    mode = state.st_mode & 0o777
    try:
        os.fchown(opened, state.st_uid if _user() == 0 else -1, state.st_gid)
    except OSError:
        mode &= ~stat.S_IRWXG  # they were another group's
    os.fchmod(opened, mode)


def _name(half: Path, target: Path, *, new: bool) -> None:
    if not new:
        half.replace(target)
        return
    try:
        target.hardlink_to(half)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError):  # a disk without hard links
        os.close(os.open(target, _ALONE | _PLAINLY))
        half.replace(target)
