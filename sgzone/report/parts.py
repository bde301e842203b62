"""What a page is made of: sections with sentences, figures, tables and notes.

A new section of the report is a function that returns a ``Section``; the template knows the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import altair as alt
import pandas as pd

from sgzone.units import M_PER_FT, M_PER_YD
from sgzone.words.digits import NO_INTERVAL, number

_SAYS_NOTHING = {"", NO_INTERVAL}


@dataclass(frozen=True, slots=True)
class Table:
    """A table ready to print.

    ``kinds``: per column ``num`` (flush right), ``word`` (kept on one line) or ``text``.
    """

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    kinds: tuple[str, ...]


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


@dataclass(frozen=True, slots=True)
class Show:
    """How one column of a frame stands in a table.

    ``length``: ``yd`` or ``ft`` where the column is one, so that it can be shown in metres.
    ``words``: what to print instead of the values, or a function that returns it for the report's
    units. ``kind``: see ``Table``.
    """

    heading: str
    decimals: int | None = None
    signed: bool = False
    percent: bool = False
    length: str = ""
    words: Mapping[str, str] | Callable[[str], Mapping[str, str]] | None = None
    kind: str = "word"


def tabulate(
    frame: pd.DataFrame, columns: Mapping[str, Show], caption: str, units: str = "yards"
) -> Table:
    """Return the columns of a frame as text; a missing value is an empty cell.

    A column in which no row says anything is left out.
    """
    shown = {name: show for name, show in columns.items() if name in frame}
    cells = {name: _cells(frame[name], show, units) for name, show in shown.items()}
    told = [name for name in shown if not len(frame) or not set(cells[name]) <= _SAYS_NOTHING]
    return Table(
        caption=caption,
        headings=tuple(_heading(shown[name], units) for name in told),
        rows=tuple(zip(*(cells[name] for name in told), strict=True)),
        kinds=tuple(_kind(shown[name]) for name in told),
    )


def _kind(show: Show) -> str:
    return show.kind if show.decimals is None else "num"


def _heading(show: Show, units: str) -> str:
    return (
        f"{show.heading}, {'m' if units == 'metric' else show.length}"
        if show.length
        else (show.heading)
    )


def _cells(values: pd.Series, show: Show, units: str) -> list[str]:
    words = show.words(units) if callable(show.words) else show.words
    if words is None:
        return [_cell(value, show, units) for value in values]
    return ["" if value != value else words.get(value, str(value)) for value in values]


def _cell(value: Any, show: Show, units: str) -> str:
    if value is None or value != value:
        return ""
    if show.decimals is None:
        return str(value)
    factor = 100.0 if show.percent else 1.0
    if units == "metric" and show.length:
        factor = {"yd": M_PER_YD, "ft": M_PER_FT}[show.length]
    text = number(float(value) * factor, show.decimals, signed=show.signed)
    if show.decimals == 0 and not show.percent and not show.length:
        text = f"{float(value):,.0f}"
    return f"{text}%" if show.percent else text
