"""Whether what a season file holds belongs together, and how it is said where it does not."""

from __future__ import annotations

from pathlib import Path

import duckdb

from sgzone.errors import DataError
from sgzone.season.place_numbers import CELL_VALUES
from sgzone.season.steps import step_text
from sgzone.terms import MEASURE, PART_NAMES

_DAMAGE = (
    duckdb.ConstraintException,
    duckdb.FatalException,
    duckdb.InternalException,
    duckdb.IOException,
    duckdb.SerializationException,
    duckdb.TransactionException,
)
_WAY_OUT = "Go back to a backup, or load the cards into a new file."


def unlike(path: Path | None, why: str) -> DataError:
    """Return the error for a file that is no season file, or no whole one."""
    return DataError(
        f"{path} is not a season file, or it is damaged{why}. Name another file with --db, or go "
        "back to a backup."
    )


def is_damage(wrong: duckdb.Error) -> bool:
    """Return whether an error of DuckDB may be the file's, not the question's."""
    # a block that does not match its checksum is an error of no kind
    return type(wrong) is duckdb.Error or isinstance(wrong, _DAMAGE)


def unreadable(path: Path | None, wrong: Exception) -> DataError:
    """Return the error for a file that DuckDB cannot read or write any more."""
    return DataError(
        f"The season file {path} cannot be read or written ({wrong}). Is the disk full? If not, "
        "the file is damaged: go back to a backup, or load the cards into a new file."
    )


def refuse_unsound(connection: duckdb.DuckDBPyConnection, where: str, first: int = 0) -> None:
    """Raise ``DataError`` where rounds, holes and strokes do not belong together.

    Looked at is what has the round key ``first`` or a greater one.
    """
    [counts] = connection.execute(step_text("unsound"), {"first": first}).fetchall()
    names = ("round", "hole", "stroke")
    wrong = [
        f"{n} {name}{'' if n == 1 else 's'}" for n, name in zip(counts, names, strict=True) if n
    ]
    if wrong:
        raise DataError(
            f"{where} is damaged: {', '.join(wrong)} in it that do not belong together. {_WAY_OUT}"
        )


def refuse_unsound_values(connection: duckdb.DuckDBPyConnection, where: str) -> None:
    """Raise ``DataError`` for what no card and no fit can have brought into the file."""
    words = {"parts": list(PART_NAMES), "measures": list(MEASURE)}
    [(odd,)] = connection.execute(step_text("unsound_values"), CELL_VALUES | words).fetchall()
    if odd:
        raise DataError(
            f"{where} is damaged: {odd} row{'' if odd == 1 else 's'} in it that no card can hold, "
            f"so this cannot be answered. {_WAY_OUT}"
        )


def refuse_unsound_rounds(connection: duckdb.DuckDBPyConnection, where: str) -> None:
    """Raise ``DataError`` for what can be seen in the rounds and loads alone: at every opening."""
    [(twice, lost, odd)] = connection.execute(step_text("unsound_rounds")).fetchall()
    if twice:
        raise DataError(f"{where} is damaged: the same round is in it twice. {_WAY_OUT}")
    if lost:
        raise DataError(
            f"{where} is damaged: nothing says which file {lost} of its rounds are of. {_WAY_OUT}"
        )
    if odd:
        raise DataError(f"{where} is damaged: a day in it is in no year of golf. {_WAY_OUT}")
