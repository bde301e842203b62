"""One file into the season file: checked, then loaded whole in one transaction, or not at all."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from dataclasses import replace as replace_in
from datetime import UTC, datetime
from pathlib import Path

import duckdb

from sgzone.cards.columns import names_of
from sgzone.cards.given import NOTHING, Given
from sgzone.cards.grid import fatal
from sgzone.cards.memory.frames import (
    NAME,
    Frame,
    as_an_argument,
    digest_of,
    is_file,
    read_frame,
)
from sgzone.cards.reader import TextTable, read_tables
from sgzone.cards.tables import READ_INTO_OTHERS, TABLE
from sgzone.errors import DataError, Problem, first_of_a_kind, number_of
from sgzone.harmless import named
from sgzone.inputs import file_name, opened, refuse_no_name
from sgzone.season.belief import belief_problems
from sgzone.season.glance.players import known_players
from sgzone.season.keys import (
    find_present,
    keep_fresh,
    next_keys,
    present_problems,
    remember_table,
    remove_replaced,
    rows_in_place,
)
from sgzone.season.known import name_problems, with_known_names
from sgzone.season.place_numbers import CELL_VALUES
from sgzone.season.sound import refuse_unsound
from sgzone.season.staging import rule_problems, stage, unstage
from sgzone.season.steps import bindable, run_step

LEAST_COPIED = 3  # strokes; one or two equal ones under two names can be chance

_MADE = ("source_row", "played", "distance_ft", "end_lie", "end_ft", "extra")
_BESIDE = ("round_no", "hole_no", "prev_row", "next_row")  # what makes rounds and holes of rows


@dataclass(frozen=True, slots=True)
class LoadReport:
    """What a load did. ``rows`` were written, ``in_place`` rows of the file were there already.

    ``kinds``: of its tables, in their order: a workbook may have a card on every sheet. ``notes``
    are the problems that do not refuse a file.
    """

    file: str
    kinds: tuple[str, ...]
    rows: int
    in_place: int
    notes: tuple[Problem, ...]

    @property
    def kind(self) -> str:
        """The kind of its first table."""
        return self.kinds[0]

    @property
    def sentence(self) -> str:
        """What happened, for the reader of the command line."""
        file, tables = named(self.file), _tables_in_words(self.kinds)
        if not self.rows:
            return f"{file}: {tables}, {_all(self.in_place)} in the season file already"
        there = f"; {_rows(self.in_place)} there before" if self.in_place else ""
        return f"{file}: {tables}, {_rows(self.rows)} loaded{there}"


def _rows(number: int) -> str:
    return f"{number} row{'' if number == 1 else 's'}"


def _all(number: int) -> str:
    return "its 1 row is" if number == 1 else f"all {number} rows are"


def _tables_in_words(kinds: Sequence[str]) -> str:
    counts = Counter(kinds).items()
    return ", ".join(
        TABLE[kind].name + (f" ({number} sheets)" if number > 1 else "") for kind, number in counts
    )


@dataclass(frozen=True, slots=True)
class Taken:
    """One table of a file, checked.

    ``rows``: how many it has; ``fresh``: how many of them are to be written.
    """

    text: TextTable
    problems: tuple[Problem, ...]
    rows: int
    fresh: int

    @property
    def faulty(self) -> bool:
        """Whether a problem refuses the file."""
        return bool(_errors(self.problems))


@dataclass(frozen=True, slots=True)
class _Source:
    """Where rows come from: the bytes of a file, and what beside them made these rows of it.

    ``read_as``: None for nothing. ``new_player``: a name close to another one is not asked about.
    """

    digest: str
    read_as: str | None
    new_player: bool


def take(
    connection: duckdb.DuckDBPyConnection,
    source: str | Path | Frame,
    given: Given = NOTHING,
    *,
    replace: bool = False,
    keep: bool = False,
) -> Iterator[Taken]:
    """Yield every table of one file, checked; its rows stay staged until the next is asked for.

    ``source``: a file, or a frame. ``keep``: all are loaded. Otherwise all but the last are, so
    that the next one is held to what the file said before: whoever calls does not keep that.
    Nothing is loaded from the first faulty one on. Problems stand in file order. Raises
    ``DataError`` where the file cannot be read as tables at all, or holds no rows.
    """
    known = known_players(connection)
    tables, digest = _read(source, replace_in(given, known=tuple(known)))
    run_step(connection, "earlier")
    empty, faulty = True, False
    for place, text in enumerate(tables):
        keys = next_keys(connection)
        made = _Source(digest, _read_as(given, text, place), given.new_player)
        who = known if not place else known_players(connection)
        one = _taken(connection, text, made, who, replace=replace)
        empty, faulty = empty and not one.rows, faulty or one.faulty
        yield one
        last = place == len(tables) - 1
        if one.fresh and not faulty and (keep or not last):
            _insert(connection, one, made, keys)
        if not last:
            remember_table(connection, text.kind, text.file)
        unstage(connection)
    if empty and not faulty:
        name = name_of(source)
        raise fatal(name, "there are no rows with anything in them", "Write one per stroke.")


def _read(source: str | Path | Frame, given: Given) -> tuple[list[TextTable], str]:
    """Return the tables of a file or frame, and the hash of what it holds."""
    if is_file(source):
        refuse_no_name(source)
        return read_tables(source, given), _digest(Path(source))
    text = read_frame(source, given)
    return [text], digest_of(text.table)


def name_of(source: str | Path | Frame) -> str:
    """Return what messages call a file or a frame."""
    return file_name(source) if is_file(source) else NAME


def _digest(path: Path) -> str:
    with opened(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _read_as(given: Given, text: TextTable, place: int) -> str | None:
    said = {"player": given.player, "dates": given.dates, "sheet": given.sheet}
    said["mapping"] = text.mapping
    found = {name: value for name, value in said.items() if value is not None}
    if place:
        found["table"] = f"{place + 1}"
    return json.dumps(found) if found else None


def _taken(
    connection: duckdb.DuckDBPyConnection,
    text: TextTable,
    source: _Source,
    known: Sequence[str],
    *,
    replace: bool,
) -> Taken:
    text = with_known_names(text, known)
    staged = stage(connection, text)
    problems = [*text.problems, *rule_problems(connection, text, staged.suspects)]
    fresh = 0
    if rows_in_place(connection, text.kind, source.digest, source.read_as) == staged.rows > 0:
        # it was loaded; who played may have been corrected since, and would look like a copy now
        problems = [problem for problem in problems if problem.severity != "error"]
    else:
        if not source.new_player:
            problems += name_problems(connection, text, known)
        if text.kind == "shot":
            problems += belief_problems(connection, text.file)
            if len(staged.players.union(known)) > 1:
                problems += _copies(connection, text.file)
        if replace and not _errors(problems):
            remove_replaced(connection, text.kind)
        find_present(connection, text.kind)
        problems += present_problems(connection, text.file, text.kind)
        keep_fresh(connection, text.kind, _stored_columns(text.kind))
        # to the end: the next step may register a table, which an unread result forbids
        [(fresh,)] = connection.execute("SELECT count(*) FROM fresh").fetchall()
    if text.file == NAME:
        problems = [as_an_argument(problem) for problem in problems]
    return Taken(text, tuple(in_file_order(problems, text.kind)), staged.rows, fresh)


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
        where = ", ".join(filter(None, (_row(first), first.column))) or file
        what = "frame" if file == NAME else "file"
        lead = f"{file}: {count}, nothing of this {what} was loaded"
        fix = f"Correct the {what} and load it again."
        raise DataError(
            f"{lead} (first: {where}: {first.wrong}). {fix}", problems, beside=f"{lead}. {fix}"
        )


def _row(problem: Problem) -> str:
    return "" if problem.row is None else f"row {problem.row}"


def _errors(problems: Sequence[Problem]) -> list[Problem]:
    return [problem for problem in problems if problem.severity == "error"]


def load_file(
    connection: duckdb.DuckDBPyConnection,
    source: str | Path | Frame,
    given: Given = NOTHING,
    *,
    replace: bool = False,
) -> LoadReport:
    """Check and load one file of any kind, or one frame, within a transaction that is open.

    Raises ``DataError`` with every problem; the transaction is then not to be kept.
    """
    tables = [*take(connection, source, given, replace=replace, keep=True)]
    problems = [problem for table in tables for problem in table.problems]
    refuse(name_of(source), problems)
    rows, fresh = sum(table.rows for table in tables), sum(table.fresh for table in tables)
    kinds = tuple(table.text.kind for table in tables if table.rows)
    return LoadReport(name_of(source), kinds, fresh, rows - fresh, tuple(problems))


def _insert(
    connection: duckdb.DuckDBPyConnection, table: Taken, source: _Source, keys: dict[str, int]
) -> None:
    text = table.text
    now = datetime.now(UTC).replace(tzinfo=None, microsecond=0)
    load = {"load_id": keys["load_id"]}
    about = {"kind": text.kind, "file": text.file, "digest": source.digest, "now": now}
    connection.execute(
        "INSERT INTO loads VALUES ($load_id, $kind, $file, $digest, $now, $rows, $how)",
        bindable({**load, **about, "rows": table.fresh, "how": source.read_as}),
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
    read = (name for name in names_of("shot") if name not in READ_INTO_OTHERS)
    return (*read, *_MADE, *_BESIDE)


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
            "Keep the strokes under the name of who played them. To correct a name already "
            "loaded: sgzone rounds --rename OLD NEW.",
        )
        for row, player, other, other_row, n in rows
    )
    return first_of_a_kind(found, len(rows))
