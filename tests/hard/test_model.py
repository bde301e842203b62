"""Random sequences of all that is done to season files, and the faults they would find.

Timed apart from the other tests by `make check`; thousands of sequences by `make fuzz`.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import duckdb
import pytest

from sgzone.cards.tables import TABLES
from sgzone.errors import SgzoneError
from sgzone.season import backup, corrections, keys, loading, opening
from sgzone.season.store import Store
from tests.hard.seasons_calls import started
from tests.hard.seasons_machine import Seasons, run
from tests.hard.server import Server

pytestmark = pytest.mark.long

SEQUENCES, BATCHES = 200, 4  # each batch on the core that is free
SEED = 20260101


@pytest.fixture(scope="module", autouse=True)
def start() -> None:
    """Make what the sequences start from while nothing is planted."""
    for stocked in (True, False):
        started(stocked=stocked)


@pytest.fixture(scope="module")
def servers() -> Iterator[tuple[Server, ...]]:
    """Two other processes."""
    with Server() as one, Server() as other:
        yield one, other


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_season_file_is_what_the_model_says(servers: tuple[Server, ...], batch: int) -> None:
    class Machine(Seasons):
        pass

    Machine.servers = servers
    begin, size = time.monotonic(), SEQUENCES // BATCHES
    run(Machine, size, SEED + batch, shrink=True)
    assert Machine.sequences >= size
    seconds = time.monotonic() - begin
    sys.stdout.write(f"{Machine.sequences} sequences, {Machine.steps} steps in {seconds:.0f} s\n")


Plant = Callable[[pytest.MonkeyPatch], None]


def keys_start_again_in_the_copy_of_a_copy(patch: pytest.MonkeyPatch) -> None:
    """As sequences do: a copy starts after what its source drew, and a copy drew nothing yet."""
    drawn: set[str] = set()
    copies: dict[str, bool] = {}
    backup, next_keys = Store.backup, loading.next_keys

    def copied(store: Store, path: str | Path) -> Path:
        target = backup(store, path)
        copies[str(target)] = str(store.path) in drawn or str(store.path) not in copies
        return target

    def numbered(connection: duckdb.DuckDBPyConnection) -> dict[str, int]:
        [(path,)] = connection.execute(
            "SELECT path FROM duckdb_databases() WHERE database_name = current_database()"
        ).fetchall()
        drawn.add(path)
        found = next_keys(connection)
        return found if copies.get(path, True) else dict.fromkeys(found, 1)

    patch.setattr(Store, "backup", copied)
    patch.setattr(loading, "next_keys", numbered)


def a_deletion_leaves_the_strokes(patch: pytest.MonkeyPatch) -> None:
    real = corrections.delete

    def delete(connection: duckdb.DuckDBPyConnection, player: str, date: str, number: int) -> int:
        connection.execute("CREATE OR REPLACE TEMP TABLE kept AS FROM strokes")
        strokes = real(connection, player, date, number)
        connection.execute("DELETE FROM strokes")
        connection.execute("INSERT INTO strokes FROM kept")
        return strokes

    patch.setattr(corrections, "delete", delete)


def a_rename_forgets_the_bag(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(corrections, "TABLES", [table for table in TABLES if table.kind != "bag"])


def a_replaced_round_leaves_its_holes(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(keys, "remove_orphaned_holes", lambda _: None)


def a_backup_leaves_a_table_out(patch: pytest.MonkeyPatch) -> None:
    tables = backup.tables
    patch.setattr(backup, "tables", lambda: [name for name in tables() if name != "test_balls"])


def what_is_there_is_passed_over_in_silence(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(loading, "present_problems", lambda *_: [])


def a_faulty_file_is_loaded(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(loading, "refuse", lambda *_: None)


def an_upgrade_puts_strokes_in_other_places(patch: pytest.MonkeyPatch) -> None:
    lies = opening.CELL_VALUES["lies"]
    patch.setattr(opening, "CELL_VALUES", opening.CELL_VALUES | {"lies": [*reversed(lies)]})


PLANTED: tuple[Plant, ...] = (
    keys_start_again_in_the_copy_of_a_copy,
    a_deletion_leaves_the_strokes,
    a_rename_forgets_the_bag,
    a_replaced_round_leaves_its_holes,
    a_backup_leaves_a_table_out,
    what_is_there_is_passed_over_in_silence,
    a_faulty_file_is_loaded,
    an_upgrade_puts_strokes_in_other_places,
)


@pytest.mark.parametrize("plant", PLANTED, ids=lambda plant: plant.__name__)
def test_the_machine_finds(plant: Plant, monkeypatch: pytest.MonkeyPatch) -> None:
    class Machine(Seasons):
        scoring = False  # what is planted shows in the tables

    plant(monkeypatch)
    with pytest.raises((AssertionError, SgzoneError)) as caught:
        run(Machine, SEQUENCES, SEED)
    assert Machine.sequences <= SEQUENCES
    wrong = f"{caught.type.__name__}: {str(caught.value)[:200]}"
    sys.stdout.write(f"found in sequence {Machine.sequences}: {wrong}\n")
