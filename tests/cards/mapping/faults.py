"""Mappings and tables written for a test, and what the reader says of them."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa
import pytest

from sgzone.cards.given import NOTHING, Given
from sgzone.cards.mapping.raw import beside
from sgzone.cards.reader import TextTable, read_table
from sgzone.errors import DataError, Problem

TABLE = """\
Player,When,No,Stroke,From,Left
Ned Farrow,14/05/2026,1,2,short grass,112
Ned Farrow,14/05/2026,1,3,green,9
"""
MAPPING = """\
dates = "dmy"
[columns]
player = "Player"
date = "When"
hole = "No"
shot = "Stroke"
lie = "From"
distance = "Left"
"""


def lay(folder: Path, mapping: str | bytes, table: str = TABLE, name: str = "round.csv") -> Path:
    """Write a table and its mapping beside it; return the table's path."""
    path = folder / name
    path.write_text(table, encoding="utf-8")
    held = mapping if isinstance(mapping, bytes) else mapping.encode()
    beside(path).write_bytes(held)
    return path


def read(
    folder: Path, mapping: str, table: str = TABLE, name: str = "round.csv", given: Given = NOTHING
) -> TextTable:
    """Read a table with its mapping."""
    return read_table(lay(folder, mapping, table, name), given)


def cells(text: TextTable, name: str) -> list[str]:
    """Return one column of what was read, blank for nothing."""
    column: pa.ChunkedArray = text.table[name]
    return [cell or "" for cell in column.to_pylist()]


def faults(
    folder: Path, mapping: str | bytes, table: str = TABLE, name: str = "round.csv"
) -> list[Problem]:
    """Return why a mapping is refused; all of it is said of the mapping, with what to do."""
    with pytest.raises(DataError) as caught:
        read_table(lay(folder, mapping, table, name))
    problems = list(caught.value.problems)
    assert problems
    assert all(p.file == f"{name}.map.toml" and p.fix and p.severity == "error" for p in problems)
    return problems
