"""A card read and checked on its own, without a season file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path
from typing import Any

import duckdb
import pandas as pd

from sgzone.cards.columns import names_of
from sgzone.cards.given import NOTHING, READ_BY, Given, answers
from sgzone.cards.memory.frames import Frame
from sgzone.cards.reader import TextTable, read_tables
from sgzone.cards.tables import TABLE
from sgzone.errors import CallError, DataError, Problem
from sgzone.season.loading import name_of, refuse, take
from sgzone.season.opening import connect
from sgzone.season.steps import step_text

PROBLEM_COLUMNS = tuple(field.name for field in fields(Problem))


@dataclass(frozen=True, slots=True)
class Checked:
    """A file that was looked over: every problem in file order, and what it holds.

    ``contents``: the counts of each table, its ``kind`` among them; ``holes``: the rows of the
    first hole of its cards, or of every hole where so asked, as ``read_card`` has them. Both are
    empty where an error refuses it.
    """

    problems: tuple[Problem, ...]
    contents: tuple[dict[str, Any], ...] = ()
    holes: tuple[dict[str, Any], ...] = ()

    @property
    def metres(self) -> bool:
        """Whether all lengths of its cards are written in metres."""
        cards = [table["metres"] for table in self.contents if table["kind"] == "shot"]
        return bool(cards) and all(cards)


def look_over(
    path: str | Path | Frame, given: Given = NOTHING, *, every_hole: bool = False
) -> Checked:
    """Check one file of any kind and say what it holds; writes nothing."""
    connection = connect(None, read_only=False, create=True)
    problems: list[Problem] = []
    contents: list[dict[str, Any]] = []
    holes: list[dict[str, Any]] = []
    try:
        for table in take(connection, path, given):
            problems += table.problems
            if table.rows and not table.faulty:
                kind = table.text.kind
                contents.append({"kind": kind, **_contents(connection, kind)})
                if kind == "shot" and (every_hole or not holes):
                    holes += _holes(connection, every=every_hole)
    except DataError as wrong:
        if not wrong.problems:
            raise
        return Checked(wrong.problems)
    finally:
        connection.close()
    if any(problem.severity == "error" for problem in problems):
        return Checked(tuple(problems))
    return Checked(tuple(problems), tuple(contents), tuple(holes))


def _contents(connection: duckdb.DuckDBPyConnection, kind: str) -> dict[str, Any]:
    found = connection.execute(step_text(f"contents_{kind}"))
    names = [column[0] for column in found.description or ()]
    [values] = found.fetchall()
    return dict(zip(names, values, strict=True))


def _holes(connection: duckdb.DuckDBPyConnection, *, every: bool) -> list[dict[str, Any]]:
    frame = _frame(connection, "shot", "" if every else _FIRST_HOLE)
    return [{str(name): v for name, v in row.items()} for row in frame.to_dict("records")]


def find_problems(path: str | Path | Frame, given: Given = NOTHING) -> list[Problem]:
    """Return every problem and note of one file of any kind, in file order; writes nothing."""
    return list(look_over(path, given).problems)


def acting(path: str | Path, given: Given) -> frozenset[str]:
    """Return which answers change what is read of a file: fields of ``Given``.

    All of them where it cannot be read: that is said first. ``new_player`` is no matter of reading.
    A mapping acts even where the same one lies beside the file.
    """
    asked = [name for name in READ_BY if getattr(given, name) is not None]
    try:
        told = read_tables(path, given) if asked else []
    except DataError:
        return frozenset(asked)
    mapped = {"mapping"} if any(table.mapping for table in told) else set()
    unlike = {name for name in asked if _read_without(path, given, name) != told}
    return frozenset({*asked} & (mapped | unlike))


def where_it_acts(path: str | Path, given: Given) -> Given:
    """Return the answers for one file of many: who played only where the file does not say it."""
    told = _read_without(path, given, "player") if given.player is not None else None
    if told is None or any(p.severity == "error" for table in told for p in table.problems):
        return given
    return replace(given, player=None)


def _read_without(path: str | Path, given: Given, name: str) -> list[TextTable] | None:
    without: dict[str, Any] = {name: None}
    try:
        return read_tables(path, replace(given, **without))
    except DataError:
        return None


def check_card(
    path: str | Path | Frame,
    *,
    player: str | None = None,
    dates: str | None = None,
    sheet: str | None = None,
    mapping: str | Path | None = None,
    new_player: bool = False,
) -> pd.DataFrame:
    """Return every problem of one file or frame as a frame; writes nothing.

    Columns: file, row (as a spreadsheet numbers it; of a frame from 0, as ``iloc``), column,
    value, wrong, fix, severity (``error`` refuses the file, ``note`` does not), times. Of each kind
    of problem the first 1000 stand alone (times 1); the next stands for all
    the rest (times: how many), so the sum of ``times`` is the number of problems. The answers are
    those of ``Store.load``. Raises ``CallError`` for an answer that is none.
    """
    return problem_frame(
        find_problems(path, answers(player, dates, sheet, mapping, new_player=new_player))
    )


def problem_frame(problems: Sequence[Problem]) -> pd.DataFrame:
    """Return problems as the frame of ``check_card``."""
    rows = [asdict(problem) for problem in problems]
    return pd.DataFrame(rows, columns=list(PROBLEM_COLUMNS)).astype({"row": "Int64"})


def read_card(
    path: str | Path | Frame,
    *,
    player: str | None = None,
    dates: str | None = None,
    sheet: str | None = None,
    mapping: str | Path | None = None,
    new_player: bool = False,
) -> pd.DataFrame:
    """Return a valid card (or log, test blocks, bag) as a frame in canonical columns.

    ``path``: a file, or a frame. What comes back can be loaded: ``store.load(read_card(path))``.

    The dictionary's columns in its order, words and dates as they are stored; for a shot card
    ``distance``, ``unit`` and ``to_distance`` make way for ``distance_ft`` and ``to_distance_ft``,
    and ``played`` is false on rows that only mark where the ball lay. Sheets of one kind follow
    each other. The answers are those of ``Store.load``. Raises ``DataError`` with every problem,
    ``CallError`` for an answer that is none and for a file with tables of more than one kind.
    """
    connection = connect(None, read_only=False, create=True)
    frames: dict[str, list[pd.DataFrame]] = {}
    problems: list[Problem] = []
    try:
        for table in take(
            connection, path, answers(player, dates, sheet, mapping, new_player=new_player)
        ):
            problems += table.problems
            if table.rows:
                frames.setdefault(table.text.kind, []).append(_frame(connection, table.text.kind))
    finally:
        connection.close()
    name = name_of(path)
    refuse(name, problems)
    if len(frames) > 1:
        kinds = " and ".join(TABLE[kind].name for kind in frames)
        raise CallError(f"{name} holds {kinds}, which make no one frame; name one with sheet=.")
    [found] = frames.values()
    return found[0] if len(found) == 1 else pd.concat(found, ignore_index=True)


_FIRST_HOLE = "WHERE hole_no = (SELECT arg_min(hole_no, source_row) FROM staged)"


def _frame(connection: duckdb.DuckDBPyConnection, kind: str, where: str = "") -> pd.DataFrame:
    names = list(names_of(kind))
    order = "source_row"
    if kind == "shot":
        names[names.index("distance")] = "distance_ft"
        names[names.index("unit")] = "played"
        names[names.index("to_distance")] = "to_ft AS to_distance_ft"
        order = "player, date, round, hole, shot"
    return connection.execute(
        f"SELECT {', '.join(names)}, extra FROM staged {where} ORDER BY {order}"
    ).df()
