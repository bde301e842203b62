"""A folder named instead of files: which of its files are cards, and what is passed over."""

from __future__ import annotations

import os
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from sgzone.cards.given import MAPPING
from sgzone.errors import CallError, DataError
from sgzone.harmless import named
from sgzone.words.digits import listed, thousands

_OF_OTHERS = (".", "~", "_")
"""First signs of names that programs give to what is theirs: locks, marks, half-written files."""
_MOST_NAMED = 5


@dataclass(frozen=True, slots=True)
class Found:
    """What was named. ``files``: those to read, in order; ``inside``: those of them in a folder.

    ``passed``: what of the folders is not read, in a sentence each.
    """

    files: tuple[Path, ...]
    inside: frozenset[Path]
    passed: tuple[str, ...]


def found_in(names: Sequence[Path]) -> Found:
    """Return the files named, those of a folder in the place of its name, by name.

    Raises ``DataError`` for a folder that cannot be read, ``CallError`` where none of a folder's
    files is a card.
    """
    from sgzone.cards.limits import MAX_BYTES

    files: list[Path] = []
    inside: list[Path] = []
    passed: list[str] = []
    for name in names:
        if not os.path.isdir(name):  # noqa: PTH112 - a name that no file can have is none
            files.append(name)
            continue
        cards, beside = _of_folder(name, MAX_BYTES)
        if not cards:
            raise CallError(
                f"{named(name)}: no card in this folder ({', '.join(MAX_BYTES)}). Name the folder "
                "they are in, or a file."
            )
        inside += cards
        files += cards
        passed += beside
    return Found(tuple(files), frozenset(inside), tuple(passed))


def _of_folder(folder: Path, endings: Collection[str]) -> tuple[list[Path], list[str]]:
    try:
        entries = sorted((entry, entry.is_dir()) for entry in folder.iterdir())
    except OSError as wrong:
        raise DataError(
            f"The folder {named(folder)} cannot be read ({wrong.strerror}). Check its permissions."
        ) from wrong
    own = [(entry, is_dir) for entry, is_dir in entries if not entry.name.startswith(_OF_OTHERS)]
    cards = [entry for entry, is_dir in own if not is_dir and entry.suffix.lower() in endings]
    used = {*cards, *(card.with_name(card.name + MAPPING) for card in cards)}
    others = [entry for entry, is_dir in own if not is_dir and entry not in used]
    told = []
    if others:
        told.append(f"Not a card, passed over: {_names(others)}.")
    if below := [entry for entry, is_dir in own if is_dir]:
        told.append(f"Folders inside are not looked into: {_names(below)}.")
    return cards, told


def _names(entries: Sequence[Path]) -> str:
    names = [named(entry.name) for entry in entries[:_MOST_NAMED]]
    if more := len(entries) - len(names):
        names.append(f"{thousands(more)} more")
    return listed(names)
