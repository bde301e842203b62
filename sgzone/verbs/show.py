"""Printing: data to standard output as table, csv or json; messages to standard error."""

from __future__ import annotations

import json
import shutil
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import nullcontext
from textwrap import fill
from typing import TYPE_CHECKING, Any, TypeVar

import click

from sgzone.answers import SHORT, WIDE, columns_of
from sgzone.errors import Problem, number_of
from sgzone.harmless import csv_text, cut, json_text, one_line, printable
from sgzone.stats.verdict import GAIN, LOSS, SIDES
from sgzone.verbs import layout
from sgzone.verbs.idle import refuse_idle
from sgzone.verbs.nearest import with_benchmark
from sgzone.verbs.progress import finished
from sgzone.verbs.streams import unheard_is_fine
from sgzone.words.digits import MINUS
from sgzone.words.say import Say
from sgzone.words.tables import NUMBER, Plain, first_rows, more_rows, rows_in, table_of

if TYPE_CHECKING:
    import pandas as pd
    from rich.table import Table

T = TypeVar("T")
HEADING_WIDTH = 14
MOST_PROBLEMS = 1000  # in a table for eyes
MOST_LETTERS = 300  # columns of a cell: one of a file may hold a book
PLAIN_WIDTH = 1000  # a pipe has no width: never fold or cut what another program reads
MOST_ROWS = 40  # of a table for eyes, unless more are asked for
EVERY_ROW = 10**9
ASKED_OF_TABLES = "sgzone.tables"
OF_TABLES = ("wide", "rows")
"""The options that act on a table for eyes alone."""
_RED, _GREEN = "color(1)", "color(2)"  # the terminal's own


def emit(
    frame: pd.DataFrame | Plain,
    fmt: str,
    answer: str,
    say: Say | None = None,
    *,
    lead: Iterable[str] = (),
    title: str | None = None,
    notes: Iterable[str] = (),
    first: bool = True,
    **shown: Any,
) -> None:
    """Print a finished frame, which is one of the ``answers``; plain columns as a table alone.

    ``csv`` and ``json`` hold every column, unrounded; missing is empty or null; a text cell of csv
    that a spreadsheet would take for a formula starts with an apostrophe. ``table`` shows ``lead``,
    the short columns of what ``words.tables.table_of`` makes of it (``shown``: its further
    arguments; ``--wide``: all columns), its first rows, and ``notes`` below. ``first``: whether it
    is the table that was asked for, not one that goes with it.
    """
    finished()
    if fmt == "table" and first:
        _refuse_wide(answer)
    if fmt == "table" or isinstance(frame, dict):
        _emit_table(frame, answer, say or Say(), tuple(lead), title, tuple(notes), shown)
        return
    refuse_idle(f"--format {fmt}", OF_TABLES)
    data = with_benchmark(frame)
    if fmt == "csv":
        click.echo(csv_text(data), nl=False)
    else:
        text = json.dumps(_records(data), ensure_ascii=False, indent=1, allow_nan=False)
        click.echo(json_text(text))


def _emit_table(
    frame: pd.DataFrame | Plain,
    answer: str,
    say: Say,
    lead: Sequence[str],
    title: str | None,
    notes: Sequence[str],
    shown: dict[str, Any],
) -> None:
    tell(*lead)
    most = asked_of_tables("rows", MOST_ROWS)
    table = table_of(first_rows(frame, most), answer, say, title or "", **shown)
    if not asked_of_tables("wide", False):
        table = table.only_short()
    if len(table.headings):
        if lead:
            click.echo()
        sides = ["right" if kind == NUMBER else "left" for kind in table.kinds]
        headings = [fill(h, HEADING_WIDTH, break_long_words=False) for h in table.headings]
        cells = [tuple(cell.replace(MINUS, "-") for cell in row) for row in table.rows]
        _rich_table(headings, cells, sides, title)
        left = rows_in(frame) - len(table.rows)
        if notes or left:
            click.echo()
        tell(*more_rows(left))
    tell(*notes)


def _refuse_wide(answer: str) -> None:
    """Refuse to print all columns of a table that always prints all it has."""
    if all(column.shown != WIDE for column in columns_of(answer)):
        refuse_idle("a table that has no more columns", ("wide",))


def asked_of_tables(name: str, usual: T) -> T:
    """Return what was typed of a table for eyes: ``rows`` or ``wide``."""
    context = click.get_current_context(silent=True)
    found: T = usual if context is None else context.meta.get(f"{ASKED_OF_TABLES}.{name}", usual)
    return found


def tell(*lines: str) -> None:
    """Print lines of words on standard output: what a table for eyes cannot hold."""
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else PLAIN_WIDTH
    for line in lines:
        click.echo(fill(one_line(line), width, break_long_words=False, break_on_hyphens=False))


def say(*lines: str) -> None:
    """Print a message on standard error; no name in it can command the terminal or make a line.

    Where nobody takes it (a closed pipe, a full disk) the work goes on: it is not the answer.
    """
    with unheard_is_fine():
        for line in lines:
            click.echo(one_line(line), err=True)


def problem_table(problems: Iterable[Problem], *, err: bool = False) -> None:
    """Print the notes of files, a line each, and their errors as a table: where, what, what to do.

    What the table leaves out is counted under it, column by column. A file is named where there
    are several.
    """
    problems = list(problems)
    shown = problems[:MOST_PROBLEMS]
    several = len({p.file for p in shown}) > 1
    notes, errors = ([p for p in shown if (p.severity == "note") is what] for what in (True, False))
    (say if err else tell)(*(_note(p, several=several) for p in notes))
    if notes and errors:
        (say if err else tell)("")
    if errors:
        columns = [c for c in columns_of("problems") if c.shown == SHORT and c.name != "severity"]
        columns = [c for c in columns if several or c.name != "file"]
        rows = [
            [cut(_text(getattr(p, column.name)), MOST_LETTERS) for column in columns]
            for p in errors
        ]
        headings = [column.heading for column in columns]
        _rich_table(headings, rows, ("left",) * len(headings), None, err=err, whole=True)
    left = Counter[str]()
    for p in problems[MOST_PROBLEMS:]:
        left[p.column or "the row"] += p.times
    for p in shown:
        left[p.column or "the row"] += p.times - 1
    if more := number_of(problems) - len(shown):
        places = ", ".join(f"{column} {n}" for column, n in left.most_common() if n)
        (say if err else tell)(f"... and {more} more (by column: {places}).")


def _text(value: object) -> str:
    """Return a cell; never blank where it may start a line, which a text of a file then would."""
    return "-" if value is None else str(value)


def _note(of: Problem, *, several: bool) -> str:
    """Return a note as a line; what asks for nothing to be done does not say so."""
    row = "" if of.row is None else f"row {of.row}"
    column = "" if of.wrong.startswith(f"{of.column}:") else of.column
    value = f'"{of.value}"' if of.value and of.value not in of.wrong else ""
    where = ", ".join(filter(None, (of.file if several else "", row, column, value)))
    todo = "" if of.fix.startswith("Nothing") else f" {of.fix}"
    return f"Note: {cut(f'{where}: {of.wrong}' if where else of.wrong, MOST_LETTERS)}.{todo}"


def _records(frame: pd.DataFrame) -> list[dict[str, Any]]:
    plain = frame.astype(object).where(frame.notna(), None)
    return [{str(k): _json_value(v) for k, v in row.items()} for row in plain.to_dict("records")]


def _json_value(value: Any) -> Any:
    if hasattr(value, "item"):
        return value.item()
    if hasattr(value, "isoformat"):
        return str(value.isoformat()).removesuffix("T00:00:00")
    return value


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
    rows = [[one_line(cell) for cell in row] for row in rows]
    if title:
        title = one_line(title)
    if not console.is_terminal:
        console = Console(stderr=err, highlight=False, width=PLAIN_WIDTH)
    else:
        headings = layout.folded(headings, rows, HEADING_WIDTH)
    wrap = layout.may_wrap(rows, sides)
    every = list(range(len(headings)))
    blocks = [every] if whole else layout.blocks(headings, rows, sides, console.width)
    parts: list[Text | Table] = []
    if title and len(blocks) > 1:
        parts.append(Text(title, style="table.title"))
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
            table.add_row(*(Text(row[place], _colour(row[place])) for place in block))
        parts += [Text(""), table] if parts else [table]
    with console.capture() as drawn:  # where its reader has gone, rich would end the program
        for part in parts:
            console.print(part)
    with unheard_is_fine() if err else nullcontext():
        click.echo(drawn.get(), nl=False, err=err)


def _colour(cell: str) -> str:
    """Return the colour of a verdict's word, none of other words: colour says its side alone."""
    return {LOSS: _RED, GAIN: _GREEN}.get(SIDES.get(cell, ""), "")


def _block(title: str | None) -> Table:
    from rich import box
    from rich.table import Table
    from rich.text import Text

    shown = Text(title, style="table.title") if title else None
    return Table(
        box=box.SIMPLE_HEAD,
        title=shown,
        title_justify="left",
        pad_edge=False,
        show_edge=False,
        padding=(0, 1, 0, 0),
    )
