"""The mapping that a file is read with: the one given, else the one that lies beside it."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

from sgzone.cards.given import Given
from sgzone.cards.grid import Grid
from sgzone.cards.mapping.apply import applied, note
from sgzone.cards.mapping.raw import BOOKS, MAPPED, beside, read_raw
from sgzone.cards.mapping.reading import read_mapping
from sgzone.cards.mapping.schema import Mapping, refused
from sgzone.errors import Problem

ENDING = ".map.toml"


def mapping_for(path: Path, given: Given) -> Mapping | None:
    """Return the mapping of a file, None where it has none.

    Raises ``DataError`` with every mistake of the mapping. A file that no mapping can be for has
    none beside it, but is refused with one that is given (``read_raw``).
    """
    if given.mapping is not None:
        return read_mapping(given.mapping)
    if path.suffix.lower() not in MAPPED or not os.path.lexists(beside(path)):
        return None
    return read_mapping(beside(path))


def read_mapped(path: Path, mapping: Mapping, given: Given) -> tuple[Grid, list[Problem]]:
    """Return the rows of a file as those of a card, and the problems found on the way.

    The first is a note that names the mapping. Raises ``DataError`` where file and mapping do not
    fit together.
    """
    book = path.suffix.lower() in BOOKS
    problems = _contrary(mapping, given, book=book)
    if problems:
        raise refused(mapping.file, problems)
    if given.dates:
        mapping = replace(mapping, dates=given.dates)
    raw = read_raw(path, encoding=mapping.encoding, separator=mapping.separator, sheet=given.sheet)
    grid, faults = applied(mapping, path.name, raw.grid, stored=raw.stored)
    return grid, [note(mapping, path.name), *raw.problems, *faults]


def _contrary(mapping: Mapping, given: Given, *, book: bool) -> list[Problem]:
    found = []
    if mapping.dates and given.dates and mapping.dates != given.dates:
        wrong = f"the mapping reads days as {mapping.dates}, the call as {given.dates}"
        fix = f'Leave --dates out, or write dates = "{given.dates}" in the mapping.'
        found.append(mapping.problem(("dates",), wrong, fix, mapping.dates))
    for key in ("encoding", "separator"):
        if book and getattr(mapping, key):
            wrong = f"a workbook has no {key}"
            found.append(mapping.problem((key,), wrong, "Take this line out.", ""))
    return found
