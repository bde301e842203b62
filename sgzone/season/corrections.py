"""Corrections, each within a transaction: rename a player, delete a round or all of a player."""

from __future__ import annotations

from datetime import date as day

import duckdb

from sgzone.bounds import BOUNDS
from sgzone.cards.tables import TABLES
from sgzone.errors import CallError, DataError, did_you_mean
from sgzone.harmless import one_line
from sgzone.season.glance.players import known_players, refuse_unknown
from sgzone.season.keys import remove_orphaned_holes
from sgzone.season.steps import bindable, step_text

_BESIDE = ("rounds", "fitted_players", "agreements")
"""Tables with a player's name that no file is loaded into."""


def rename(connection: duckdb.DuckDBPyConnection, old: str, new: str) -> int:
    """Rename a player in every table; return the number of rounds renamed."""
    name = new.strip()
    if not name or len(name) > 80:
        raise CallError("The new name must have 1 to 80 characters.")
    if one_line(name) != name:
        raise CallError("The new name must be plain text, on one line, without control characters.")
    refuse_unknown(connection, old)
    if name == old:
        return 0
    _refuse_clash(connection, old, name)
    values = {"old": old, "new": name}
    for table in (*_tables(), *_BESIDE):
        connection.execute(f"UPDATE {table} SET player = $new WHERE player = $old", values)
    row = connection.execute(
        "SELECT count(*) FROM rounds WHERE player = $new", {"new": name}
    ).fetchone()
    assert row is not None
    return int(row[0])


def _tables() -> list[str]:
    return [table.stored_in for table in TABLES]


def _refuse_clash(connection: duckdb.DuckDBPyConnection, old: str, new: str) -> None:
    for table in TABLES:
        others = [name for name in table.key if name != "player"]
        same = " AND ".join(f"a.{name} IS NOT DISTINCT FROM b.{name}" for name in others)
        rows = connection.execute(
            f"SELECT DISTINCT concat_ws(', ', {', '.join(f'a.{name}' for name in others)}) "
            f"FROM {table.stored_in} a JOIN {table.stored_in} b ON {same} "
            "AND a.player = $old AND b.player = $new ORDER BY 1",
            {"old": old, "new": new},
        ).fetchall()
        if rows:
            raise DataError(
                f'"{old}" and "{new}" both have {rows[0][0]} ({" and ".join(others)}), '
                f"{len(rows)} clash{'es' if len(rows) > 1 else ''} in all. Two rounds cannot "
                "become one: delete one of them first."
            )


_ONE_ROUND = "player = $player AND date = $date AND round = $round"


def one_round(
    connection: duckdb.DuckDBPyConnection, player: str, date: day | str, number: int
) -> dict[str, object]:
    """Return the key of a round that is there, to be bound. ``CallError`` where it is not."""
    number = int(BOUNDS["round"].check(number, "number"))
    values = bindable({"player": player, "date": _date(date), "round": number})
    found = connection.execute(f"SELECT 1 FROM rounds WHERE {_ONE_ROUND}", values).fetchone()
    if found is None:
        raise CallError(
            f'No round {number} of "{player}" on {values["date"]} in the season file; '
            f"`sgzone rounds` lists what is there.{did_you_mean(player, known_players(connection))}"
        )
    return values


def delete(connection: duckdb.DuckDBPyConnection, player: str, date: day | str, number: int) -> int:
    """Delete one round; return the number of its strokes."""
    values = one_round(connection, player, date, number)
    query = f"SELECT strokes FROM rounds WHERE {_ONE_ROUND}"
    [(strokes,)] = connection.execute(query, values).fetchall()
    connection.execute(f"DELETE FROM strokes WHERE {_ONE_ROUND}", values)
    connection.execute(f"DELETE FROM rounds WHERE {_ONE_ROUND}", values)
    remove_orphaned_holes(connection)
    return int(strokes)


def held_in_round(
    connection: duckdb.DuckDBPyConnection, player: str, date: day | str, number: int
) -> dict[str, int]:
    """Return what ``delete`` would delete: rounds, strokes. ``CallError`` where there is none."""
    values = one_round(connection, player, date, number)
    query = f"SELECT strokes FROM rounds WHERE {_ONE_ROUND}"
    [(strokes,)] = connection.execute(query, values).fetchall()
    return {"rounds": 1, "strokes": int(strokes)}


def held_of_player(connection: duckdb.DuckDBPyConnection, player: str) -> dict[str, int]:
    """Return what ``delete_player`` would delete: rounds, strokes, entries and so on.

    Raises ``CallError`` for an unknown name.
    """
    refuse_unknown(connection, player)
    found = connection.execute(step_text("held_of_player"), bindable({"player": player}))
    names = [column[0] for column in found.description or ()]
    [values] = found.fetchall()
    return dict(zip(names, values, strict=True))


def delete_player(connection: duckdb.DuckDBPyConnection, player: str) -> dict[str, int]:
    """Delete all of a player, and the name under fitted benchmarks; return what there was."""
    gone = held_of_player(connection, player)
    for table in (*_tables(), *_BESIDE):
        connection.execute(
            f"DELETE FROM {table} WHERE player = $player", bindable({"player": player})
        )
    remove_orphaned_holes(connection)
    return gone


def _date(date: day | str) -> day:
    if isinstance(date, day):
        return date
    try:
        return day.fromisoformat(date)
    except (ValueError, TypeError) as wrong:
        raise CallError(f'"{str(date)[:80]}" is not a date; write it as 2026-05-14.') from wrong
