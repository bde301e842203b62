"""What a page is made of: sections with sentences, figures, tables and notes."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

import altair as alt

from sgzone.report.strokes.packed import Strokes
from sgzone.words.tables import Table
from sgzone.words.week import SessionCard


class Place(IntEnum):
    """Where a section is printed, in the order of the sheets.

    ``PLAYER``: the first sheet, under the summary. ``NUMBERS``: that sheet in numbers, and what
    follows them. ``FINE``: smaller type. ``RANGE``: the sheet to tear off. ``CLOSING``: fine print
    that goes along with it. ``SCREEN``: not printed.
    """

    PLAYER = 1
    NUMBERS = 2
    COACH = 3
    FINE = 4
    RANGE = 5
    CLOSING = 6
    SCREEN = 7


@dataclass(frozen=True, slots=True)
class Panel:
    """One chart with its text alternative; ``title`` where several share a figure."""

    id: str
    chart: alt.TopLevelMixin
    alt: str
    title: str = ""


@dataclass(frozen=True, slots=True)
class Key:
    """One entry of a figure's key: ``mark`` is a class of the style sheet."""

    mark: str
    words: str


@dataclass(frozen=True, slots=True)
class Figure:
    """Charts that are read together, their caption, key, and data as a table.

    ``columns``: panels side by side where there is room. ``on_paper``: printed too.
    ``in_numbers``: the short table is printed too. A chart on paper has no tooltips; the other
    figures show their numbers, or more of them than a sheet can hold.
    """

    panels: tuple[Panel, ...]
    caption: tuple[str, ...]
    table: Table
    keys: tuple[Key, ...] = ()
    columns: int = 1
    on_paper: bool = True
    in_numbers: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the page; ``lead`` are its sentences, ``notes`` stand under the figures.

    ``cards``: sessions, on paper on a sheet to tear off; ``over_cards`` are the sentences over
    them. ``items``: a line each, before the sentences. ``follows``: its dots follow what a reader
    chooses. ``lines``: numbered empty lines to write on. ``stays``: on paper its tables stay with
    it on the player's sheet. ``folded``: tables that open at a touch, each with the words on its
    fold; on a screen alone. ``fresh``: starts a new sheet of paper. ``id``, ``title`` and ``place``
    are the chapter's, where it is one of a chapter.
    """

    lead: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    tables: tuple[Table, ...] = ()
    notes: tuple[str, ...] = ()
    over_cards: tuple[str, ...] = ()
    cards: tuple[SessionCard, ...] = ()
    items: tuple[str, ...] = ()
    lines: int = 0
    follows: bool = False
    folded: tuple[tuple[str, Table], ...] = ()
    stays: bool = False
    fresh: bool = False
    id: str = ""
    title: str = ""
    place: Place = Place.COACH

    @property
    def of_strokes(self) -> bool:
        """Whether it shows what was played, not what stands in every report."""
        shown = self.figures or self.folded or self.tables or self.items
        return bool(shown) and self.place not in (Place.FINE, Place.CLOSING)


@dataclass(frozen=True, slots=True)
class Page:
    """A whole report. ``summary`` are the sentences at the top, before the contents.

    ``one_sheet``: on paper it is one, set smaller where it would spill over. ``opened``: sections
    that stand open on a small screen; those after them are folded there. ``strokes``: those that
    the page can be asked about; None for a page that only tells.
    """

    title: str
    subtitle: str
    summary: tuple[str, ...]
    sections: tuple[Section, ...]
    colophon: tuple[str, ...] = field(default=())
    one_sheet: bool = False
    opened: int = 3
    strokes: Strokes | None = None
