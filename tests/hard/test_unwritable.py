"""Every verb that writes, where it cannot: one sentence, exit 1, nothing half written."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.hard.calls import call, inside
from tests.hard.denied import no_rights, no_room
from tests.hard.test_crash import card

pytestmark = pytest.mark.long

DB = ("--db", "season.duckdb")
RANGE = ("number", "--from", "60", "--to", "150", "--out")
WRITERS = {
    "load": ("load", "more.csv", *DB),
    "load-new": ("load", "more.csv", "--db", "new.duckdb"),
    "rename": ("rounds", "--rename", "Ada", "Eve", *DB),
    "delete": ("rounds", "--delete", "Ada", "2020-01-01", "1", "--yes", *DB),
    "backup": ("backup", "copy.duckdb", *DB),
    "strokes": ("backup", "strokes.parquet", "--strokes", *DB),
    "template-csv": ("template", "new.csv"),
    "template-xlsx": ("template", "new.xlsx"),
    "template-pdf": ("template", "new.pdf"),
    "gained-in": ("gained", "--in", "all.parquet", "--out", "out"),
    "report-html": ("report", "new.html", *DB),
    "report-pdf": ("report", "new.pdf", *DB),
    "export": ("report", "--export", "new", *DB),
    "sheet-csv": (*RANGE, "new.csv", *DB),
    "sheet-html": (*RANGE, "new.html", *DB),
    "sheet-pdf": (*RANGE, "new.pdf", *DB),
    "fit": ("fit", "--name", "again", *DB),
    "chart": ("benchmarks", "squad", "--chart", "new.svg", *DB),
    "counts-chart": ("counts", "--chart", "new.svg", *DB),
    "counts-picture": ("counts", "--chart", "new.png", *DB),
    "demo": ("demo", "--out", "demo"),
}
"""Every verb that writes a file, in every kind it writes."""
WHY = {
    "rights": ("(Permission denied)", "cannot be opened for writing"),
    "room": ("(File too large)", "Is the disk full?", "(No space left on device)"),
}
FIXED = ("name another", "Name a", "name a", "Is the disk full?", "Check the")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a season file, a fitted curve in it, its strokes, and a card to be loaded."""
    folder = tmp_path_factory.mktemp("made")
    with inside(folder):
        Path("card.csv").write_text(card(2, 18, "Ada", 2020))
        Path("more.csv").write_text(card(1, 9, "Bo", 2021))
        assert call("load", "card.csv", *DB).code == 0
        assert call("fit", "--name", "squad", *DB).code == 0
        assert call("backup", "all.parquet", "--strokes", *DB).code == 0
    return folder


@pytest.fixture
def home(made: Path, tmp_path: Path) -> Path:
    """A copy of that folder, to be written into."""
    return Path(shutil.copytree(made, tmp_path / "home"))


def files(folder: Path) -> dict[str, bytes]:
    """Return what the files hold; a log in which DuckDB wrote nothing is none."""
    found = {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    return {name: held for name, held in found.items() if held or not name.endswith(".wal")}


@pytest.mark.parametrize("verb", WRITERS)
@pytest.mark.parametrize("lacking", ["rights", "room"])
def test_one_sentence_and_nothing_half_written(home: Path, verb: str, lacking: str) -> None:
    before = files(home)
    with inside(home):
        rounds = call("rounds", *DB, "--format", "json").out
        with no_rights(home) if lacking == "rights" else no_room(100):
            done = call(*WRITERS[verb])
        assert files(home) == before
        assert call("rounds", *DB, "--format", "json").out == rounds
    told, *counted = done.err.splitlines()
    assert (done.code, done.out) == (1, "")
    assert counted in ([], ["sgzone: 1 of 1 file not loaded"])
    assert any(said in told for said in WHY[lacking]), told
    assert any(said in told for said in FIXED), told
    assert ".part" not in told


def test_what_was_there_stays_where_its_successor_finds_no_room(home: Path) -> None:
    with inside(home):
        for verb in ("report-html", "sheet-csv", "chart", "counts-picture"):
            assert call(*WRITERS[verb]).code == 0
        before = files(home)
        with no_room(100):
            for verb in ("report-html", "sheet-csv", "chart", "counts-picture"):
                assert call(*WRITERS[verb]).code == 1
    assert files(home) == before
    assert len(before["new.html"]) > 100_000
