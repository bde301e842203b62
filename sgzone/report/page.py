"""What a page is made of: sections with sentences, figures, tables and notes.

A new section of the report is a function that returns a ``Section``; the template knows the rest.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import altair as alt

from sgzone.words.tables import Table


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
    """

    panels: tuple[Panel, ...]
    caption: tuple[str, ...]
    table: Table
    keys: tuple[Key, ...] = ()
    columns: int = 1
    on_paper: bool = True


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the page; ``lead`` are its sentences, ``notes`` stand under the figures.

    ``lines``: numbered empty lines to write on. ``fresh``: starts a new sheet of paper.
    """

    id: str
    title: str
    lead: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    tables: tuple[Table, ...] = ()
    notes: tuple[str, ...] = ()
    lines: int = 0
    fresh: bool = False


@dataclass(frozen=True, slots=True)
class Page:
    """A whole report. ``summary`` are the sentences at the top, before the contents."""

    title: str
    subtitle: str
    summary: tuple[str, ...]
    sections: tuple[Section, ...]
    colophon: tuple[str, ...] = field(default=())
