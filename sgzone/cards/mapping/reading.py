"""A mapping read from its file; every mistake that shows without the table it is for is told."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

from sgzone.cards.columns import nearest
from sgzone.cards.limits import MAX_ROWS
from sgzone.cards.mapping.content import (
    checked_columns,
    checked_fixed,
    checked_positions,
    checked_units,
    checked_words,
)
from sgzone.cards.mapping.raw import ENCODINGS, SEPARATORS
from sgzone.cards.mapping.schema import MOST_TOLD, Mapping, refused
from sgzone.cards.mapping.toml import Document, read_document, shown
from sgzone.errors import Problem

DECIMALS = {".": ".", ",": ","}
ORDERS = {order: order for order in ("dmy", "mdy", "ymd")}
_CHOICES = {
    "encoding": ({name: name for name in ENCODINGS}, "utf-8, utf-16 or cp1252"),
    "separator": ({**{sign: sign for sign in SEPARATORS}, "tab": "\t"}, '",", ";", "tab" or "|"'),
    "decimal": (DECIMALS, '"." or ","'),
    "dates": (ORDERS, '"dmy", "mdy" or "ymd"'),
}
TABLES = ("columns", "units", "words", "fixed", "positions")
KEYS = (*_CHOICES, "skip", *TABLES)


def read_mapping(path: Path) -> Mapping:
    """Read a mapping. Raises ``DataError`` with every mistake that it has in itself."""
    document = read_document(path)
    problems: list[Problem] = [*_unknown(document)]
    choices = {name: _choice(document, name, problems) for name in _CHOICES}
    above, skipped = _skip(document, problems)
    tables = {name: _table(document, name, problems) for name in TABLES}
    columns = checked_columns(document, tables, problems)
    mapping = Mapping(
        file=document.file,
        sha256=hashlib.sha256(document.held).hexdigest(),
        columns=columns,
        lengths=checked_units(document, tables["units"], problems),
        words=checked_words(document, tables["words"], problems),
        fixed=checked_fixed(document, tables["fixed"], columns, problems),
        positions=checked_positions(document, tables["positions"], problems),
        above=above,
        skipped=skipped,
        lines=document.lines,
        **choices,
    )
    if problems:
        raise refused(document.file, sorted(problems, key=lambda p: p.row or 0))
    return mapping


def _unknown(document: Document) -> list[Problem]:
    found: list[Problem] = []
    for name in document.data:
        if name not in KEYS:
            guess = nearest(name, KEYS) if len(found) < MOST_TOLD else None
            fix = f"Write {guess}." if guess else f"Choose from: {', '.join(KEYS)}."
            found.append(document.problem((name,), "a mapping has no such key", fix))
    return found


def _choice(document: Document, name: str, problems: list[Problem]) -> str | None:
    value = document.data.get(name)
    if value is None:
        return None
    known, words = _CHOICES[name]
    found = known.get(value.lower() if isinstance(value, str) else "")
    if found is None:
        problems.append(document.problem((name,), f"no {name} of ours", f"Write {words}.", value))
    return found


def _skip(document: Document, problems: list[Problem]) -> tuple[int, tuple[int, ...]]:
    value = document.data.get("skip", 0)
    if _row(value, 0):
        return value, ()
    if isinstance(value, list) and all(_row(row, 1) for row in value):
        return 0, tuple(sorted(set(value)))
    fix = "Write how many rows are above the header (skip = 2), or which to pass over ([1, 40])."
    problems.append(document.problem(("skip",), "these are no rows", fix, value))
    return 0, ()


def _row(value: Any, least: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and least <= value <= MAX_ROWS


def _table(document: Document, name: str, problems: list[Problem]) -> dict[str, Any]:
    value = document.data.get(name, {})
    if isinstance(value, dict):
        return value
    fix = f"Write [{name}] in a line of its own, and under it a name and a value a line."
    problems.append(document.problem((name,), "this must be a table", fix, shown(value)))
    return {}
