"""The file verbs from the outside: what is printed where, and how they end."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path

import pytest

from sgzone import cli
from sgzone.season.store import open_store
from tests.cards.examples import give_example_a_player

GOOD = (
    "player,date,hole,shot,lie,distance\nAda,2026-05-14,1,1,rough,40\nAda,2026-05-14,1,2,green,9\n"
)
BAD = GOOD.replace("rough", "trees").replace("2026-05-14", "03/04/2026")


class Run:
    """Calls the command line inside this process, in an empty folder."""

    def __init__(self, capsys: pytest.CaptureFixture[str], patch: pytest.MonkeyPatch) -> None:
        self._capsys = capsys
        self._patch = patch

    def __call__(self, *words: str) -> tuple[int, str, str]:
        """Return exit code, standard output, standard error."""
        self._patch.setattr(sys, "argv", ["sgzone", *words])
        try:
            cli.main()
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
        out = self._capsys.readouterr()
        return code, out.out, out.err


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("SGZONE_DB", raising=False)
    Path("good.csv").write_text(GOOD)
    Path("bad.csv").write_text(BAD)
    return Run(capsys, monkeypatch)


@pytest.mark.long
def test_template_check_load_rounds(run: Run) -> None:
    for name in ("card.csv", "card.xlsx"):
        code, out, err = run("template", name)
        assert (code, out) == (0, "")
        assert name in err
        code, out, err = run("load", name)
        assert (code, out) == (1, "")
        assert "no strokes yet" in err
        give_example_a_player(Path(name))
    code, out, err = run("check", "card.csv", "card.xlsx")
    assert code == 0
    assert out.count("Hole 3: tee 142 yd with the 8 iron, full, to sand 14 yd") == 2
    assert "card.xlsx: 1 hole, 4 strokes, 2 putts on 14 May.\n" in err
    assert "2 files, no errors. Ready to load." in err
    code, out, err = run("load", "card.xlsx")
    assert (code, out) == (0, "")
    assert "4 rows loaded" in err
    code, out, _ = run("rounds", "--format", "csv")
    assert code == 0
    (row,) = csv.DictReader(io.StringIO(out))
    assert row["date"] == "2026-05-14"
    assert (row["holes"], row["strokes"], row["file"]) == ("1", "4", "card.xlsx")


def test_template_of_every_kind(run: Run) -> None:
    said = "player,date,hole,shot,lie,distance,penalty,result,club,swing,"
    assert run("template", "few.csv")[0] == 0
    assert Path("few.csv").read_text().startswith(said)
    assert run("template", "all.csv", "--all")[0] == 0
    assert "green_speed_ft" in Path("all.csv").read_text()
    code, out, err = run("template", "cards.PDF")
    assert (code, out) == (0, "")
    assert "full size" in err
    assert run("template", "letter.pdf", "--paper", "letter")[0] == 0
    assert b"/MediaBox[0 0 841.8" in Path("cards.PDF").read_bytes()
    assert b"/MediaBox[0 0 792 612" in Path("letter.pdf").read_bytes()
    code, _, err = run("template", "more.pdf", "--all")
    assert "--all does nothing with a card to print" in err
    assert not Path("more.pdf").exists()


@pytest.mark.repeats
@pytest.mark.parametrize("card", ["bad.csv", "missing.csv"])
def test_a_first_load_that_comes_to_nothing_leaves_no_season_file(run: Run, card: str) -> None:
    there = sorted(Path().iterdir())
    assert run("load", card)[0] == 1
    assert sorted(Path().iterdir()) == there
    code, _, err = run("load", card, "good.csv")
    assert (code, "1 of 2 files not loaded" in err) == (1, True)
    loaded = run("rounds", "--format", "csv")
    assert "Ada" in loaded[1]
    assert run("load", card)[0] == 1
    assert run("rounds", "--format", "csv") == loaded


def test_an_empty_season_file_that_was_there_stays(run: Run) -> None:
    open_store("sgzone.duckdb").close()
    assert run("load", "bad.csv")[0] == 1
    assert Path("sgzone.duckdb").exists()


def test_a_stopped_first_load_leaves_no_season_file(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sgzone.season.loading.load_file", stopped)
    code, _, err = run("load", "good.csv")
    assert code == 130
    assert "whole or not at all" in err
    assert not Path("sgzone.duckdb").exists()


def test_a_season_file_that_is_filled_or_anothers_is_not_deleted(tmp_path: Path) -> None:
    """Between its making and its opening another program may have loaded."""
    (tmp_path / "good.csv").write_text(GOOD)
    with open_store(tmp_path / "s.duckdb") as store:
        store.load(tmp_path / "good.csv")
        store.discard()
    with open_store(tmp_path / "s.duckdb", create=False) as store:
        assert len(store.rounds()) == 1
        store.execute("DELETE FROM loads")
        store.discard()
    assert [path.name for path in tmp_path.glob("s.duckdb*")] == ["s.duckdb"]


def test_check_tells_everything_and_writes_nothing(run: Run, tmp_path: Path) -> None:
    before = sorted(tmp_path.iterdir())
    code, out, err = run("check", "bad.csv", "good.csv", "--format", "csv")
    assert code == 1
    rows = list(csv.DictReader(io.StringIO(out)))
    assert list(rows[0]) == ["file", "row", "column", "value", "wrong", "fix", "severity", "times"]
    assert [(r["row"], r["column"]) for r in rows] == [("2", "date"), ("2", "lie")]
    assert "bad.csv" in err
    code, out, _ = run("check", "bad.csv", "--format", "json")
    assert [entry["row"] for entry in json.loads(out)] == [2, 2]
    code, out, _ = run("check", "bad.csv")
    assert code == 1
    assert "was the shot at the green blocked" in out
    assert sorted(tmp_path.iterdir()) == before


def test_check_of_a_good_card_prints_only_the_header(run: Run) -> None:
    code, out, _ = run("check", "good.csv", "--format", "csv")
    assert (code, out) == (0, "file,row,column,value,wrong,fix,severity,times\n")
    assert json.loads(run("check", "good.csv", "--format", "json")[1]) == []


def test_a_bad_file_does_not_stop_the_others(run: Run) -> None:
    code, out, err = run("load", "bad.csv", "none.csv", "good.csv", "--db", "s.duckdb")
    assert (code, out) == (1, "")
    assert "is this 3 April 2026 or 4 March 2026?" in err
    assert "there is no such file" in err
    assert "good.csv: shot card, 2 rows loaded" in err
    assert "2 of 3 files not loaded" in err
    assert "Traceback" not in err
    with open_store("s.duckdb", read_only=True) as store:
        assert store.rounds()["file"].tolist() == ["good.csv"]


def test_again_replace_and_the_environment(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SGZONE_DB", "env.duckdb")
    assert run("load", "good.csv")[0] == 0
    code, _, err = run("load", "good.csv")
    assert code == 0
    assert "already" in err
    Path("good.csv").write_text(GOOD.replace("green,9", "green,8"))
    code, _, err = run("load", "good.csv")
    assert code == 1
    assert "--replace" in err
    assert run("load", "good.csv", "--replace")[0] == 0
    assert Path("env.duckdb").exists()


def test_corrections(run: Run) -> None:
    run("load", "good.csv")
    code, out, _ = run("rounds", "--rename", "Ada", "Bea", "--format", "json")
    assert code == 0
    assert [entry["player"] for entry in json.loads(out)] == ["Bea"]
    delete = ("rounds", "--delete", "Bea", "2026-05-14", "1", "--format", "csv")
    before = Path("sgzone.duckdb").read_bytes()
    code, out, err = run(*delete)
    assert (code, out) == (2, "")
    assert "1 round and 2 strokes of Bea on 2026-05-14 would be deleted. Add --yes" in err
    assert Path("sgzone.duckdb").read_bytes() == before
    code, out, err = run(*delete, "--yes")
    assert code == 0
    assert "2 strokes" in err
    assert out.count("\n") == 1


@pytest.mark.repeats
@pytest.mark.parametrize(
    "words",
    [
        ("rounds", "--rename", "Nobody", "Bea"),
        ("rounds", "--delete", "Ada", "2026-05-14", "2"),
        ("rounds", "--delete", "Ada", "14 May", "1"),
        ("rounds", "--delete", "Ada", "2026-05-14", "one"),
        ("rounds", "--rename", "Ada", "Bea", "--delete", "Ada", "2026-05-14", "1"),
        ("template", "card.docx"),
        ("template", "card.pdf", "--all"),
        ("template", "card.pdf", "--paper", "a5"),
        ("template", "card.csv", "--paper", "a4"),
        ("template", "card.xlsx", "--paper", "letter"),
        ("load",),
        ("check", "good.csv", "--format", "xml"),
    ],
)
def test_a_wrong_call_ends_in_2(words: tuple[str, ...], run: Run) -> None:
    run("load", "good.csv")
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert err
    assert "Traceback" not in err
    assert json.loads(run("rounds", "--format", "json")[1])[0]["player"] == "Ada"


@pytest.mark.parametrize(
    "words",
    [
        ("rounds", "--db", "none.duckdb"),
        ("rounds", "--db", "good.csv"),
        ("backup", "copy.duckdb", "--db", "none.duckdb"),
        ("load", "good.csv", "--db", "bad.csv"),
        ("template", "good.csv"),
    ],
)
def test_a_file_at_fault_ends_in_1(words: tuple[str, ...], run: Run) -> None:
    code, out, err = run(*words)
    assert (code, out) == (1, "")
    assert "Traceback" not in err
    assert Path("bad.csv").read_text() == BAD
    assert not Path("copy.duckdb").exists()


def test_backup(run: Run) -> None:
    run("load", "good.csv")
    assert run("backup", "copy.duckdb")[0] == 0
    same = run("rounds", "--format", "csv")[1]
    assert run("rounds", "--db", "copy.duckdb", "--format", "csv")[1] == same
    assert run("backup", "copy.duckdb")[0] == 1
