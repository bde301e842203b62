"""A mapping written beside the table it is for."""

from __future__ import annotations

import os
from pathlib import Path

from sgzone.cards.grid import fatal
from sgzone.cards.limits import MAX_MAPPING_BYTES
from sgzone.cards.mapping.draft import SIGNATURE, Draft, draft
from sgzone.cards.mapping.raw import beside, read_raw
from sgzone.cards.mapping.reading import KEYS
from sgzone.cards.mapping.toml import document_of
from sgzone.errors import DataError
from sgzone.harmless import named, one_line
from sgzone.inputs import UnreadError
from sgzone.writing import Kind, Output, Reads


def write_mapping(
    path: Path, *, replace: bool = False, sheet: str | None = None
) -> tuple[Path, Draft]:
    """Write the best mapping of a table beside it; return its path and what it says.

    ``sheet``: of a workbook, else its first with data. Raises ``DataError`` where the table cannot
    be read, has no header, or has a mapping already and ``replace`` is not said.
    """
    target = beside(path)
    kind = Kind("a mapping", _is_mapping) if replace else None
    if not replace and os.path.lexists(target):
        raise DataError(
            f"{named(target)} is there already. Read it through, or add --replace for a new one."
        )
    output = Output(target, kind, Reads(files=(path,)), "The mapping").check()
    try:
        raw = read_raw(path, sheet=sheet)
    except UnreadError as wrong:
        raise fatal(one_line(path.name), wrong.wrong, wrong.fix) from wrong
    made = draft(path.name, raw)
    if made is None:
        wrong_row = "no row looks like a header: two names or more, and no number among them"
        raise fatal(one_line(path.name), wrong_row, "Write a row of names above the values.")
    output.write(made.text)
    return target, made


def _is_mapping(held: bytes) -> bool:
    if held.startswith(SIGNATURE.encode()):
        return True
    if len(held) > MAX_MAPPING_BYTES:
        return False
    try:
        return {*document_of(Path("mapping"), held).data} <= {*KEYS}
    except DataError:
        return False
