"""What strokes are grouped by, as a caller writes it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sgzone.errors import CallError


def columns_of(by: str | Sequence[str]) -> list[str]:
    """Return the columns that were named, each once: in a list, or in a text with commas.

    An empty list names none; a text that names none raises ``CallError``.
    """
    if not isinstance(by, Iterable):
        raise CallError(f"by={by!r} names no column; write one as a text, such as club")
    names = by.split(",") if isinstance(by, str) else list(by)
    for name in names:
        if not isinstance(name, str):
            raise CallError(f"{name!r} is no column's name; write one as a text, such as club")
    columns = list(dict.fromkeys(name.strip() for name in names))
    if columns and not any(columns):
        raise CallError("nothing to group by; name a column, such as club (several with a comma)")
    return list(filter(None, columns))
