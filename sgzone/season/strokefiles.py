"""Which Parquet files ``--in`` names: each once, whatever its name and however it is reached."""

from __future__ import annotations

import fnmatch
import glob
import os
from pathlib import Path

from sgzone.errors import CallError, DataError
from sgzone.harmless import named
from sgzone.inputs import opened, refuse_no_name

ENDING = ".parquet"
_HALF = ".sgzone-*.part"  # what sgzone writes before a file has its name
_BESIDE = (".", "_")  # of other programs: their marks, logs and half-written files


def parquet_files(pattern: str) -> list[str]:
    """Return the files of a pattern such as ``strokes/*.parquet``, or of a folder and below it.

    A name that is there is that file or folder, whatever signs are in it. Below a folder, and of
    what a pattern matches, names that start with a dot or ``_`` are passed over (``passed_over``)
    unless the pattern says so. A file reached in two ways counts once. Raises ``CallError`` where
    there is none, ``DataError`` for a pipe or a device, a file or folder that may not be read, and
    a file that is not written to its end yet.
    """
    found: dict[tuple[int, int], str] = {}
    for file in _listed(pattern)[0]:
        if fnmatch.fnmatch(file.name, _HALF):
            raise DataError(f"{named(file)} is half written. Name the file that came of it.")
        real = Path(os.path.realpath(file))
        with opened(real) as plain:
            state = os.fstat(plain.fileno())
        found.setdefault((state.st_dev, state.st_ino), _in_utf8(real))
    if not found:
        raise CallError(
            f"no Parquet file in {named(pattern)}. Name a folder or quote a pattern such as "
            "'strokes/*.parquet'; sgzone backup --strokes FILE writes one from a season file."
        )
    return sorted(found.values())


def passed_over(pattern: str) -> list[str]:
    """Return the Parquet files and folders there that are not read, for their names' first sign."""
    return sorted(map(str, _listed(pattern)[1]))


def _in_utf8(file: Path) -> str:
    name = str(file)
    try:
        name.encode()
    except UnicodeEncodeError as wrong:
        raise DataError(
            f"{named(file)}: this name is not UTF-8, so its strokes cannot be read. Give the file "
            "and its folders other names."
        ) from wrong
    return name


def _listed(pattern: str) -> tuple[list[Path], list[Path]]:
    refuse_no_name(pattern)
    there = Path(pattern)
    if os.path.isdir(pattern):  # noqa: PTH112 - a name that no file can have is none
        return _below(there)
    files: list[Path] = []
    passed: list[Path] = []
    if os.path.lexists(pattern) and not set("*?") & set(pattern):
        return [there], []
    parts = there.parts
    deep = parts.count("**")
    if deep > 1:
        raise CallError(f"{named(pattern)}: a pattern may have one ** in it.")
    # below folders it is not glob that searches: links that lead back up would never end
    head = Path(*parts[: parts.index("**")]) if deep else pattern
    tail = parts[parts.index("**") + 1 :] if deep else ()
    wanted = str(Path(*tail)) if tail else "*"
    for name in glob.glob(_literally_there(str(head))):  # noqa: PTH207
        match = Path(name)
        if match.name.startswith(_BESIDE) and not (deep or there.name.startswith(_BESIDE)):
            passed.append(match)
        elif match.is_dir():
            more, beside = _below(match)
            files += [file for file in more if file.relative_to(match).match(wanted)]
            passed += beside
        else:
            files.append(match)
    return files, passed


def _literally_there(pattern: str) -> str:
    """Return the pattern with those folders taken by their name that are there under it."""
    path = Path(pattern)
    literal = Path(path.anchor)
    parts = path.parts[1:] if path.anchor else path.parts
    for place, part in enumerate(parts):
        if set("*?") & set(part) or not os.path.lexists(literal / part):
            return str(Path(glob.escape(str(literal)), *parts[place:]))
        literal /= part
    return glob.escape(str(literal)) if parts else pattern


def _below(folder: Path) -> tuple[list[Path], list[Path]]:
    """Return the Parquet files of a folder and below it, and what is passed over there."""
    files: list[Path] = []
    passed: list[Path] = []
    seen: set[tuple[int, int]] = set()  # a link can lead back up, or many to the same folder
    ahead = [folder]
    while ahead:
        here = ahead.pop()
        try:
            state = here.stat()
            if (state.st_dev, state.st_ino) in seen:
                continue
            seen.add((state.st_dev, state.st_ino))
            entries = [(entry, entry.is_dir()) for entry in here.iterdir()]
        except OSError as wrong:
            raise DataError(
                f"The folder {named(here)} cannot be read ({wrong.strerror}), so strokes could be "
                "missing. Check its permissions, or name the files."
            ) from wrong
        for entry, is_folder in entries:
            beside = entry.name.startswith(_BESIDE)
            if is_folder and not beside:
                ahead.append(entry)
            elif is_folder and any(entry.rglob(f"*{ENDING}")):
                passed.append(entry)
            elif not is_folder and entry.suffix.lower() == ENDING:
                (passed if beside else files).append(entry)
    return files, passed
