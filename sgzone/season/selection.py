"""Which rounds of the season file a question is about."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sgzone.errors import CallError


@dataclass(frozen=True, slots=True)
class Selection:
    """Rounds of one player or all, between two dates (both included), of one kind of event.

    ``event`` is matched to the round's own (``competition``, ``practice`` or another word).
    Raises ``CallError`` for days in no order, and for what is no day or no text.
    """

    player: str | None = None
    since: date | None = None
    until: date | None = None
    event: str | None = None

    def __post_init__(self) -> None:
        for name, example in (("player", "Ned Farrow"), ("event", "competition")):
            given = getattr(self, name)
            if given is not None and not isinstance(given, str):
                meant = given if isinstance(given, int) else example
                raise CallError(f'{name}={given!r} is no text; write one, such as "{meant}"')
        for name in ("since", "until"):
            given = getattr(self, name)
            if given is not None and (not isinstance(given, date) or given != given):
                raise CallError(f"{name}={given!r} is no day; write datetime.date(2026, 5, 14)")
            if isinstance(given, datetime):
                object.__setattr__(self, name, given.date())
        if self.since is not None and self.until is not None and self.since > self.until:
            raise CallError(
                f"since {self.since} is after until {self.until}, so no round is between them; "
                "swap the two"
            )

    def parameters(self) -> dict[str, Any]:
        """Return the bound values of every SQL step that selects rounds."""
        return {
            "player": self.player,
            "since": self.since,
            "until": self.until,
            "event": self.event,
        }


EVERYTHING = Selection()
