"""Season files of older schemas: the same answers once taken on; killed or refused, still whole."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import duckdb
import pytest

from sgzone.season import opening, steps
from sgzone.season.place_numbers import CELL_VALUES
from tests.hard.calls import call, inside
from tests.hard.denied import no_rights, no_room
from tests.hard.server import Server
from tests.hard.test_crash import card
from tests.season.older import ADDED, taken_back

pytestmark = pytest.mark.long

KILLS = int(os.environ.get("SGZONE_KILLS", "2"))
PRESENT = opening.SCHEMA_VERSION
OLD = range(opening.FIRST_VERSION, PRESENT)
QUESTIONS = (
    ("rounds", "--format", "json"),
    ("gained", "--format", "csv"),
    ("summary", "--format", "csv"),
    ("benchmarks", "--format", "csv"),
    ("gained", "--benchmark", "squad", "--format", "csv"),
)
COLUMNS = (
    "SELECT table_name, column_name, data_type, is_nullable FROM duckdb_columns() "
    "WHERE NOT internal ORDER BY table_name, column_index"
)


def columns(path: Path) -> list[tuple[object, ...]]:
    """Return every column of every table, with its kind and place."""
    with duckdb.connect(str(path), read_only=True) as file:
        return file.execute(COLUMNS).fetchall()


def schema(path: Path) -> int:
    with duckdb.connect(str(path), read_only=True) as file:
        [(version,)] = file.execute("SELECT schema_version FROM meta").fetchall()
    return int(version)


def answers(path: Path, version: int) -> list[str]:
    """Return what the file answers; a fitted benchmark came with the second schema."""
    asked = QUESTIONS if version >= 2 else QUESTIONS[:3]
    done = [call(*words, "--db", path) for words in asked]
    assert [one.code for one in done] == [0] * len(asked), [one.err for one in done]
    return [one.out for one in done]


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a fresh season file and one of each older schema, all of the same cards."""
    folder = tmp_path_factory.mktemp("upgrade")
    with inside(folder):
        Path("card.csv").write_text(card(30, 18, "Ada", 2020))
        assert call("load", "card.csv", "--db", "fresh").code == 0
        assert call("fit", "--name", "squad", "--db", "fresh").code == 0
        for version in OLD:
            shutil.copyfile("fresh", f"schema{version}")
            with duckdb.connect(f"schema{version}") as file:
                taken_back(file, version)
    return folder


@pytest.fixture(scope="module")
def known(home: Path) -> dict[int, list[str]]:
    """What a fresh file answers, as far as a file of each older schema can."""
    return {version: answers(home / "fresh", version) for version in OLD}


@pytest.fixture
def old(home: Path, tmp_path: Path) -> dict[int, Path]:
    """A copy of each of them, to be taken on."""
    there = {version: tmp_path / f"old{version}" for version in OLD}
    for version, path in there.items():
        shutil.copyfile(home / f"schema{version}", path)
    return there


def assert_sound(path: Path, version: int, known: dict[int, list[str]], home: Path) -> None:
    """Assert that the file answers as a fresh one does, and has its columns."""
    assert answers(path, version) == known[version]
    assert schema(path) == PRESENT
    assert columns(path) == columns(home / "fresh")


@pytest.mark.parametrize("version", OLD)
def test_the_old_file_is_what_that_schema_made(home: Path, tmp_path: Path, version: int) -> None:
    """``schema.sql`` has stood since the first schema; each later one is its own step."""
    path = tmp_path / "made"
    with duckdb.connect(str(path)) as file:
        for name in ("schema", *(opening.UPGRADES[step] for step in range(1, version))):
            steps.run_step(file, name, CELL_VALUES)
    assert columns(path) == columns(home / f"schema{version}")
    assert schema(home / f"schema{version}") == version


@pytest.mark.parametrize("version", OLD)
def test_it_answers_as_a_fresh_file(
    home: Path, old: dict[int, Path], known: dict[int, list[str]], version: int
) -> None:
    assert_sound(old[version], version, known, home)


@pytest.mark.parametrize("version", OLD)
def test_the_next_card_goes_into_it(home: Path, old: dict[int, Path], version: int) -> None:
    """A verb that writes takes it on as well, and so does a copy of it."""
    with inside(home):
        Path("more.csv").write_text(card(2, 9, "Bo", 2021))
        shutil.copyfile("fresh", "more")
        for path in (Path("more"), old[version]):
            assert call("load", "more.csv", "--db", path).code == 0
        assert call("backup", old[version].with_name("copy"), "--db", old[version]).code == 0
        assert answers(old[version].with_name("copy"), 1) == answers(Path("more"), 1)


KILLED = (
    "import os, signal, sys\n"
    "import sgzone.season.opening as opening\n"
    "when, name, path = sys.argv[1:]\n"
    "run_step, prepared = opening.run_step, opening._prepared\n"
    "def kill():\n"
    "    os.kill(os.getpid(), signal.SIGKILL)\n"
    "def step(connection, step, values=None):\n"
    "    when == 'before' and step == name and kill()\n"
    "    run_step(connection, step, values)\n"
    "    when == 'after' and step == name and kill()\n"
    "def committed(*given):\n"
    "    connection = prepared(*given)\n"
    "    when == 'committed' and kill()\n"
    "    return connection\n"
    "opening.run_step, opening._prepared = step, committed\n"
    "opening.connect(opening.Path(path), read_only=True, create=False)\n"
)
MOMENTS = {
    ("before", "fitted_curves"): False,
    ("after", "fitted_curves"): False,
    ("after", "stroke_cells"): False,
    ("after", "unique_keys"): False,
    ("committed", ""): True,
}
"""When the process is killed -> whether the file is of the present schema by then."""


@pytest.mark.parametrize("moment", MOMENTS, ids="-".join)
def test_killed_in_the_middle(
    home: Path, old: dict[int, Path], known: dict[int, list[str]], moment: tuple[str, str]
) -> None:
    path = old[1]
    done = subprocess.run([sys.executable, "-c", KILLED, *moment, path], capture_output=True)
    assert done.returncode == -signal.SIGKILL, done.stderr
    with duckdb.connect(str(path)) as file:  # what was committed is taken from the log here
        [(version,)] = file.execute("SELECT schema_version FROM meta").fetchall()
        tables = {
            name for (name,) in file.execute("SELECT table_name FROM duckdb_tables()").fetchall()
        }
    assert version == (PRESENT if MOMENTS[moment] else 1)
    assert tables.isdisjoint(ADDED[2]) is not MOMENTS[moment]
    assert_sound(path, 1, known, home)


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with Server() as server:
        yield server


def test_killed_at_any_moment(
    home: Path, tmp_path: Path, known: dict[int, list[str]], server: Server
) -> None:
    moments = random.Random(11)
    words = ("rounds", "--db", "season.duckdb", "--format", "json")
    with inside(tmp_path):
        path = Path("season.duckdb")
        shutil.copyfile(home / "schema1", path)
        begin = time.monotonic()
        assert server.call(*words).out == known[1][0]
        length = time.monotonic() - begin
        for _ in range(KILLS):
            path.with_name("season.duckdb.wal").unlink(missing_ok=True)
            shutil.copyfile(home / "schema1", path)
            server.kill_after(moments.uniform(0, length), *words)
            assert [call(*words).out] == known[1][:1]
            assert schema(path) == PRESENT
            assert columns(path) == columns(home / "fresh")


@pytest.mark.parametrize("lacking", ["rights", "room"])
@pytest.mark.parametrize("verb", [("rounds",), ("gained", "--format", "csv"), ("load", "card.csv")])
def test_an_old_file_that_cannot_be_taken_on(
    home: Path, old: dict[int, Path], tmp_path: Path, verb: tuple[str, ...], lacking: str
) -> None:
    path = old[2]
    before = path.read_bytes()
    with inside(home), no_rights(tmp_path) if lacking == "rights" else no_room(100):
        done = call(*verb, "--db", path)
    assert (done.code, done.out, done.err.count("\n")) == (1, "", 1), done.err
    why = {"rights": "cannot be opened for writing", "room": "Is the disk full?"}
    assert why[lacking] in done.err
    older = f"of an older sgzone (schema 2; this one reads {PRESENT})"
    assert verb[0] == "load" or older in done.err
    assert path.read_bytes() == before
    assert call("rounds", "--db", path).code == 0
