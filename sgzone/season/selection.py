"""Which rounds of the season file a question is about."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any


@dataclass(frozen=True, slots=True)
class Selection:
    """Rounds of one player or all, between two dates (both included), of one kind of event.

    ``event`` is matched to the round's own (``competition``, ``practice`` or another word).
    """

    player: str | None = None
    since: date | None = None
    until: date | None = None
    event: str | None = None

    def parameters(self) -> dict[str, Any]:
        """Return the bound values of every SQL step that selects rounds."""
        return {
            "player": self.player,
            "since": self.since,
            "until": self.until,
            "event": self.event,
        }


EVERYTHING = Selection()
