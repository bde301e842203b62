"""One file into the season file: checked, then loaded whole in one transaction, or not at all."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import duckdb

from sgzone.cards.columns import names_of
from sgzone.cards.grid import fatal
from sgzone.cards.reader import TextTable, read_table
from sgzone.cards.tables import TABLE
from sgzone.errors import DataError, Problem, first_of_a_kind, number_of
from sgzone.harmless import named
from sgzone.inputs import opened, refuse_no_name
from sgzone.season.keys import (
    find_present,
    keep_fresh,
    next_keys,
    present_problems,
    remove_replaced,
    rows_in_place,
)
from sgzone.season.place_numbers import CELL_VALUES
from sgzone.season.sound import refuse_unsound
from sgzone.season.staging import rule_problems, stage, unstage
from sgzone.season.steps import run_step

LEAST_COPIED = 3  # strokes; one or two equal ones under two names can be chance

_MADE = ("source_row", "played", "distance_ft", "end_lie", "end_ft", "extra")
_BESIDE = ("round_no", "hole_no", "prev_row", "next_row")  # what makes rounds and holes of rows


@dataclass(frozen=True, slots=True)
class LoadReport:
    """What a load did. ``rows`` were written, ``in_place`` rows of the file were there already.

    ``notes`` are the problems that do not refuse a file.
    """

    file: str
    kind: str
    rows: int
    in_place: int
    notes: tuple[Problem, ...]

    @property
    def sentence(self) -> str:
        """What happened, for the reader of the command line."""
        file, table = named(self.file), TABLE[self.kind].name
        if not self.rows:
            return f"{file}: {table}, all {self.in_place} rows are in the season file already"
        there = f"; {self.in_place} rows were there already" if self.in_place else ""
        return f"{file}: {table}, {self.rows} rows loaded{there}"


def checked(
    connection: duckdb.DuckDBPyConnection, path: str | Path
) -> tuple[TextTable, list[Problem], int]:
    """Stage one file and return it, every problem in file order, and how many rows it has.

    Raises ``DataError`` where it cannot be read as a table at all.
    """
    refuse_no_name(path)
    text = read_table(path)
    staged = stage(connection, text)
    if not _errors(text.problems) and not staged.rows:
        raise fatal(text.file, "there are no rows with anything in them", "Write one per stroke.")
    problems = [*text.problems, *rule_problems(connection, text, staged.suspects)]
    if text.kind == "shot" and len(staged.players | _players(connection)) > 1:
        problems += _copies(connection, text.file)
    return text, in_file_order(problems, text.kind), staged.rows


def in_file_order(problems: Sequence[Problem], kind: str) -> list[Problem]:
    """Return problems by row, then by column as the dictionary orders them."""
    places = {name: place for place, name in enumerate(names_of(kind))}
    return sorted(problems, key=lambda p: (p.row or 0, places.get(p.column, -1)))


def refuse(file: str, problems: Sequence[Problem]) -> None:
    """Raise ``DataError`` with all problems where one of them is an error."""
    errors = _errors(problems)
    if errors:
        total = number_of(errors)
        count = f"{total} problem{'s' if total > 1 else ''}"
        first = errors[0]
        file = named(file)
        where = f"row {first.row}, {first.column}" if first.row else file
        raise DataError(
            f"{file}: {count}, nothing of this file was loaded (first: {where}: {first.wrong}). "
            "Correct the file and load it again.",
            problems,
        )


def _errors(problems: Sequence[Problem]) -> list[Problem]:
    return [problem for problem in problems if problem.severity == "error"]


def load_file(
    connection: duckdb.DuckDBPyConnection, path: str | Path, *, replace: bool
) -> LoadReport:
    """Check and load one file of any kind, within a transaction that is open.

    Raises ``DataError`` with every problem; the transaction is then not to be kept.
    """
    report = _load(connection, Path(path), replace=replace)
    unstage(connection)
    return report


def _load(connection: duckdb.DuckDBPyConnection, path: Path, *, replace: bool) -> LoadReport:
    text, problems, rows = checked(connection, path)
    with opened(path) as file:
        digest = hashlib.file_digest(file, "sha256").hexdigest()
    notes = tuple(problem for problem in problems if problem.severity != "error")
    if rows_in_place(connection, text.kind, digest) == rows > 0:
        return LoadReport(text.file, text.kind, 0, rows, notes)
    keys = next_keys(connection)
    if replace:
        remove_replaced(connection, text.kind)
    find_present(connection, text.kind)
    problems += present_problems(connection, text.file, text.kind, digest)
    refuse(text.file, in_file_order(problems, text.kind))
    keep_fresh(connection, text.kind, _stored_columns(text.kind))
    # to the end: the next step may register a table, which an unread result forbids
    [(fresh,)] = connection.execute("SELECT count(*) FROM fresh").fetchall()
    _insert(connection, text, digest, fresh, keys)
    return LoadReport(text.file, text.kind, fresh, rows - fresh, notes)


def _insert(
    connection: duckdb.DuckDBPyConnection,
    text: TextTable,
    digest: str,
    rows: int,
    keys: dict[str, int],
) -> None:
    now = datetime.now(UTC).replace(tzinfo=None, microsecond=0)
    load = {"load_id": keys["load_id"]}
    connection.execute(
        "INSERT INTO loads VALUES ($load_id, $kind, $file, $digest, $now, $rows)",
        {**load, "kind": text.kind, "file": text.file, "digest": digest, "now": now, "rows": rows},
    )
    if text.kind == "shot":
        run_step(connection, "insert_card", {**keys, **CELL_VALUES})
        refuse_unsound(connection, "The season file", keys["next_round"])
        return
    connection.execute(
        f"INSERT INTO {TABLE[text.kind].stored_in} BY NAME SELECT $load_id AS load_id, fresh.* "
        "FROM fresh ORDER BY source_row",
        load,
    )


def _stored_columns(kind: str) -> tuple[str, ...]:
    if kind != "shot":
        return (*names_of(kind), "source_row", "extra")
    read = (name for name in names_of("shot") if name not in ("distance", "unit"))
    return (*read, *_MADE, *_BESIDE)


def _players(connection: duckdb.DuckDBPyConnection) -> set[str]:
    """Return the players of the season file."""
    rows = connection.execute("SELECT DISTINCT player FROM rounds").fetchall()
    return {player for (player,) in rows}


def _copies(connection: duckdb.DuckDBPyConnection, file: str) -> list[Problem]:
    run_step(connection, "copies", {"least": LEAST_COPIED})
    rows = connection.execute(
        "SELECT source_row, player, other, other_row, n FROM copies"
    ).fetchall()
    found = (
        Problem(
            file,
            row,
            "player",
            player,
            f'all {n} strokes of this round are those of "{other}" on the same day '
            f"({'the season file' if other_row is None else f'from row {other_row}'})",
            "Keep the strokes under the name of who played them; sgzone rounds --rename OLD NEW "
            "corrects a name in the season file.",
        )
        for row, player, other, other_row, n in rows
    )
    return first_of_a_kind(found, len(rows))
