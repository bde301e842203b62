"""The same season gives the same bytes: again, on one thread or two, loaded in any order."""

from __future__ import annotations

import csv
import json
import os
import random
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from sgzone.resources import data_path
from sgzone.season import opening
from tests.hard.calls import call, inside

COPIES = 150  # of the demo season under other names and dates: several row groups, two threads
MIDDLE = "2026-06-15"
PLAYER = "Wrenna Oddlethorpe"
QUESTIONS = [
    ("gained",),
    ("summary",),
    ("summary", "--by", "club", "--no-measuring"),
    ("summary", "--by", "part,lie,total", "--no-measuring"),
    ("counts",),
    ("why",),
    *(("why", "--detail", detail) for detail in ("misses", "short-sided", "carry", "putting")),
    ("trend",),
    ("trend", "--split-date", MIDDLE),
    ("compare", "--by", "club"),
    ("compare", "--by", "swing", "--part", "wedge_50_100"),
    ("practice", "--hours", "6", "--detail"),
    ("practice", "--blocks"),
    ("number", "87"),
    ("clubs",),
    ("clubs", "--source", "test"),
    *(("clubs", "--detail", detail) for detail in ("consistency", "wear", "cover", "changes")),
]
OF_ALL = [("field",), ("fit", "--name", "own", "--replace")]
"""Asked of every player in the file."""
LEAST_LINES = 2  # header and a row: an answer without rows would always be the same
ALL_AT_ONCE = (
    "import json\n"
    "from tests.hard.test_same_answer import answers\n"
    "import sgzone.season.opening as opening\n"
    "opening._CONFIG['threads'] = 1\n"
    "print(json.dumps(answers('mixed.duckdb')))\n"
)
ONE_THREAD = (
    "import sys\n"
    "import sgzone.season.opening as opening\n"
    "from sgzone import cli\n"
    "assert opening._CONFIG['threads'] == 2\n"
    "opening._CONFIG['threads'] = 1\n"
    "cli.main()\n"
)


def asked() -> Iterator[tuple[str, ...]]:
    """Yield the words of every question, as csv and, of a few, as json."""
    for question in QUESTIONS:
        yield (*question, "--player", PLAYER, "--format", "csv")
    for question in OF_ALL:
        yield (*question, "--format", "csv")
    for question in (("summary",), ("compare", "--by", "club")):
        yield (*question, "--player", PLAYER, "--format", "json")


def answers(season: str) -> dict[str, str]:
    """Return what every question prints, by its words, in the working folder."""
    found = {}
    for question in asked():
        curve = Path(f"{season}.csv") if question[0] == "fit" else None
        done = call(*question, *(["--out", curve] if curve else []), "--db", season)
        assert done.code == 0, (question, done.err)
        written = curve.read_text(encoding="utf-8") if curve else ""
        found[" ".join(question)] = done.out.replace(f"{season}.csv", "") + written
    return found


def cards() -> dict[str, list[str]]:
    """Return the lines of the demo's files, the season with two more players of the same days."""
    files = {
        name: data_path(f"demo/{name}.csv").read_text(encoding="utf-8").splitlines()
        for name in ("season", "bag", "practice_log", "test_blocks")
    }
    rows = list(csv.DictReader(files["season"]))
    for number, longer in (("2", 1.07), ("3", 0.94)):
        for row in rows:
            far = row["distance"] and f"{float(row['distance']) * longer:.1f}"
            line = {**row, "player": f"Player {number}", "distance": far}
            line |= dict.fromkeys(("depth_ft", "side_ft"), "")
            files["season"].append(",".join(line.values()))
    return files


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo season, and the same one as shuffled rows of two files, later first.

    Rounds, holes and loads get other keys then.
    """
    folder = tmp_path_factory.mktemp("same")
    for name, (header, *rows) in cards().items():
        mixed = random.Random(3).sample(rows, len(rows))
        for kind, lines in (("plain", rows), ("mixed", mixed)):
            halves = {"": lines}
            if kind == "mixed" and name == "season":
                early = [line for line in lines if line.split(",")[1] < MIDDLE]
                halves = {
                    "-1": early,
                    "-2": [line for line in lines if line.split(",")[1] >= MIDDLE],
                }
                assert min(map(len, halves.values())) > len(lines) / 4
            for half, some in halves.items():
                text = "\n".join([header, *some]) + "\n"
                (folder / f"{kind}-{name}{half}.csv").write_text(text, encoding="utf-8")
    with inside(folder):
        for kind in ("plain", "mixed"):
            files = sorted(folder.glob(f"{kind}-*.csv"), reverse=kind == "mixed")
            loaded = call("load", *files, "--db", f"{kind}.duckdb")
            assert loaded.code == 0, loaded.err
    return folder


@pytest.mark.long
def test_the_same_bytes_of_every_verb(home: Path) -> None:
    """From another process, on one thread, from shuffled rows loaded in another order."""
    other = subprocess.Popen(
        [sys.executable, "-c", ALL_AT_ONCE],
        cwd=home,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert opening._CONFIG["threads"] == 2
    try:
        with inside(home):
            first = answers("plain.duckdb")
    finally:
        out, err = other.communicate()
    assert other.returncode == 0, err
    again = json.loads(out)
    assert first.keys() == again.keys()
    assert [words for words in first if first[words] != again[words]] == []
    short = [words for words in first if first[words].count("\n") < LEAST_LINES]
    assert [words for words in short if "json" not in words] == []


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
