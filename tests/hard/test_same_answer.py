"""The same season gives the same bytes: again, on one thread or two, loaded in any order."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest

from sgzone.resources import data_path
from tests.hard.calls import call, inside

DEMO_ROUNDS = 5
COPIES = 150  # of the demo season under other names and dates: several row groups, two threads
QUESTIONS = [
    ("gained", "--format", "csv"),
    ("summary", "--format", "json"),
    ("summary", "--by", "club", "--no-measuring", "--format", "csv"),
    ("counts", "--format", "csv"),
    ("why", "--format", "csv"),
]
ONE_THREAD = (
    "import sys\n"
    "import sgzone.season.opening as opening\n"
    "from sgzone import cli\n"
    "assert opening._CONFIG['threads'] == 2\n"
    "opening._CONFIG['threads'] = 1\n"
    "cli.main()\n"
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo season, and the same one loaded from shuffled rows."""
    folder = tmp_path_factory.mktemp("same")
    header, *rows = data_path("demo/season.csv").read_text(encoding="utf-8").splitlines()
    last = sorted({row.split(",")[1] for row in rows})[DEMO_ROUNDS - 1]
    rows = [row for row in rows if row.split(",")[1] <= last]
    (folder / "plain.csv").write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    random.Random(3).shuffle(rows)
    (folder / "mixed.csv").write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    with inside(folder):
        for name in ("plain", "mixed"):
            assert call("load", f"{name}.csv", "--db", f"{name}.duckdb").code == 0
    return folder


@pytest.mark.parametrize("question", QUESTIONS, ids=" ".join)
def test_the_same_bytes(home: Path, question: tuple[str, ...]) -> None:
    with inside(home):
        first = call(*question, "--db", "plain.duckdb")
        assert first.code == 0
        assert first.out.count("\n") > 5
        assert call(*question, "--db", "plain.duckdb").out == first.out
        assert call(*question, "--db", "mixed.duckdb").out == first.out
    one = subprocess.run(
        [sys.executable, "-c", ONE_THREAD, *question, "--db", "mixed.duckdb"],
        cwd=home,
        capture_output=True,
        text=True,
    )
    assert one.returncode == 0, one.stderr
    assert one.stdout == first.out


@pytest.mark.study
def test_the_same_bytes_of_a_large_season(tmp_path: Path) -> None:
    """Sums over many row groups, which two threads add up in another order."""
    header, *rows = data_path("demo/season.csv").read_text(encoding="utf-8").splitlines()
    many = [
        f"Player {copy % 3},{1850 + copy}{day[4:]},{rest}"
        for copy in range(COPIES)
        for _, day, rest in (row.split(",", 2) for row in rows)
        if day[5:] != "02-29"
    ]
    mixed = random.Random(5).sample(many, len(many))
    with inside(tmp_path):
        for name, lines in (("plain", many), ("mixed", mixed)):
            Path(f"{name}.csv").write_text("\n".join([header, *lines]) + "\n", encoding="utf-8")
            loaded = call("load", f"{name}.csv", "--db", f"{name}.duckdb")
            assert loaded.code == 0, loaded.err
    for question in (("counts",), ("summary", "--no-measuring"), ("gained",)):
        words = [*question, "--player", "Player 0", "--format", "csv"]
        answers = set()
        for name, start in (
            ("plain", ["-m", "sgzone"]),
            ("plain", ["-c", ONE_THREAD]),
            ("mixed", ["-m", "sgzone"]),
            ("mixed", ["-c", ONE_THREAD]),
        ):
            command = [sys.executable, *start, *words, "--db", f"{name}.duckdb"]
            done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True)
            assert done.returncode == 0, done.stderr
            answers.add(done.stdout)
        assert len(answers) == 1, question
