"""Printing: data to standard output as table, csv or json; messages to standard error."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from textwrap import fill
from typing import TYPE_CHECKING, Any

import click

from sgzone.errors import Problem, number_of
from sgzone.harmless import csv_text, cut, json_text, printable
from sgzone.terms import band_words, part_words
from sgzone.units import M_PER_FT, M_PER_YD
from sgzone.verbs import layout
from sgzone.verbs.progress import finished

if TYPE_CHECKING:
    import pandas as pd
    from rich.table import Table

HEADING_WIDTH = 14
MOST_PROBLEMS = 1000  # in a table for eyes
MOST_LETTERS = 300  # columns of a cell
_METRES = {"yd": M_PER_YD, "ft": M_PER_FT}
PLAIN_WIDTH = 1000  # a pipe has no width: never fold or cut what another program reads


@dataclass(frozen=True, slots=True)
class Column:
    """How one column stands in a printed table.

    ``length``: ``yd`` or ``ft`` where the column is one and its name does not end in it.
    ``kept``: it stands there blank too, as it was asked for or words under the table speak of it.
    """

    heading: str
    decimals: int | None = None
    signed: bool = False
    length: str = ""
    kept: bool = False


def emit(
    frame: pd.DataFrame,
    fmt: str,
    columns: Mapping[str, Column] | None = None,
    *,
    units: str = "yards",
    title: str | None = None,
    notes: Iterable[str] = (),
) -> None:
    """Print a finished frame.

    ``csv`` and ``json`` hold every column, unrounded; missing is empty or null; a text cell of csv
    that a spreadsheet would take for a formula starts with an apostrophe. ``table`` shows
    the columns of ``columns`` (all where None), in that order, with their headings; a pair headed
    ``low`` and ``high`` stands in one column, and a column that no row fills is left out. Only
    there ``units`` counts: lengths are turned, and the columns ``part`` and ``band`` are put into
    words.
    """
    finished()
    if fmt == "csv":
        click.echo(csv_text(frame), nl=False)
    elif fmt == "json":
        text = json.dumps(_records(frame), ensure_ascii=False, indent=1, allow_nan=False)
        click.echo(json_text(text))
    else:
        _table(frame, columns or {str(c): Column(str(c)) for c in frame.columns}, units, title)
        for note in notes:
            click.echo(printable(note))


def say(text: str) -> None:
    """Print a message on standard error; no name in it can command the terminal."""
    click.echo(printable(text), err=True)


def problem_table(problems: Iterable[Problem], *, err: bool = False) -> None:
    """Print the problems of a file as a table: where, what is wrong, what to do.

    What the table leaves out is counted under it, column by column.
    """
    problems = list(problems)
    shown, rest = problems[:MOST_PROBLEMS], problems[MOST_PROBLEMS:]
    rows = [
        (p.severity, p.file, "" if p.row is None else str(p.row), p.column, p.value, p.wrong, p.fix)
        for p in shown
    ]
    headings = ("", "file", "row", "column", "value", "what is wrong", "what to do")
    shortened = [[_short(cell) for cell in row] for row in rows]
    _rich_table(headings, shortened, ("left",) * len(headings), None, err=err, whole=True)
    left = Counter[str]()
    for p in rest:
        left[p.column or "the row"] += p.times
    for p in shown:
        left[p.column or "the row"] += p.times - 1
    if more := number_of(problems) - len(shown):
        places = ", ".join(f"{column} {n}" for column, n in left.most_common() if n)
        click.echo(printable(f"... and {more} more (by column: {places})."), err=err)


def _short(text: str) -> str:
    """Return text short enough for a table: a cell of a file may hold a book."""
    return cut(text, MOST_LETTERS)


def _records(frame: pd.DataFrame) -> list[dict[str, Any]]:
    plain = frame.astype(object).where(frame.notna(), None)
    return [{str(k): _json_value(v) for k, v in row.items()} for row in plain.to_dict("records")]


def _json_value(value: Any) -> Any:
    if hasattr(value, "item"):
        return value.item()
    if hasattr(value, "isoformat"):
        return _moment(value)
    return value


def _moment(value: Any) -> str:
    return str(value.isoformat()).removesuffix("T00:00:00")


def _table(
    frame: pd.DataFrame, columns: Mapping[str, Column], units: str, title: str | None
) -> None:
    frame = _in_words(frame, units)
    cells: list[list[str]] = []
    headings: list[str] = []
    sides: list[str] = []
    kept: list[bool] = []
    for name, column in columns.items():
        if name not in frame.columns:
            continue
        factor, heading = _in_units(name, column, units)
        numeric = frame[name].dtype.kind in "fiu"
        known = frame[name].astype(object).where(frame[name].notna(), None)
        texts = [_cell(value, column, factor if numeric else None) for value in known]
        if headings and headings[-1].startswith("low") and heading.startswith("high"):
            headings[-1] = headings[-1].replace("low", "interval", 1)
            cells[-1] = [_span(low, high) for low, high in zip(cells[-1], texts, strict=True)]
            continue
        cells.append(texts)
        headings.append(heading)
        sides.append("right" if numeric else "left")
        kept.append(column.kept or frame.empty)
    # a column that nobody fills only pushes the others off the screen
    said = [place for place, texts in enumerate(cells) if any(texts) or kept[place]]
    folded = [fill(headings[i], HEADING_WIDTH, break_long_words=False) for i in said]
    rows = list(zip(*(cells[i] for i in said), strict=True))
    _rich_table(folded, rows, [sides[i] for i in said], title)


def _span(low: str, high: str) -> str:
    return f"{low} to {high}" if low or high else ""


def _in_words(frame: pd.DataFrame, units: str) -> pd.DataFrame:
    """Return the frame with parts and bands as a player says them; other cells stay (``total``)."""
    words = {"part": part_words(units), "band": band_words(units)}
    said = {
        name: frame[name].map(of).fillna(frame[name]) for name, of in words.items() if name in frame
    }
    return frame.assign(**said)


def _in_units(name: str, column: Column, units: str) -> tuple[float, str]:
    """Return the factor and the heading of a column in the units asked for."""
    length = column.length or name.rpartition("_")[2]
    if units != "metric" or length not in _METRES:
        return 1.0, column.heading
    return _METRES[length], re.sub(rf"\b{length}\b", "m", column.heading)


def _cell(value: Any, column: Column, factor: float | None) -> str:
    if value is None:
        return ""
    if factor is not None and column.decimals is not None:
        sign = "+" if column.signed else ""
        text = f"{float(value) * factor:{sign}.{column.decimals}f}"
        return text if text.strip("+-0.") else text.lstrip("+-")  # nothing is neither more nor less
    if hasattr(value, "isoformat"):
        return _moment(value)
    return str(value)


def _rich_table(
    headings: Sequence[str],
    rows: Sequence[Sequence[str]],
    sides: Sequence[str],
    title: str | None,
    *,
    err: bool = False,
    whole: bool = False,
) -> None:
    """Print a table, on a narrow terminal in blocks one below the other unless ``whole``."""
    from rich.console import Console
    from rich.text import Text

    console = Console(stderr=err, highlight=False)
    headings = [printable(heading) for heading in headings]
    rows = [[printable(cell) for cell in row] for row in rows]
    if title:
        title = printable(title)
    if not console.is_terminal:
        console = Console(stderr=err, highlight=False, width=PLAIN_WIDTH)
    else:
        headings = layout.folded(headings, rows, HEADING_WIDTH)
    wrap = layout.may_wrap(rows, sides)
    every = list(range(len(headings)))
    blocks = [every] if whole else layout.blocks(headings, rows, sides, console.width)
    if title and len(blocks) > 1:
        console.print(Text(title, style="table.title"))
        title = None
    for block in blocks:
        table = _block(title)
        for place in block:
            right = sides[place] == "right"
            table.add_column(
                Text(headings[place]),
                justify="right" if right else "left",
                no_wrap=not (whole or wrap[place]),
                overflow="fold",
            )
        for row in rows:
            table.add_row(*(Text(row[place]) for place in block))
        console.print(table)


def _block(title: str | None) -> Table:
    from rich import box
    from rich.table import Table
    from rich.text import Text

    shown = Text(title, style="table.title") if title else None
    return Table(box=box.SIMPLE_HEAD, title=shown, title_justify="left", pad_edge=False)
