"""Loads that end badly: killed, interrupted, out of room. The season file holds all or nothing."""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from sgzone.season.store import open_store
from tests.hard.calls import call, call_apart, inside
from tests.hard.server import Server

pytestmark = pytest.mark.long

KILLS = int(os.environ.get("SGZONE_KILLS", "4"))
INTERRUPTED = 130
ROUNDS = 100
ROWS = ROUNDS * 18 * 3
SOUND = (
    "SELECT (SELECT count(*) FROM strokes) AS strokes, (SELECT count(*) FROM loads) AS loads, "
    "(SELECT count(*) FROM rounds) AS rounds, (SELECT count(*) FROM holes) AS holes, "
    "(SELECT count(*) FROM strokes JOIN holes USING (hole_key) JOIN rounds ON rounds.round_key = "
    "strokes.round_key JOIN loads ON loads.load_id = strokes.load_id) AS joined"
)
BEFORE = (3, 1, 1, 1, 3)
AFTER = (3 + ROWS, 2, 1 + ROUNDS, 1 + ROUNDS * 18, 3 + ROWS)


def card(rounds: int, holes: int, player: str, year: int) -> str:
    """Return a card of three strokes a hole."""
    lines = ["player,date,hole,shot,lie,distance,result"]
    for n in range(rounds):
        day = f"{player},{date(year, 1, 1) + timedelta(n)}"
        for hole in range(1, holes + 1):
            lines += [
                f"{day},{hole},1,fairway,{90 + hole},",
                f"{day},{hole},2,green,{3 + (n + hole) % 27},",
                f"{day},{hole},3,green,1,holed",
            ]
    return "\n".join(lines) + "\n"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a season file of one hole, and a long card to be loaded into copies of it."""
    folder = tmp_path_factory.mktemp("crash")
    (folder / "long.csv").write_text(card(ROUNDS, 18, "Long", 2020))
    (folder / "short.csv").write_text(card(1, 1, "Short", 2019))
    with inside(folder):
        assert call("load", "short.csv", "--db", "before.duckdb").code == 0
    return folder


def fresh(home: Path) -> Path:
    """Return the season file as it was before the load."""
    path = home / "season.duckdb"
    path.with_name("season.duckdb.wal").unlink(missing_ok=True)
    shutil.copyfile(home / "before.duckdb", path)
    return path


def start_load(home: Path, prepare: Callable[[], object] | None = None) -> subprocess.Popen[str]:
    """Start the load of the long card in a process of its own."""
    words = [sys.executable, "-m", "sgzone", "load", "long.csv", "--db", "season.duckdb"]
    return subprocess.Popen(
        words, cwd=home, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        preexec_fn=prepare,
    )  # fmt: skip


def held(path: Path) -> tuple[int, ...]:
    """Return what the season file holds, after an opening that only reads."""
    with open_store(path, read_only=True) as store:
        return tuple(int(n) for n in store.frame(SOUND).iloc[0])


def loads_now(home: Path) -> None:
    """Assert that the next load works, whatever came before."""
    with inside(home):
        assert call("load", "long.csv", "--db", "season.duckdb").code == 0
    assert held(home / "season.duckdb") == AFTER


@pytest.fixture(scope="module")
def length(home: Path) -> float:
    """Return how long an undisturbed load takes, in seconds."""
    fresh(home)
    begin = time.monotonic()
    process = start_load(home)
    _, err = process.communicate()
    assert process.returncode == 0, err
    assert held(home / "season.duckdb") == AFTER
    return time.monotonic() - begin


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    """The fork server: a load that is killed there need not start Python first."""
    with Server() as server:
        yield server


def test_killed_at_any_moment(home: Path, server: Server, length: float) -> None:
    """Every tenth load is a process from the start, the others come from the fork server."""
    words = ("load", "long.csv", "--db", "season.duckdb")
    moments = random.Random(7)
    seen: Counter[tuple[int, ...]] = Counter()
    with inside(home):
        fresh(home)
        begin = time.monotonic()
        assert server.call(*words).code == 0
        short = time.monotonic() - begin
    for kill in range(KILLS):
        path = fresh(home)
        if kill % 10 == 0:
            process = start_load(home)
            time.sleep(moments.uniform(0.4, 1.05) * length)
            process.kill()
            process.communicate()
        else:
            with inside(home):
                server.kill_after(moments.uniform(0, 1.1) * short, *words)
        there = held(path)
        assert there in (BEFORE, AFTER)
        seen[there] += 1
        loads_now(home)
    assert KILLS < 100 or min(seen[BEFORE], seen[AFTER]) > KILLS // 50, f"missed the load: {seen}"
    sys.stdout.write(f"{KILLS} loads killed: {seen[BEFORE]} not there, {seen[AFTER]} whole\n")


def test_interrupted_in_a_query(home: Path) -> None:
    """Ctrl-C while the rows are being checked: DuckDB itself is stopped."""
    path = fresh(home)
    script = (
        "import sys, os, signal, threading\n"
        "from sgzone import cli\n"
        "import sgzone.season.loading as loading\n"
        "stage = loading.stage\n"
        "def interrupted(connection, text):\n"
        "    threading.Timer(0.2, os.kill, (os.getpid(), signal.SIGINT)).start()\n"
        "    stage(connection, text)\n"
        "    while True:\n"
        "        connection.execute('SELECT max(hash(range)) FROM range(3000000)')\n"
        "loading.stage = interrupted\n"
        "sys.argv = ['sgzone', 'load', 'long.csv', '--db', 'season.duckdb']\n"
        "cli.main()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=home, capture_output=True, text=True, timeout=60,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )  # fmt: skip
    assert done.returncode == INTERRUPTED, done.stderr
    assert "Traceback" not in done.stderr
    assert "whole or not at all" in done.stderr
    assert held(path) == BEFORE
    loads_now(home)


def test_interrupted_from_outside(home: Path, length: float) -> None:
    path = fresh(home)
    process = start_load(home, lambda: signal.signal(signal.SIGINT, signal.default_int_handler))
    time.sleep(0.6 * length)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate()
    assert process.returncode in (INTERRUPTED, 0)  # 0: the load was done already
    assert "Traceback" not in err
    assert held(path) in (BEFORE, AFTER)


def leave_room(room: int) -> None:
    """Let this process write files of ``room`` bytes at most, and measure no coverage in it.

    The file that coverage writes has no room either.
    """
    os.environ.pop("COVERAGE_PROCESS_CONFIG", None)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))


@pytest.mark.parametrize("room", [5_000, 600_000])
def test_no_room_on_the_disk(home: Path, room: int) -> None:
    def limited() -> None:
        leave_room(room)

    path = fresh(home)
    done = call_apart("load", "long.csv", "--db", "season.duckdb", cwd=home, preexec_fn=limited)
    assert done.code == 1
    assert "disk full" in done.err
    assert held(path) == BEFORE
    loads_now(home)
    done = call_apart("load", "short.csv", "--db", "new.duckdb", cwd=home, preexec_fn=limited)
    if done.code:
        assert "disk full" in done.err
    with inside(home):
        assert call("load", "short.csv", "--db", "new.duckdb").code == 0
        (home / "new.duckdb").unlink()


def test_no_room_for_a_backup(home: Path) -> None:
    def limited() -> None:
        leave_room(5_000)

    fresh(home)
    there = sorted(home.iterdir())
    words = ("backup", "copy.duckdb", "--db", "season.duckdb")
    done = call_apart(*words, cwd=home, preexec_fn=limited)
    assert done.code == 1
    assert "Make room on that disk" in done.err
    assert sorted(home.iterdir()) == there


def test_no_room_for_the_answer(home: Path) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this system has no /dev/full")
    words = [sys.executable, "-m", "sgzone", "gained", "--db", "before.duckdb", "--format", "csv"]
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(words, cwd=home, stdout=full, stderr=subprocess.PIPE, text=True)
    assert done.returncode == 1
    assert done.stderr.startswith("sgzone: the output cannot be written")
    assert "Traceback" not in done.stderr


def test_a_folder_that_is_only_read(home: Path, tmp_path: Path) -> None:
    if os.geteuid() == 0:
        bound = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=8m", "tmpfs", str(tmp_path)], capture_output=True
        )
        if bound.returncode:
            pytest.skip("root may write anywhere, and nothing can be mounted here")
    shutil.copyfile(home / "before.duckdb", tmp_path / "season.duckdb")
    try:
        if os.geteuid() == 0:
            subprocess.run(["mount", "-o", "remount,ro", str(tmp_path)], check=True)
        else:
            tmp_path.chmod(0o500)
            (tmp_path / "season.duckdb").chmod(0o400)
        with inside(home):
            done = call("load", "long.csv", "--db", tmp_path / "season.duckdb")
            assert (done.code, "cannot be opened for writing" in done.err) == (1, True)
            assert call("load", "long.csv", "--db", tmp_path / "new.duckdb").code == 1
            assert call("backup", tmp_path / "copy.duckdb", "--db", "before.duckdb").code == 1
            assert call("template", tmp_path / "card.csv").code == 1
            there = call("rounds", "--db", tmp_path / "season.duckdb", "--format", "json")
            assert len(there.json()) == 1
    finally:
        if os.geteuid() == 0:
            subprocess.run(["umount", str(tmp_path)], check=True)
        else:
            tmp_path.chmod(0o700)


def test_a_backup_can_be_gone_back_to(home: Path, tmp_path: Path) -> None:
    """The copy answers as the original did, takes a load, and numbers on where that one stopped."""
    shutil.copyfile(home / "before.duckdb", tmp_path / "season.duckdb")
    questions = [(verb, "--format", "json") for verb in ("rounds", "gained", "counts")]
    with inside(tmp_path):
        shutil.copyfile(home / "long.csv", "long.csv")
        asked = [call(*words, "--db", "season.duckdb") for words in questions]
        assert call("backup", "copy.duckdb", "--db", "season.duckdb").code == 0
        Path("season.duckdb").write_bytes(b"damaged")
        assert call("rounds", "--db", "season.duckdb").code == 1
        Path("copy.duckdb").replace("season.duckdb")
        again = [call(*words, "--db", "season.duckdb") for words in questions]
        assert [a.out for a in again] == [a.out for a in asked]
        assert asked[0].json()[0]["player"] == "Short"
        assert call("load", "long.csv", "--db", "season.duckdb").code == 0
    assert held(tmp_path / "season.duckdb") == AFTER
