"""What the caller says of a file, where the file does not say it itself."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Given:
    """What a caller answers before it is asked.

    ``player``: who played, in a file without that column. ``dates``: ``dmy`` or ``mdy``, for days
    that can be read both ways. ``sheet``: the only sheet of a workbook to read. ``mapping``: the
    file that says what headers and words of another table mean. ``new_player``: a name close to a
    known one is another person's all the same.
    """

    player: str | None = None
    dates: str | None = None
    sheet: str | None = None
    mapping: Path | None = None
    new_player: bool = False


NOTHING = Given()
