"""Standard streams that are closed, full or left: what was done is done, and is said to be."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import pytest

from tests.hard.calls import call, inside
from tests.hard.test_crash import card

FULL = Path("/dev/full")
CLOSED = [
    " ".join(some) for count in (1, 2, 3) for some in combinations(("<&-", ">&-", "2>&-"), count)
]
DB = ("--db", "season.duckdb")
FINE: dict[str, tuple[str, ...]] = {
    "template": ("template", "new.csv"),
    "check": ("check", "card.csv", "--format", "csv"),
    "load": ("load", "more.csv", "again.csv", *DB),
    "rounds": ("rounds", "--rename", "Ada", "Eve", *DB),
    "backup": ("backup", "copy.duckdb", *DB),
    "gained": ("gained", "--format", "csv", *DB),
    "summary": ("summary", *DB),
    "counts": ("counts", *DB),
    "why": ("why", *DB),
    "compare": ("compare", "--by", "club", *DB),
    "trend": ("trend", *DB),
    "field": ("field", *DB),
    "clubs": ("clubs", *DB),
    "number": ("number", "97", *DB),
    "practice": ("practice", "--hours", "5", *DB),
    "report": ("report", "new.html", *DB),
    "benchmarks": ("benchmarks", *DB),
    "fit": ("fit", "--name", "squad", *DB),
    "sources": ("sources",),
    "help": ("--help",),
}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    with inside(tmp_path):
        for name, player, year in (("card", "Ada", 2020), ("more", "Ada", 2021)):
            Path(f"{name}.csv").write_text(card(4, 9, player, year))
        Path("again.csv").write_text(card(1, 9, "Ada", 2022))
        assert call("load", "card.csv", *DB).code == 0
    return tmp_path


def run(home: Path, words: tuple[str, ...], streams: str) -> subprocess.CompletedProcess[bytes]:
    """Run ``sgzone`` with its standard streams as a shell is told to leave them."""
    shell = shutil.which("sh")
    assert shell
    return subprocess.run(
        [shell, "-c", f'exec "$@" {streams}', "sh", sys.executable, "-m", "sgzone", *words],
        cwd=home,
        capture_output=True,
        timeout=120,
    )


def rounds(home: Path) -> list[tuple[str, str]]:
    with inside(home):
        listed = call("rounds", *DB, "--format", "json").json()
    return [(row["player"], row["date"][:4]) for row in listed]


@pytest.mark.repeats
@pytest.mark.parametrize("streams", ["2>&-", "<&- >&- 2>&-", "2>/dev/full", ">/dev/full 2>&1"])
def test_what_is_loaded_is_loaded(home: Path, streams: str) -> None:
    assert run(home, FINE["load"], streams).returncode == 0
    assert len(rounds(home)) == 4 + 4 + 1


def test_the_season_file_is_never_a_standard_stream(home: Path) -> None:
    """A closed number goes to the next file that is opened: words would land in it."""
    seen = (
        "import os, sys; sys.argv = ['sgzone', 'rounds', '--db', 'season.duckdb']\n"
        "import duckdb\n"
        "opened = duckdb.connect\n"
        "def look(*words, **more):\n"
        "    held = opened(*words, **more)\n"
        "    leads = [os.readlink(f'/proc/self/fd/{number}') for number in range(3)]\n"
        "    open('seen', 'w').write(' '.join(leads))\n"
        "    return held\n"
        "duckdb.connect = look\n"
        "from sgzone.start import start\nstart()"
    )
    done = subprocess.run(
        ["sh", "-c", 'exec "$0" -c "$1" <&- >&- 2>&-', sys.executable, seen], cwd=home, timeout=60
    )
    assert done.returncode == 0
    assert (home / "seen").read_text() == " ".join(["/dev/null"] * 3)


@pytest.mark.long
def test_every_call_is_fine_with_somebody_there(home: Path) -> None:
    with inside(home):
        for verb, words in FINE.items():
            assert call(*words).code == 0, verb


CASES = [
    *((verb, streams) for verb in FINE for streams in (CLOSED[-1], "2>/dev/full", "2>&1 | true")),
    *((verb, streams) for verb in ("load", "rounds", "summary") for streams in CLOSED[:-1]),
]


@pytest.mark.long
@pytest.mark.parametrize(("verb", "streams"), CASES)
def test_every_verb_is_fine_with_nobody_there(home: Path, verb: str, streams: str) -> None:
    if "|" in streams:
        bash = shutil.which("bash")
        if bash is None:
            pytest.skip("no bash, whose pipefail tells how the first of a pipe ended")
        quoted = [sys.executable, "-m", "sgzone", *FINE[verb]]
        words = [bash, "-c", f'set -o pipefail; "$@" {streams}', "bash", *quoted]
        done = subprocess.run(words, cwd=home, capture_output=True, timeout=120)
    else:
        done = run(home, FINE[verb], streams)
    assert done.returncode == 0, done.stderr
    assert b"Traceback" not in done.stderr
    if verb == "load":
        assert len(rounds(home)) == 9
    elif verb == "rounds":
        assert {player for player, _ in rounds(home)} == {"Eve"}
    elif verb in ("report", "backup", "template"):
        assert (home / FINE[verb][1]).stat().st_size


@pytest.mark.long
@pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("verb", FINE)
def test_an_answer_that_finds_no_room_is_said(home: Path, verb: str) -> None:
    done = run(home, FINE[verb], ">/dev/full")
    if verb in ("template", "load", "backup", "report"):  # their answer is a file
        assert done.returncode == 0
    else:
        assert done.returncode == 1
        assert b"the output cannot be written (No space left on device)" in done.stderr
    assert b"Traceback" not in done.stderr
    if verb == "rounds":
        assert done.stderr.startswith(b'"Ada" is "Eve" now')
        assert b"What it reported as done is done" in done.stderr
        assert {player for player, _ in rounds(home)} == {"Eve"}


def test_nobody_takes_the_messages_and_every_file_is_loaded(home: Path) -> None:
    """The reader of standard error leaves after the first word."""
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-m", "sgzone", *FINE["load"]], cwd=home, stderr=write, timeout=60
    )
    os.close(write)
    assert done.returncode == 0
    assert len(rounds(home)) == 9


@pytest.mark.long
def test_a_call_at_fault_says_so_by_its_exit_code_alone(home: Path) -> None:
    for streams in ("2>&-", "2>/dev/full"):
        assert run(home, ("load", "nowhere.csv", *DB), streams).returncode == 1
        assert run(home, ("summary", "--player", "Eve", *DB), streams).returncode == 2
