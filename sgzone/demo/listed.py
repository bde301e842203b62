"""A folder of files that are written over only as long as nobody changed them.

The folder holds a list of them with their SHA-256. What is not on it, or no longer as it says, is
somebody's own.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from sgzone.errors import DataError
from sgzone.inputs import GIGA, MEGA, read_bytes
from sgzone.writing import Kind, Output, headings, make_folder

LIST = "demo-files.csv"

_COLUMNS = ["file", "sha256"]
_LISTING = Kind("the list of a demo's files", lambda held: headings(held) == _COLUMNS)
_WHAT = "The demo"


def refuse_changed(
    folder: Path, names: Iterable[str], known: Mapping[str, bytes] | None = None
) -> None:
    """Raise ``DataError``, with every name, where a file is not as the folder's list says.

    ``known``: what a file may also hold. Raises too where the list is somebody's own.
    """
    _listing(folder).check()
    digests = _digests(folder)
    for name, held in (known or {}).items():
        digests.setdefault(name, set()).add(_digest(held))
    changed = [name for name in names if _is_changed(folder / name, digests.get(name, set()))]
    if changed:
        raise DataError(
            f"{folder} holds {', '.join(changed)}, not written by the demo or changed since, so "
            "nothing is overwritten. Move that away, or name another folder."
        )


def write_listed(
    folder: Path, made: Mapping[str, bytes], private: Collection[str] = ()
) -> tuple[Path, ...]:
    """Write files and put them on the folder's list; return their paths.

    Stopped at any moment, the list knows every file as it was and as it was to be. ``private``:
    names of files for their owner alone. Raises as ``refuse_changed``, before anything is written,
    and ``DataError`` where a file cannot be written.
    """
    refuse_changed(folder, made, made)
    make_folder(folder, _WHAT)
    digests = _digests(folder)
    fresh = {name: {_digest(held)} for name, held in made.items()}
    both = {name: digests.get(name, set()) | fresh.get(name, set()) for name in digests | fresh}
    _listing(folder).write(_listed(both))
    for name, held in made.items():
        kind = _kind(both[name])
        Output(folder / name, kind, what=_WHAT, private=name in private).write(held)
    _listing(folder).write(_listed(digests | fresh))
    return tuple(folder / name for name in made)


def _listing(folder: Path) -> Output:
    return Output(folder / LIST, _LISTING, what=_WHAT)


def _kind(digests: set[str]) -> Kind:
    return Kind("as the demo left it", lambda held: _digest(held) in digests, database=True)


def _is_changed(path: Path, digests: set[str]) -> bool:
    """Return whether something is there that is not to be written over."""
    if not path.is_file():
        return path.exists()
    held = read_bytes(path, GIGA)
    return bool(held) and _digest(held) not in digests


def _digest(held: bytes) -> str:
    return hashlib.sha256(held).hexdigest()


def _digests(folder: Path) -> dict[str, set[str]]:
    """Return what the folder's list says: a name's digests, more than one after a call stopped."""
    found: dict[str, set[str]] = {}
    if (folder / LIST).is_file():
        text = read_bytes(folder / LIST, MEGA).decode(errors="replace")
        for row in csv.reader(io.StringIO(text)):
            if len(row) == len(_COLUMNS) and row != _COLUMNS:
                found.setdefault(row[0], set()).add(row[1])
    return found


def _listed(digests: Mapping[str, set[str]]) -> str:
    text = io.StringIO()
    rows = [[name, digest] for name in sorted(digests) for digest in sorted(digests[name])]
    csv.writer(text, lineterminator="\n").writerows([_COLUMNS, *rows])
    return text.getvalue()
