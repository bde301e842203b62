"""A typed card as it is read: every cell, every note, every question.

The form of a ``.read`` file: the options of the call, if any; then per table its kind, its cells
as CSV (``row`` as a spreadsheet numbers it, ``+`` before columns that are none of the card's) and
what is told. What is asked stands with what to do.
"""

from __future__ import annotations

import csv
import shlex
from io import StringIO
from pathlib import Path

import duckdb

from sgzone.cards.columns import names_of
from sgzone.cards.given import NOTHING, Given
from sgzone.cards.reader import EXTRA_PREFIX, TextTable, read_tables
from sgzone.errors import DataError, Problem
from sgzone.season.staging import rule_problems, stage, unstage

OPTIONS = {"--as": "player", "--dates": "dates", "--sheet": "sheet"}


def given_of(line: str) -> Given:
    """Return what a line such as ``--as "Ned Farrow" --dates dmy`` says."""
    words = shlex.split(line)
    said = {OPTIONS[flag]: value for flag, value in zip(words[::2], words[1::2], strict=True)}
    return Given(**said)  # type: ignore[arg-type]


def as_read(connection: duckdb.DuckDBPyConnection, path: Path, given: Given = NOTHING) -> str:
    """Return all that is read of a file, in the form of the ``.read`` files beside the cards."""
    try:
        tables = read_tables(path, given)
    except DataError as wrong:
        return "".join(map(_told, wrong.problems))
    return "\n".join(_table(connection, table, path.name) for table in tables)


def _table(connection: duckdb.DuckDBPyConnection, text: TextTable, name: str) -> str:
    head = f"{text.kind}{text.file.removeprefix(name)}\n"
    staged = stage(connection, text)
    problems = [*text.problems, *rule_problems(connection, text, staged.suspects)]
    unstage(connection)
    return head + _cells(text) + "".join(map(_told, problems))


def _cells(text: TextTable) -> str:
    """Return the cells of the columns with anything in them, the row's number first."""
    rows = text.table.to_pylist()
    columns = [name for name in names_of(text.kind) if any(row.get(name) for row in rows)]
    columns += [name for name in text.table.column_names if name.startswith(EXTRA_PREFIX)]
    headers = [f"+{text.extra[int(c[1:])]}" if c.startswith(EXTRA_PREFIX) else c for c in columns]
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["row", *headers])
    for row in rows:
        writer.writerow([row["source_row"], *((row[name] or "").strip() for name in columns)])
    return out.getvalue()


def _told(problem: Problem) -> str:
    mark = "note" if problem.severity == "note" else "ask"
    where = "" if problem.row is None else f" row {problem.row}"
    column = f" {problem.column}" if problem.column and problem.severity != "note" else ""
    fix = f" -> {problem.fix}" if mark == "ask" else ""
    return f"{mark}{where}{column}: {problem.wrong}{fix}\n"
