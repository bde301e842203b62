"""The mapping that a file is read with: the one given, else the one that lies beside it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from sgzone.cards.given import Given
from sgzone.cards.grid import Cells, TextTable, from_grid
from sgzone.cards.mapping.apply import applied, note
from sgzone.cards.mapping.raw import BOOKS, MAPPED, beside, read_raw
from sgzone.cards.mapping.reading import read_mapping
from sgzone.cards.mapping.schema import Mapping, refused
from sgzone.errors import Problem


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


def read_mapped(path: Path, mapping: Mapping, given: Given) -> tuple[Cells, list[str]]:
    """Return a file as the cells of a card, and the headers that the mapping made something of.

    Raises ``DataError`` where file and mapping do not fit together.
    """
    problems = _contrary(mapping, given, book=path.suffix.lower() in BOOKS)
    if problems:
        raise refused(mapping.file, problems)
    if given.dates:
        mapping = replace(mapping, dates=given.dates)
    raw = read_raw(path, encoding=mapping.encoding, separator=mapping.separator, sheet=given.sheet)
    made = applied(mapping, path.name, raw.grid, stored=raw.stored)
    # numbers whose decimal sign is said have a point by now
    open_ = mapping.decimal is None and not raw.stored
    commas = open_ and raw.separator != ","
    cells = from_grid(
        path.name, made.grid, [*raw.problems, *made.problems], commas=commas, typed=open_
    )
    return cells, made.used


def told(table: TextTable, mapping: Mapping, used: Sequence[str]) -> TextTable:
    """Return a table with the mapping it was read with: named in the first note, its hash kept.

    ``used``: headers of which the mapping made something else; that they are no columns of ours
    is then no news.
    """
    plain = {header.strip().lower() for header in used}
    problems = [p for p in table.problems if p.severity == "error" or p.column not in plain]
    named_first = (note(mapping, table.file), *problems)
    return replace(table, problems=named_first, mapping=mapping.sha256)


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
