"""Every verb that writes, told to write over what matters: refused, and it stays as it was."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.hard.calls import CALL_AT_FAULT, DATA_AT_FAULT, FINE, Outcome, call, inside
from tests.hard.test_crash import card
from tests.hard.test_unwritable import files

RANGE = ("number", "--from", "60", "--to", "150", "--out")
DEMO_NAMES = ("season.csv", "report.html", "report.pdf", "bag.csv", "demo.duckdb")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a season file, a curve fitted in it and one more season file."""
    folder = tmp_path_factory.mktemp("made")
    with inside(folder):
        Path("card.csv").write_text(card(2, 18, "Ada", 2020))
        assert call("load", "card.csv", "--db", "s.duckdb").code == FINE
        assert call("fit", "--name", "squad", "--db", "s.duckdb").code == FINE
    return folder


@pytest.fixture
def home(made: Path, tmp_path: Path) -> Path:
    """A copy of that folder, to be written into."""
    return Path(shutil.copytree(made, tmp_path / "home"))


def refused(home: Path, code: int, said: str, *words: str) -> Outcome:
    """Ask for what must be refused; nothing in the folder may change by it."""
    before = files(home)
    with inside(home):
        done = call(*words)
    assert (done.code, done.out) == (code, ""), done.err
    assert said in done.err
    assert files(home) == before
    return done


WRITERS = {
    "html": ("report", "x.html"),
    "pdf": ("report", "x.pdf"),
    "second": ("report", "fine.html", "x.html"),
    "sheet": (*RANGE, "x.csv"),
    "sheet-html": (*RANGE, "x.html"),
    "fit": ("fit", "--name", "squad", "--replace", "--out", "x.csv"),
    "fit-by-name": ("fit", "--name", "x", "--replace"),
    "chart": ("benchmarks", "squad", "--chart", "x.svg"),
    "chart-html": ("benchmarks", "squad", "--chart", "x.html"),
    "chart-json": ("benchmarks", "squad", "--chart", "x.json"),
    "chart-png": ("benchmarks", "squad", "--chart", "x.png"),
    "counts-chart": ("counts", "--chart", "x.svg"),
    "debrief-chart": ("debrief", "--chart", "x.svg"),
    "why-chart": ("why", "--detail", "misses", "--chart", "x.png"),
    "summary-chart": ("summary", "--by", "lie,band", "--chart", "x.html"),
    "compare-chart": ("compare", "--by", "club", "--chart", "x.json"),
    "trend-chart": ("trend", "--chart", "x.svg"),
    "clubs-chart": ("clubs", "--chart", "x.png"),
    "number-chart": ("number", "97", "--chart", "x.html"),
    "sheet-chart": ("number", "--from", "60", "--to", "150", "--chart", "x.svg"),
    "practice-chart": ("practice", "--hours", "5", "--chart", "x.json"),
    "practice-blocks-chart": ("practice", "--blocks", "--chart", "x.svg"),
}
"""Every verb that may write over a file; ``x.KIND`` is the file."""
SAY_WHY_NOT = tuple(name for name in WRITERS if name.endswith("-chart"))
"""Two rounds are too few for some of these: they say so, and write nothing."""


def target(words: tuple[str, ...]) -> str:
    """Return the name of the file that is to be written."""
    return next((word for word in words if word.startswith("x.")), "x.csv")


@pytest.mark.parametrize("way", ["itself", "link", "hard", "spelling"])
@pytest.mark.parametrize("verb", WRITERS)
def test_the_season_file_of_the_call(home: Path, verb: str, way: str) -> None:
    words, name = WRITERS[verb], target(WRITERS[verb])
    season = home / "s.duckdb"
    db = name
    if way == "itself":
        season.rename(home / name)
    elif way == "link":
        (home / name).symlink_to("s.duckdb")
        db = "s.duckdb"
    elif way == "hard":
        (home / name).hardlink_to(season)
        db = "s.duckdb"
    else:
        season.rename(home / name)
        db = str(home / ".." / "home" / name)
    refused(home, CALL_AT_FAULT, f"{name} is the season file", *words, "--db", db)


@pytest.mark.repeats
@pytest.mark.parametrize("verb", WRITERS)
def test_another_season_file_and_any_other_file(home: Path, verb: str) -> None:
    words, name = WRITERS[verb], target(WRITERS[verb])
    shutil.copy(home / "s.duckdb", home / name)
    refused(home, DATA_AT_FAULT, f"{name} is a database", *words, "--db", "s.duckdb")
    for held in ("player,date,hole\n", "<html>mine</html>", "%PDF-1.7 mine", '{"my": 1}'):
        (home / name).write_text(held)
        refused(home, DATA_AT_FAULT, f"{name} exists already", *words, "--db", "s.duckdb")


@pytest.mark.repeats
@pytest.mark.parametrize("verb", WRITERS)
def test_over_what_it_wrote_itself_and_over_an_empty_file(home: Path, verb: str) -> None:
    words, name = WRITERS[verb], target(WRITERS[verb])
    (home / name).touch()
    with inside(home):
        for _ in range(2):
            done = call(*words, "--db", "s.duckdb")
            assert done.code == FINE, done.err
    none = verb in SAY_WHY_NOT and "No chart: " in done.err
    assert bool((home / name).stat().st_size) != none


def test_a_log_of_a_season_file(home: Path) -> None:
    words = ("fit", "--name", "squad", "--replace", "--db", "s.duckdb", "--out")
    refused(home, CALL_AT_FAULT, "is where the database keeps", *words, "s.duckdb.wal")
    shutil.copy(home / "s.duckdb", home / "other")
    (home / "other.wal").touch()  # as it is while nothing was written
    refused(home, CALL_AT_FAULT, "is where the database keeps", *words, "other.wal")


def test_the_curve_that_is_read(home: Path) -> None:
    (home / "link.csv").symlink_to("squad.csv")
    for out in ("squad.csv", "link.csv", "./squad.csv"):
        words = ("fit", "--name", "new", "--from", "squad.csv", "--replace", "--out", out)
        refused(home, CALL_AT_FAULT, "is read by this very call", *words, "--db", "s.duckdb")


def test_a_card_is_no_curve(home: Path) -> None:
    words = ("fit", "--name", "squad", "--replace", "--out", "card.csv", "--db", "s.duckdb")
    refused(home, DATA_AT_FAULT, "card.csv exists already and is not a curve", *words)


@pytest.mark.parametrize("twin", ["a.html", "./a.html", "link.html"])
def test_two_reports_in_one_file(home: Path, twin: str) -> None:
    (home / "link.html").symlink_to("a.html")
    said = "Two files would be written to a.html"
    refused(home, CALL_AT_FAULT, said, "report", "a.html", twin, "--db", "s.duckdb")


@pytest.mark.long
def test_an_export_over_files_that_are_nobodys_or_the_season(home: Path) -> None:
    export = ("report", "new.html", "--export", "out", "--db", "s.duckdb")
    (home / "out").mkdir()
    (home / "out" / "where.csv").write_text("my,own\n")
    refused(home, DATA_AT_FAULT, "where.csv exists already", *export)
    (home / "out" / "where.csv").unlink()
    with inside(home):
        assert [call(*export).code for _ in range(2)] == [FINE, FINE]
    shutil.copy(home / "s.duckdb", home / "out" / "where.csv")
    refused(home, DATA_AT_FAULT, "where.csv is a database", *export)
    refused(
        home,
        CALL_AT_FAULT,
        "is the season file",
        *("report", "--export", "out", "--db", "out/where.csv"),
    )


def test_new_files_are_new_and_no_link_is_followed(home: Path) -> None:
    for name in ("a.csv", "a.xlsx", "a.pdf", "a.parquet", "out"):
        (home / name).symlink_to("nowhere")
    for words in (
        ("template", "a.csv"),
        ("template", "a.xlsx"),
        ("template", "a.pdf"),
        ("backup", "a.parquet", "--strokes", "--db", "s.duckdb"),
    ):
        refused(home, DATA_AT_FAULT, "exists already", *words)
    with inside(home):
        words = ("backup", "all.parquet", "--strokes", "--db", "s.duckdb")
        assert call(*words).code == FINE
    refused(home, CALL_AT_FAULT, "exists already", "gained", "--in", "all.parquet", "--out", "out")
    assert not os.path.lexists(home / "nowhere")


@pytest.mark.parametrize("name", DEMO_NAMES)
def test_the_demo_over_a_file_of_the_users(home: Path, name: str) -> None:
    (home / name).write_text("player,date\nAda,2020-01-01\n")
    done = refused(home, DATA_AT_FAULT, f"holds {name}, not written by", "demo", "--out", str(home))
    assert "name another folder" in done.err


def test_the_demo_names_all_of_them_and_its_list_too(home: Path) -> None:
    for name in DEMO_NAMES:
        (home / name).write_text("mine")
    done = refused(home, DATA_AT_FAULT, "not written by the demo", "demo", "--out", str(home))
    assert all(name in done.err for name in DEMO_NAMES)
    (home / "demo-files.csv").write_text("mine")
    refused(home, DATA_AT_FAULT, "demo-files.csv exists already", "demo", "--out", str(home))


@contextmanager
def another_program(db: str) -> Iterator[None]:
    """Have a season file open in a program of its own."""
    code = f"from sgzone import open_store\nwith open_store({db!r}): print(flush=True); input()"
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    with subprocess.Popen([sys.executable, "-c", code], **pipes) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == b"\n"
        yield
        program.communicate(b"\n", timeout=60)
    assert program.returncode == 0


@pytest.mark.long
def test_the_demo_over_its_own_files_until_somebody_changes_one(tmp_path: Path) -> None:
    """Stopped in the middle, or with the cards of before its list, it can be run again."""
    demo = ("demo", "--out", "d")
    with inside(tmp_path):
        assert [call(*demo).code for _ in range(2)] == [FINE, FINE]
        d = Path("d")
        assert len(files(d)) == 8
        (d / "report.pdf").unlink()
        (d / "report.html").write_bytes(b"")  # nothing is lost with it
        assert call(*demo).code == FINE
        Path("round.csv").write_text(card(1, 9, "Ada", 2021))
        shutil.copytree(d, "e")
        assert call("load", "round.csv", "--db", "e/demo.duckdb").code == FINE
        refused(tmp_path, DATA_AT_FAULT, "e holds demo.duckdb", "demo", "--out", "e")
        with another_program("d/demo.duckdb"):
            refused(tmp_path, DATA_AT_FAULT, "is open in another program", *demo)
        (d / "demo.duckdb.wal").write_bytes(b"rounds of another program")
        refused(tmp_path, DATA_AT_FAULT, "d holds demo.duckdb.wal", *demo)
