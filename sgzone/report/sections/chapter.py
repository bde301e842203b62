"""What a report can show: a chapter is asked, and gives a section and the tables behind it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sgzone.report.asked import Asked, Tables
from sgzone.report.page import Place, Section


@dataclass(frozen=True, slots=True)
class Chapter:
    """One subject of a report.

    ``build``: its section, None where it was not asked for; a section may have a title of its own.
    ``tables``: what is exported, unrounded. ``always``: without rounds
    too. ``opens``: the kind of report it comes first in.
    """

    id: str
    title: str
    build: Callable[[Asked], Section | None]
    tables: Callable[[Asked], Tables] = lambda _: {}
    place: Place = Place.COACH
    always: bool = False
    opens: str = ""

    def section(self, asked: Asked) -> Section | None:
        """Return the section by its name, None where there is nothing to show."""
        made = self.build(asked) if asked.rounds or self.always else None
        if made is None:
            return None
        place = Place.PLAYER if made.stays else self.place
        return replace(made, id=self.id, title=made.title or self.title, place=place)

    def exported(self, asked: Asked) -> Tables:
        """Return the tables that have rows by the names of their files."""
        found = self.tables(asked).items()
        return {f"{self.id}-{word}" if word else self.id: t for word, t in found if len(t)}
