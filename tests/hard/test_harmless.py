"""Hostile names: nothing of them is run by the database, a terminal, a spreadsheet, a browser."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import duckdb
import pandas as pd
import pytest

from sgzone.harmless import cell, csv_text, json_text, printable
from sgzone.season.known import folded
from sgzone.season.store import open_store
from tests.hard.calls import call, inside, is_control
from tests.hard.hostile import HOSTILE

NAMES = [name for name in HOSTILE if name.strip("\u00a0\ufeff\u2028") and len(name) <= 80]
QUESTIONS = ("gained", "summary", "counts", "rounds")

_FIRST: dict[str, str] = {}
PLAYERS = [_FIRST.setdefault(folded(name), name) for name in NAMES]
"""Who each of them is: capitals and blanks alone make no other player."""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season file of players, clubs, courses, notes and columns with hostile names."""
    folder = tmp_path_factory.mktemp("hostile")
    header = ["player", "date", "hole", "shot", "lie", "distance", "result", "club", "course"]
    header += ["note", "event", *(f"column {name}" for name in NAMES)]
    with (folder / "card.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(header)
        for n, name in enumerate(NAMES):
            row = [name, f"2026-05-{1 + n % 28:02}", 1 + n // 28, 1, "green", 5 + n, "holed"]
            writer.writerow([*row, name, name, name, name, *NAMES])
    with inside(folder):
        loaded = call("load", "card.csv", "--new-player")  # names a letter apart are meant
        assert loaded.code == 0, loaded.err
    return folder


def test_what_is_stored_is_what_was_written(home: Path) -> None:
    with open_store(home / "sgzone.duckdb", read_only=True) as store:
        strokes = store.frame("SELECT * FROM strokes ORDER BY source_row")
    assert strokes["note"].tolist() == NAMES
    assert strokes["player"].tolist() == PLAYERS
    kept = json.loads(strokes["extra"][0])
    assert list(kept.values()) == NAMES


@pytest.mark.repeats
@pytest.mark.parametrize("verb", QUESTIONS)
@pytest.mark.parametrize("form", ["table", "csv", "json"])
def test_no_name_commands_the_terminal(home: Path, verb: str, form: str) -> None:
    with inside(home):
        rows = ("--rows", "all") if form == "table" else ()
        done = call(verb, "--format", form, *rows)  # asserts it
    assert done.code == 0
    assert not any(is_control(sign) or sign in "\u202e\ud800" for sign in done.out)
    assert "HYPERLINK" in done.out


def test_json_gives_the_very_names(home: Path) -> None:
    with inside(home):
        rows = call("rounds", "--format", "json").json()
    assert sorted(row["player"] for row in rows) == sorted(PLAYERS)


def test_no_csv_cell_is_a_formula_and_numbers_stay_numbers(home: Path) -> None:
    with inside(home):
        rows = list(csv.DictReader(io.StringIO(call("gained", "--format", "csv").out)))
    assert not [row for row in rows if row["player"].startswith(tuple("=+-@\t\r"))]
    assert "'=HYPERLINK" in "".join(row["player"] for row in rows)
    assert all(float(row["gained"]) > 0 for row in rows)


@pytest.mark.repeats
@pytest.mark.parametrize(("player", "name"), [*zip(PLAYERS, NAMES, strict=True)])
def test_a_name_is_asked_for_as_a_value(home: Path, player: str, name: str) -> None:
    with inside(home):
        rows = call("rounds", "--format", "json").json()
        asked = call("gained", "--player", player, "--event", name, "--format", "json").json()
    assert len(asked) == len([row for row in rows if row["event"] == name]) == 1


def test_formulas_by_value() -> None:
    assert cell("=1+1") == "'=1+1"
    assert cell("-2") == "'-2"
    assert cell("a;=1") == "a;'=1"
    assert cell("52-56") == "52-56"
    frame = pd.DataFrame({"n": [-1.5, None], "word": ["@x", "Ada"], "mixed": [-1, "+2"]})
    assert csv_text(frame) == "n,word,mixed\n-1.5,'@x,-1\n,Ada,'+2\n"
    assert frame["word"][0] == "@x"


def test_spelt_out_and_escaped_mean_the_same() -> None:
    text = "\x1b[31m\u202e\x9b7\tok\n"
    assert printable(text) == "\\x1b[31m\\u202e\\x9b7\tok\n"
    assert json.loads(json_text(json.dumps(text, ensure_ascii=False))) == text


def test_the_database_reads_no_other_file(home: Path, tmp_path: Path) -> None:
    """Not even for a season file that somebody made to read one."""
    secret = tmp_path / "secret.csv"
    secret.write_text("a\n1\n")
    with open_store(home / "sgzone.duckdb", read_only=True) as store:
        for sql in (
            f"SELECT * FROM read_csv('{secret}')",
            f"COPY (SELECT 1) TO '{tmp_path / 'out.csv'}'",
            f"ATTACH '{tmp_path / 'other.duckdb'}'",
            "INSTALL httpfs",
            "SET enable_external_access = true",
        ):
            with pytest.raises(duckdb.Error):
                store.execute(sql)
    made = tmp_path / "made.duckdb"
    with open_store(made):
        pass
    connection = duckdb.connect(str(made))
    connection.execute("DROP TABLE rounds")
    connection.execute(f"CREATE VIEW rounds AS SELECT * FROM read_csv('{secret}')")
    connection.close()
    with inside(tmp_path):
        done = call("rounds", "--db", made)
    assert done.code == 1
    assert "not a season file" in done.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["made.duckdb", "secret.csv"]


@pytest.mark.long
def test_a_report_of_hostile_names_holds_no_element_of_theirs(home: Path) -> None:
    with inside(home):
        for name in ("<script>alert(1)</script>", "</script><img src=x onerror=alert(1)>"):
            assert call("report", "hostile.html", "--player", name).code == 0
            text = Path("hostile.html").read_text(encoding="utf-8")
            assert "<script>alert" not in text
            assert "<img src=x" not in text
            assert "default-src" in text
