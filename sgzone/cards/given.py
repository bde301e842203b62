"""What the caller says of a file, where the file does not say it itself."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sgzone.errors import CallError
from sgzone.harmless import one_line
from sgzone.inputs import refuse_no_name

MAPPING = ".map.toml"
"""What the name of a mapping ends in, behind the name of its table."""
ORDERS = ("dmy", "mdy")
LONGEST_NAME = 80  # letters, as of the player's column


@dataclass(frozen=True, slots=True)
class Given:
    """What a caller answers before it is asked.

    ``player``: who played, in a file without that column. ``dates``: ``dmy`` or ``mdy``, for days
    that can be read both ways. ``sheet``: the only sheet of a workbook to read. ``mapping``: the
    file that says what headers and words of another table mean. ``new_player``: a name close to a
    known one is another person's all the same. ``known``: players whom the season file has; they
    tell a player from a course on a text card.
    """

    player: str | None = None
    dates: str | None = None
    sheet: str | None = None
    mapping: Path | None = None
    new_player: bool = False
    known: tuple[str, ...] = ()

    def typed(self) -> dict[str, Any]:
        """Return what a caller can say, by name."""
        return {name: getattr(self, name) for name in (*READ_BY, "new_player")}


NOTHING = Given()
READ_BY = ("player", "dates", "sheet", "mapping")
"""What a caller types to change what is read of a file; ``new_player`` is asked on loading."""


def answers(
    player: str | None = None,
    dates: str | None = None,
    sheet: str | None = None,
    mapping: str | Path | None = None,
    *,
    new_player: bool = False,
) -> Given:
    """Return what a caller answers, checked. Raises ``CallError`` for an answer that is none."""
    if player is not None:
        if not isinstance(player, str):
            raise CallError(f"player={player!r} is no name; write it as text.")
        player = player.strip()
        if not player or len(player) > LONGEST_NAME:
            raise CallError(f"A player's name has 1 to {LONGEST_NAME} characters.")
        if one_line(player) != player:
            raise CallError("A player's name is plain text on one line.")
    if dates not in (None, *ORDERS):
        raise CallError(f'dates "{dates}" is none of {", ".join(ORDERS)} (day or month first).')
    if sheet is not None and not isinstance(sheet, str):
        raise CallError(f"sheet={sheet!r} is no name; write it as text.")
    if mapping is not None:
        refuse_no_name(mapping)
        mapping = Path(mapping)
    return Given(player, dates, sheet, mapping, new_player)
