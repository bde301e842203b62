"""The keys of rounds, holes and loads: never one for two, whatever the file went through."""

from __future__ import annotations

from pathlib import Path

import duckdb
import pytest

from sgzone.errors import DataError
from sgzone.scoring import round_sums
from sgzone.season import loading
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import card_text, write
from tests.season.older import taken_back

ROWS = ("1,1,fairway,100", "1,2,green,20", "1,3,green,2", "4,1,green,9")
TOGETHER = (
    "SELECT count(*) AS n, count(DISTINCT r.round_key) AS rounds, count(DISTINCT h.hole_key) AS "
    "holes, count(DISTINCT l.load_id) AS loads FROM strokes AS s "
    "JOIN rounds AS r ON r.round_key = s.round_key AND r.player = s.player AND r.date = s.date "
    "JOIN holes AS h ON h.hole_key = s.hole_key AND h.round_key = s.round_key AND h.hole = s.hole "
    "JOIN loads AS l ON l.load_id = s.load_id AND l.load_id = r.load_id"
)


def card(folder: Path, day: int) -> Path:
    """Return a card of one round, two holes and four strokes on a day of May."""
    text = card_text(*ROWS).replace("2026-05-14", f"2026-05-{day:02}")
    return write(folder, text, f"card{day}.csv")


def assert_whole(store: Store, rounds: int) -> None:
    """Assert that the file holds so many rounds of two holes and four strokes, each of one card."""
    found = store.frame(TOGETHER).iloc[0].tolist()
    assert found[:3] == [4 * rounds, rounds, 2 * rounds]
    assert found[3] == rounds
    assert store.rounds()[["holes", "strokes"]].to_numpy().tolist() == [[2, 4]] * rounds
    assert round_sums(store, by=["part"])["n"].sum() == 4 * rounds


@pytest.mark.long
def test_a_backup_of_a_backup_numbers_on(tmp_path: Path) -> None:
    with open_store(tmp_path / "s") as store:
        store.load(card(tmp_path, 1))
        store.load(card(tmp_path, 2))
        store.backup(tmp_path / "b1")
    for copy in range(1, 4):
        with open_store(tmp_path / f"b{copy}", read_only=True) as store:
            store.backup(tmp_path / f"b{copy + 1}")
    with open_store(tmp_path / "b4") as store:
        store.load(card(tmp_path, 3))
        assert_whole(store, 3)


@pytest.mark.repeats
@pytest.mark.parametrize("version", [1, 2, 3])
def test_an_older_file_whose_numbers_stand_at_the_start(version: int, tmp_path: Path) -> None:
    with open_store(tmp_path / "s") as store:
        for day in (1, 2):
            store.load(card(tmp_path, day))
    with duckdb.connect(str(tmp_path / "s")) as file:
        taken_back(file, version)
    with open_store(tmp_path / "s") as store:
        store.load(card(tmp_path, 3))
        assert_whole(store, 3)


def test_the_last_round_deleted_replaced_and_loaded_again(tmp_path: Path) -> None:
    with open_store(tmp_path / "s") as store:
        for day in (1, 2):
            store.load(card(tmp_path, day))
        store.delete("Ada", "2026-05-02")
        store.load(card(tmp_path, 3))
        store.rename("Ada", "Eve")
        store.rename("Eve", "Ada")
        for n in (7, 8):  # the greatest key goes and comes back in one transaction
            text = card(tmp_path, 3).read_text().replace("20,", f"{n},")
            store.load(write(tmp_path, text, "again.csv"), replace=True)
        store.load(card(tmp_path, 4))
        found = store.frame(TOGETHER).iloc[0].tolist()
        assert found[:3] == [12, 3, 6]
        assert store.frame("SELECT count(*) AS n FROM loads")["n"].tolist() == [6]


@pytest.mark.parametrize("table", ["rounds", "loads"])
def test_no_second_row_of_a_key(table: str, tmp_path: Path) -> None:
    with open_store(tmp_path / "s") as store:
        store.load(card(tmp_path, 1))
        with pytest.raises(DataError, match="Duplicate key"):
            store.execute(f"INSERT INTO {table} SELECT * FROM {table}")


STRAY = {
    "UPDATE strokes SET hole_key = hole_key + 9 WHERE shot = 2": "stroke",
    "INSERT INTO strokes SELECT * REPLACE ('Bo' AS player) FROM strokes LIMIT 1": "stroke",
    "INSERT INTO holes SELECT * REPLACE (round_key + 9 AS round_key) FROM holes LIMIT 1": "hole",
    "DELETE FROM holes WHERE hole = 4": "round",
    "UPDATE rounds SET strokes = 99": "round",
}
"""What breaks a round that is being loaded -> what is then counted."""


@pytest.mark.repeats
@pytest.mark.parametrize("stray", STRAY)
def test_a_load_that_does_not_hold_together_is_not_kept(
    stray: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    step = loading.run_step

    def then(connection: duckdb.DuckDBPyConnection, name: str, *rest: object) -> None:
        step(connection, name, *rest)  # type: ignore[arg-type]
        connection.execute(stray)

    with open_store(tmp_path / "s") as store:
        with monkeypatch.context() as patch:
            patch.setattr(loading, "run_step", then)
            with pytest.raises(DataError, match=rf"is damaged: .*{STRAY[stray]}.*together"):
                store.load(card(tmp_path, 1))
        assert store.frame("SELECT 1 FROM loads UNION ALL SELECT 1 FROM strokes").empty
        store.load(card(tmp_path, 2))
        assert_whole(store, 1)


@pytest.mark.repeats
@pytest.mark.parametrize("stray", STRAY)
def test_a_damaged_file_is_not_copied(stray: str, tmp_path: Path) -> None:
    with open_store(tmp_path / "s") as store:
        store.load(card(tmp_path, 1))
        store.execute(stray)
        before = sorted(tmp_path.iterdir())
        with pytest.raises(DataError, match=r"is damaged: .*together"):
            store.backup(tmp_path / "copy")
        assert sorted(path for path in tmp_path.iterdir() if path.suffix != ".wal") == [
            path for path in before if path.suffix != ".wal"
        ]


@pytest.mark.repeats
@pytest.mark.parametrize("read_only", [False, True])
def test_what_restarted_keys_left_behind_is_said(read_only: bool, tmp_path: Path) -> None:
    """What an earlier sgzone made of a backup of a backup: two rounds, holes and loads, one key."""
    path = tmp_path / "s"
    with open_store(path) as store:
        for day in (1, 2):
            store.load(card(tmp_path, day))
    with duckdb.connect(str(path)) as file:
        taken_back(file, 3)
        file.execute("UPDATE rounds SET round_key = 1, load_id = 1; UPDATE loads SET load_id = 1")
        file.execute("UPDATE holes SET round_key = 1, hole_key = 1")
        file.execute("UPDATE strokes SET round_key = 1, hole_key = 1, load_id = 1")
    before = path.read_bytes()
    told = r"is damaged: \d+ rounds, \d+ holes.* load the cards into a new file"
    with pytest.raises(DataError, match=told):
        open_store(path, read_only=read_only)
    assert path.read_bytes() == before
