"""A season file that is none, through several verbs: one sentence and exit 1, nothing changed."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import duckdb
import pytest

from tests.hard.calls import call, inside

CARD = "player,date,hole,shot,lie,distance,result\nAda,2026-05-14,1,1,green,3,holed\n"
VERBS = (
    ("load", "card.csv"),
    ("summary", "--format", "csv"),
    ("report", "r.html"),
    ("backup", "copy.duckdb"),
    ("rounds", "--format", "json"),
)
WRONG = {
    "newer": "newer sgzone (schema 99",
    "truncated": "damaged",
    "other": "not a season file",
    "text": "not a season file, or it is damaged",
    "empty": "is empty",
    "folder": "is a",
}


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wrong")
    with inside(folder):
        Path("card.csv").write_text(CARD)
        assert call("load", "card.csv", "--db", "sound").code == 0
        shutil.copyfile("sound", "newer")
        with duckdb.connect("newer") as newer:
            newer.execute("UPDATE meta SET schema_version = 99")
        Path("truncated").write_bytes(Path("sound").read_bytes()[:9000])
        with duckdb.connect("other") as other:
            other.execute("CREATE TABLE t (a INTEGER)")
        Path("text").write_text("player,date\n" * 2000)
        Path("empty").touch()
        Path("folder").mkdir()
    return folder


@pytest.mark.repeats
@pytest.mark.parametrize("verb", VERBS, ids=lambda words: words[0])
@pytest.mark.parametrize("wrong", WRONG)
def test_one_sentence(home: Path, verb: tuple[str, ...], wrong: str) -> None:
    with inside(home):
        before = {p.name: p.read_bytes() for p in Path().iterdir() if p.is_file()}
        done = call(*verb, "--db", wrong)
        assert {p.name: p.read_bytes() for p in Path().iterdir() if p.is_file()} == before
    assert (done.code, done.out) == (2 if wrong == "folder" else 1, "")
    assert WRONG[wrong] in done.err
    assert wrong == "folder" or done.err.count("\n") == 1


def test_a_file_that_is_open_elsewhere(home: Path) -> None:
    hold = "import sys, duckdb; c = duckdb.connect('sound'); print('open', flush=True); input()"
    holder = subprocess.Popen(
        [sys.executable, "-c", hold],
        cwd=home,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "open\n"
    try:
        for verb in VERBS[:3]:
            with inside(home):
                done = call(*verb, "--db", "sound")
            assert (done.code, done.out, done.err.count("\n")) == (1, "", 1)
            assert "open in another program" in done.err
    finally:
        holder.communicate("\n")
    with inside(home):
        assert len(call("rounds", "--db", "sound", "--format", "json").json()) == 1


@pytest.mark.long
def test_a_name_with_a_sign_comes_back_true_but_for_csv(home: Path, tmp_path: Path) -> None:
    with inside(tmp_path):
        Path("card.csv").write_text(CARD.replace("Ada", "-Ada"))
        assert call("load", "card.csv").code == 0
        assert call("rounds", "--format", "json").json()[0]["player"] == "-Ada"
        assert "\n'-Ada," in call("rounds", "--format", "csv").out
        assert call("backup", "s.parquet", "--strokes").code == 0
        with duckdb.connect() as reader:
            assert reader.execute("SELECT player FROM 's.parquet'").fetchall() == [("-Ada",)]
        Path("back.csv").write_text(CARD.replace("Ada", "'-Ada"))
        assert call("load", "back.csv", "--db", "back").code == 0
        assert call("rounds", "--db", "back", "--format", "json").json()[0]["player"] == "'-Ada"


def test_an_event_that_nobody_played_is_told(home: Path) -> None:
    with inside(home):
        done = call("summary", "--event", "competiton", "--db", "sound", "--format", "csv")
    assert done.code == 0
    assert "there: 1 round, 2026-05-14 to 2026-05-14, events: none named" in done.err


CHANGES = {
    "SELECT 1": 0,
    "UPDATE strokes SET lie = 'sand' WHERE shot = 2": 1,
    "UPDATE strokes SET distance_ft = distance_ft + 3 WHERE shot < 3": 2,
    "UPDATE strokes SET end_lie = 'moon' WHERE shot = 1": 1,
    "UPDATE strokes SET start_cell = NULL, end_cell = 0": 3,
    "UPDATE strokes SET distance_ft = 1e300 WHERE shot = 1": 1,
    "UPDATE strokes SET distance_ft = distance_ft + .25": 0,  # the same foot
}
"""What another program does to a card of three strokes -> how many no longer fit their place."""


@pytest.mark.repeats
@pytest.mark.parametrize("change", CHANGES)
def test_strokes_that_another_program_changed_are_counted(change: str, tmp_path: Path) -> None:
    rows = "Ada,2026-05-14,1,1,fairway,90,\nAda,2026-05-14,1,2,rough,9,\n"
    rows += "Ada,2026-05-14,1,3,green,3,holed\n"
    with inside(tmp_path):
        Path("card.csv").write_text(CARD.partition("\n")[0] + "\n" + rows)
        assert call("load", "card.csv").code == 0
        with duckdb.connect("sgzone.duckdb") as file:
            file.execute(change)
        strokes = ("backup", "--strokes", "copy.parquet")
        for verb in (("rounds", "--format", "json"), ("backup", "copy.duckdb"), strokes):
            done = call(*verb)
            assert done.code == 0
            said = re.findall(r"(\d+) strokes? in .* would be scored from another place", done.err)
            assert said == ([str(CHANGES[change])] if CHANGES[change] else [])
