"""A text card from the outside: an example, read back, loaded, printed again, piped in."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pandas as pd
import pytest

from sgzone.resources import data_path
from sgzone.season.reading import read_card
from sgzone.season.store import open_store
from tests.verbs.test_files import Run

CARD = """Ned Farrow, 14 May 2026, Home, competition
1 f112/50 18 2
4 3rd r140 x
"""
TABLE = "player;date;hole;shot;lie;distance\nNed Farrow;2026-05-14;1;1;green;9\n"


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("SGZONE_DB", raising=False)
    Path("round.txt").write_text(CARD)
    return Run(capsys, monkeypatch)


def pipe(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    """Let the next call find this on its standard input."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))


def test_check_reads_every_hole_back(run: Run) -> None:
    code, out, _ = run("check", "round.txt")
    assert code == 0
    assert out.splitlines() == [
        "Ned Farrow, 14 May 2026",
        "Hole 1: fairway 112 yd with the 50 to 18 ft; putt to 2 ft; in. 3 strokes, 2 putts.",
        "Hole 4, from shot 3: rough 140 yd picked up, no stroke from there. 0 strokes, 0 putts.",
    ]


def test_a_card_in_metres_is_read_back_in_metres(run: Run) -> None:
    Path("round.txt").write_text("Ned Farrow, 14 May 2026, Home, m\n1 f102,4 5.5 1\n")
    _, out, _ = run("check", "round.txt")
    assert "fairway 102.4 m to 5.5 m; putt to 1 m; in." in out


def test_data_formats_hold_data_alone(run: Run) -> None:
    code, out, _ = run("check", "round.txt", "--format", "json")
    assert (code, out.strip()) == (0, "[]")


def test_a_card_with_a_question_is_not_read_back(run: Run) -> None:
    Path("round.txt").write_text(CARD + "5 f112 e8 2\n")
    code, out, err = run("check", "round.txt")
    assert code == 1
    assert "Hole 1" not in out
    assert "feet or yards" in out
    assert "1 error in round.txt" in err


def test_the_caller_answers_what_was_asked(run: Run) -> None:
    Path("round.txt").write_text("Home, 5/6/26\n1 f112 18\n")
    code, out, _ = run("check", "round.txt")
    assert code == 1
    assert "player or the course" in out
    code, out, _ = run("check", "round.txt", "--as", "Ned Farrow", "--dates", "dmy")
    assert (code, out.splitlines()[-2]) == (0, "Ned Farrow, 5 June 2026")


def test_the_example_loads_as_nothing(run: Run) -> None:
    code, out, err = run("template", "mine.txt")
    assert (code, out) == (0, "")
    assert "mine.txt" in err
    code, _, err = run("load", "mine.txt")
    assert code == 1
    assert "no strokes yet" in err
    assert run("template", "mine.txt")[0] == 1
    assert run("template", "new.txt", "--all")[0] == 2


def test_the_example_beside_a_round(run: Run) -> None:
    run("template", "mine.txt")
    example = Path("mine.txt").read_text()
    Path("mine.txt").write_text(example + CARD)
    code, out, _ = run("check", "mine.txt")
    assert code == 0
    assert "the example is here and is passed over" in out
    assert "Hole 5" not in out
    Path("mine.txt").write_text(example.replace("s14", "s15") + CARD)
    code, out, _ = run("check", "mine.txt")
    assert code == 1
    assert "a hole of the example was changed" in out


def test_the_example_is_a_sound_round(run: Run) -> None:
    run("template", "mine.txt")
    text = Path("mine.txt").read_text()
    Path("mine.txt").write_text(text.replace("\n(example),", "\nNed Farrow,"))
    code, out, err = run("check", "mine.txt")
    assert (code, out.count("Hole ")) == (0, 5), err
    assert "Ready to load" in err


def test_a_round_as_text_is_passed_over_as_equal(run: Run) -> None:
    run("load", str(data_path("demo/season.csv")))
    name = "Wrenna Oddlethorpe"
    code, out, err = run("rounds", "--as-text", name, "2026-07-05", "2")
    assert (code, err) == (0, "")
    Path("again.txt").write_text(out)
    code, _, err = run("load", "again.txt")
    assert code == 0
    assert "all 53 rows are in the season file already" in err
    with open_store("sgzone.duckdb", read_only=True) as store:
        stored = store.round(name, "2026-07-05", 2)
    card = read_card("again.txt")
    pd.testing.assert_series_equal(stored["distance_ft"], card["distance_ft"])
    assert stored["shot"].tolist() == card["shot"].tolist()
    assert run("rounds", "--as-text", name, "2026-07-05")[1] != out


def test_a_finish_of_its_own_is_printed_too(run: Run) -> None:
    Path("own.csv").write_text(
        "player,date,hole,shot,lie,distance,to_lie,to_distance\n"
        "Ada,2026-05-14,1,1,fairway,112,green,18\nAda,2026-05-14,2,1,fairway,90,,\n"
        "Ada,2026-05-14,2,2,green,3,,\n"
    )
    run("load", "own.csv")
    code, out, _ = run("rounds", "--as-text", "Ada", "2026-05-14")
    assert code == 0
    assert out == ("Ada, 14 May 2026, -\n1 f112 to_lie=green to_distance=[18 ft]\n2 f90 3\n")
    Path("again.txt").write_text(out)
    assert "all 3 rows are in the season file already" in run("load", "again.txt")[2]


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--as-text", "Nobody", "2026-05-14"), 'No round 1 of "Nobody"'),
        (("--as-text", "Ned Farrow", "2026-05-14", "2"), "No round 2"),
        (("--as-text", "Ned Farrow", "14 May", "1"), "is not a date"),
        (("--as-text", "Ned Farrow", "2026-05-14", "x"), "ROUND|round|whole|number"),
        (("--as-text", "Ned Farrow", "2026-05-14", "--format", "csv"), "--format does nothing"),
        (("7",), 'rounds takes no "7"'),
    ],
)
def test_a_round_that_is_not_there(run: Run, words: tuple[str, ...], told: str) -> None:
    run("load", "round.txt")
    code, out, err = run("rounds", *words)
    assert (code, out) == (2, "")
    assert any(part in err for part in told.split("|"))


@pytest.mark.repeats
@pytest.mark.parametrize(("data", "rows"), [(CARD, 4), (TABLE, 1), (TABLE.replace(";", "\t"), 1)])
def test_what_is_piped_in_is_a_card_or_a_table(
    run: Run, monkeypatch: pytest.MonkeyPatch, data: str, rows: int
) -> None:
    pipe(monkeypatch, data.encode())
    code, _, err = run("load", "-")
    assert code == 0
    many = "rows" if rows > 1 else "row"
    assert f'"standard input": shot card, {rows} {many} loaded' in err
    code, out, _ = run("rounds", "--format", "csv")
    assert out.splitlines()[1].endswith("standard input")


def test_a_fault_of_what_is_piped_in_names_it(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    pipe(monkeypatch, (CARD + "5 f112 e8 2\n").encode())
    code, out, err = run("check", "-")
    assert code == 1
    assert "feet or yards" in out
    assert 'error in "standard input"' in err


@pytest.mark.parametrize(
    ("data", "words", "code"),
    [
        (b"", ("load", "-"), 1),
        (b"PK\x03\x04", ("load", "-"), 1),
        (b"\x00\x01", ("check", "-"), 1),
        (CARD.encode(), ("load", "-", "-"), 2),
    ],
)
def test_what_cannot_be_piped_in(
    run: Run, monkeypatch: pytest.MonkeyPatch, data: bytes, words: tuple[str, ...], code: int
) -> None:
    pipe(monkeypatch, data)
    assert run(*words)[0] == code
    assert not Path("sgzone.duckdb").exists()


def test_nothing_of_it_is_left_behind(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    pipe(monkeypatch, CARD.encode())
    before = set(tmp_path.iterdir())
    assert run("check", "-")[0] == 0
    assert set(tmp_path.iterdir()) == before
