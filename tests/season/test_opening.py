"""What a season file may be, and what is said when it is not."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import duckdb
import pandas as pd
import pytest

from sgzone import resources
from sgzone.errors import DataError
from sgzone.scoring import round_sums
from sgzone.season import opening, steps
from sgzone.season.store import open_store
from tests.season.cardfiles import card_text, write
from tests.season.older import taken_back

PRESENT = opening.SCHEMA_VERSION


def test_missing_file_folder_and_wrong_files(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="There is no season file"):
        open_store(tmp_path / "s.duckdb", create=False)
    with pytest.raises(DataError, match="There is no season file"):
        open_store(tmp_path / "s.duckdb", read_only=True)
    with pytest.raises(DataError, match="There is no folder"):
        open_store(tmp_path / "none" / "s.duckdb")
    with pytest.raises(DataError, match="is a folder"):
        open_store(tmp_path)
    with pytest.raises(DataError, match="is empty"):
        open_store(write(tmp_path, "", "empty.duckdb"))
    with pytest.raises(DataError, match="is not a season file, or it is damaged"):
        open_store(write(tmp_path, "player,date\n" * 2000, "card.csv"))
    with pytest.raises(DataError, match="named like a card"):
        open_store(tmp_path / "new.csv")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["card.csv", "empty.duckdb"]


def test_a_folder_that_cannot_be_written() -> None:
    with pytest.raises(DataError, match="cannot be written to /proc"):
        open_store("/proc/season.duckdb")


@pytest.mark.repeats
@pytest.mark.parametrize("keep", [0.9, 0.5, 0.1, 0.02])
def test_a_truncated_file_is_one_clear_error(keep: float, tmp_path: Path) -> None:
    path = tmp_path / "s.duckdb"
    with open_store(path) as store:
        rows = [f"{hole},{shot},green,{shot}" for hole in range(1, 19) for shot in range(9, 0, -1)]
        store.load(write(tmp_path, card_text(*rows)))
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * keep)])
    with (
        pytest.raises(DataError, match="damaged"),
        open_store(path, read_only=True) as store,
    ):
        store.frame("SELECT * FROM strokes")


def test_another_database(tmp_path: Path) -> None:
    path = tmp_path / "other.duckdb"
    duckdb.connect(str(path)).execute("CREATE TABLE t (a INTEGER)").close()
    with pytest.raises(DataError, match="not a season file"):
        open_store(path)
    duckdb.connect(str(path)).execute("CREATE TABLE meta (k VARCHAR, v VARCHAR)").close()
    with pytest.raises(DataError, match="not a season file"):
        open_store(path)


def test_a_database_without_tables_becomes_a_season_file(tmp_path: Path) -> None:
    path = tmp_path / "new.duckdb"
    duckdb.connect(str(path)).close()
    with open_store(path) as store:
        assert store.players() == []


def test_in_use_by_another_program(tmp_path: Path) -> None:
    path = tmp_path / "s.duckdb"
    open_store(path).close()
    holder = subprocess.Popen(
        [
            sys.executable,
            "-c",
            "import sys, duckdb; c = duckdb.connect(sys.argv[1]); print('open', flush=True); "
            "sys.stdin.read()",
            str(path),
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "open\n"
    with pytest.raises(DataError, match="open in another program"):
        open_store(path)
    holder.communicate("")
    open_store(path).close()


def test_open_twice_in_one_program(tmp_path: Path) -> None:
    path = tmp_path / "s.duckdb"
    with open_store(path), pytest.raises(DataError, match="open already in this program"):
        open_store(path, read_only=True)


def test_reading_leaves_the_file_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "s.duckdb"
    with open_store(path) as store:
        store.load(write(tmp_path, card_text("1,1,green,2")))
    before = path.read_bytes()
    with open_store(path, read_only=True) as store, open_store(path, read_only=True) as other:
        assert store.players() == other.players() == ["Ada"]
    assert path.read_bytes() == before


def test_newer_schema_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "s.duckdb"
    with open_store(path) as store:
        store.execute("UPDATE meta SET schema_version = 99")
    with pytest.raises(DataError, match=r"newer sgzone \(schema 99"):
        open_store(path)


@pytest.fixture
def older(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Return a season file two schemas behind, with the steps that bring it up."""
    path = tmp_path / "s.duckdb"
    with open_store(path) as store:
        store.load(write(tmp_path, card_text("1,1,green,2")))
    folder = shutil.copytree(resources._ROOMS / "season" / "sql", tmp_path / "season" / "sql")
    for name, text in {
        "one": "ALTER TABLE strokes ADD COLUMN grip VARCHAR;",
        "two": "UPDATE strokes SET grip = 'plain'; ALTER TABLE bag ADD COLUMN shaft VARCHAR;",
    }.items():
        write(folder, text, f"{name}.sql")
    monkeypatch.setattr(resources, "_ROOMS", tmp_path)
    upgrades = opening.UPGRADES | {PRESENT: "one", PRESENT + 1: "two"}
    monkeypatch.setattr(opening, "UPGRADES", upgrades)
    monkeypatch.setattr(opening, "SCHEMA_VERSION", PRESENT + 2)
    steps.statements.cache_clear()
    yield path
    steps.statements.cache_clear()


@pytest.mark.parametrize("read_only", [False, True])
def test_older_schema_is_upgraded(older: Path, read_only: bool) -> None:
    with open_store(older, read_only=read_only) as store:
        assert store.frame("SELECT schema_version AS v FROM meta")["v"].tolist() == [PRESENT + 2]
        assert store.frame("SELECT grip FROM strokes")["grip"].tolist() == ["plain"]
        assert store.frame("SELECT shaft FROM bag").empty


def test_an_upgrade_that_fails_changes_nothing(older: Path, tmp_path: Path) -> None:
    folder = tmp_path / "season" / "sql"
    write(folder, "ALTER TABLE nowhere ADD COLUMN shaft VARCHAR;", "two.sql")
    with pytest.raises(duckdb.CatalogException):
        open_store(older)
    connection = duckdb.connect(str(older))
    assert connection.execute("SELECT schema_version FROM meta").fetchall() == [(PRESENT,)]
    columns = [column[0] for column in connection.execute("SELECT * FROM strokes").description]
    assert "grip" not in columns
    connection.close()


def test_a_file_of_the_second_schema_gets_the_places_of_its_strokes(tmp_path: Path) -> None:
    """What the upgrade adds is what the load stores: 4096 times the lie's place, and the foot."""
    asked = "SELECT shot, start_cell, end_cell FROM strokes ORDER BY hole, shot"
    path = tmp_path / "s.duckdb"
    rows = ("1,1,fairway,100", "1,2,sand,12", "1,3,green,5.5")
    with open_store(path) as store:
        store.load(write(tmp_path, card_text(*rows)))
        loaded, sums = store.frame(asked), round_sums(store, by=["part", "lie"])
    with duckdb.connect(str(path)) as file:
        taken_back(file, 2)
    with open_store(path, read_only=True) as store:
        upgraded, again = store.frame(asked), round_sums(store, by=["part", "lie"])
    assert loaded["start_cell"].tolist() == [2 * 4096 + 300, 4 * 4096 + 36, 7 * 4096 + 5]
    assert loaded["end_cell"].tolist() == [4 * 4096 + 36, 7 * 4096 + 5, 8 * 4096]
    assert sums["n"].tolist() == [1, 1, 1]
    pd.testing.assert_frame_equal(upgraded, loaded)
    pd.testing.assert_frame_equal(again, sums, check_exact=True)


def test_a_file_of_the_first_schema_gets_the_fitted_curves(tmp_path: Path) -> None:
    path = tmp_path / "s.duckdb"
    with open_store(path) as store:
        store.load(write(tmp_path, card_text("1,1,green,2")))
    with duckdb.connect(str(path)) as file:
        taken_back(file, 1)
    with open_store(path, read_only=True) as store:
        assert store.frame("SELECT * FROM fitted_curves JOIN fitted_knots USING (name)").empty
        assert store.players() == ["Ada"]


def test_a_round_that_is_replaced_has_the_places_of_its_new_strokes(tmp_path: Path) -> None:
    with open_store(tmp_path / "s.duckdb") as store:
        store.load(write(tmp_path, card_text("1,1,fairway,100", "1,2,green,9"), "old.csv"))
        new = card_text("1,1,rough,77", "1,2,sand,8", "1,3,green,4")
        store.load(write(tmp_path, new, "new.csv"), replace=True)
        placed = store.frame("SELECT start_cell, end_cell FROM strokes ORDER BY hole, shot")
    sand, green, holed = 4 * 4096 + 24, 7 * 4096 + 4, 8 * 4096
    assert placed["start_cell"].tolist() == [3 * 4096 + 231, sand, green]
    assert placed["end_cell"].tolist() == [sand, green, holed]
