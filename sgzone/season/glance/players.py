"""Who and what is in a season file; nearly every verb asks, so it waits for DuckDB alone."""

from __future__ import annotations

import duckdb

from sgzone.errors import CallError, did_you_mean
from sgzone.season.steps import step_text


def known_players(connection: duckdb.DuckDBPyConnection) -> list[str]:
    """Return everybody of whom the season file has a round, an entry, a block or a club."""
    return [name for (name,) in connection.execute(step_text("known_players")).fetchall()]


def counted(connection: duckdb.DuckDBPyConnection) -> list[str]:
    """Return what is in a season file, counted: players, rounds, strokes."""
    [numbers] = connection.execute(step_text("held")).fetchall()
    named = zip(numbers, ("player", "round", "stroke"), strict=True)
    return [f"{number:,} {name}{'' if number == 1 else 's'}" for number, name in named]


def refuse_unknown(connection: duckdb.DuckDBPyConnection, player: str) -> None:
    """Raise ``CallError`` for a player of whom the file has nothing."""
    names = known_players(connection)
    if player not in names:
        there, hint = ", ".join(names) or "none yet", did_you_mean(player, names)
        raise CallError(f'No player "{player}" in the season file (there: {there}).{hint}')
