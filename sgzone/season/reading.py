"""A card read and checked on its own, without a season file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, fields
from pathlib import Path

import pandas as pd

from sgzone.cards.columns import names_of
from sgzone.errors import DataError, Problem
from sgzone.season.loading import checked, refuse
from sgzone.season.opening import connect

PROBLEM_COLUMNS = tuple(field.name for field in fields(Problem))


def find_problems(path: str | Path) -> list[Problem]:
    """Return every problem and note of one file of any kind, in file order; writes nothing."""
    connection = connect(None, read_only=False, create=True)
    try:
        return checked(connection, path)[1]
    except DataError as wrong:
        if not wrong.problems:
            raise
        return list(wrong.problems)
    finally:
        connection.close()


def check_card(path: str | Path) -> pd.DataFrame:
    """Return every problem of one file as a frame, empty where there is none; writes nothing.

    Columns: file, row (as a spreadsheet numbers it), column, value, wrong, fix, severity
    (``error`` refuses the file, ``note`` does not), times. Of each kind of problem the first
    ``errors.MOST_OF_A_KIND`` stand alone (times 1); the next stands for all the rest (times: how
    many), so the sum of ``times`` is the number of problems.
    """
    return problem_frame(find_problems(path))


def problem_frame(problems: Sequence[Problem]) -> pd.DataFrame:
    """Return problems as the frame of ``check_card``."""
    rows = [asdict(problem) for problem in problems]
    return pd.DataFrame(rows, columns=list(PROBLEM_COLUMNS)).astype({"row": "Int64"})


def read_card(path: str | Path) -> pd.DataFrame:
    """Return a valid card (or log, test blocks, bag) as a frame in canonical columns.

    The dictionary's columns in its order, words and dates as they are stored; for a shot card
    ``distance`` and ``unit`` make way for ``distance_ft``, and ``played`` is false on rows that
    only mark where the ball lay. Raises ``DataError`` with every problem.
    """
    connection = connect(None, read_only=False, create=True)
    try:
        text, problems, _ = checked(connection, path)
        refuse(text.file, problems)
        names = list(names_of(text.kind))
        order = "source_row"
        if text.kind == "shot":
            names[names.index("distance")] = "distance_ft"
            names[names.index("unit")] = "played"
            order = "player, date, round, hole, shot"
        return connection.execute(
            f"SELECT {', '.join(names)}, extra FROM staged ORDER BY {order}"
        ).df()
    finally:
        connection.close()
