"""Small things a clumsy user meets."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import click
import pytest

from sgzone.cli import sgzone
from sgzone.errors import SgzoneError
from sgzone.season.store import open_store
from tests.hard.calls import call, inside

HEADER = "player,date,hole,shot,lie,distance,result,event\n"
CURVE = "lie,distance,unit,strokes,source\n"


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season file of three rounds."""
    folder = tmp_path_factory.mktemp("edges")
    rows = [
        "Ada,2026-05-14,1,1,green,3,holed,competition",
        "Ada,2026-06-14,1,1,green,3,holed,practice",
        "Bea,2026-05-14,1,1,green,4,holed,practice",
    ]
    with inside(folder):
        Path("card.csv").write_text(HEADER + "\n".join(rows) + "\n")
        assert call("load", "card.csv").code == 0
    return folder / "sgzone.duckdb"


@pytest.fixture
def home(season: Path, tmp_path: Path) -> Path:
    """A folder with a copy of it."""
    shutil.copyfile(season, tmp_path / season.name)
    return tmp_path


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("words", "there"),
    [
        ((), [("Ada", "2026-05-14"), ("Ada", "2026-06-14"), ("Bea", "2026-05-14")]),
        (("--player", "Ada"), [("Ada", "2026-05-14"), ("Ada", "2026-06-14")]),
        (("--since", "2026-05-15"), [("Ada", "2026-06-14")]),
        (("--until", "2026-05-14"), [("Ada", "2026-05-14"), ("Bea", "2026-05-14")]),
        (("--event", "practice"), [("Ada", "2026-06-14"), ("Bea", "2026-05-14")]),
        (("--event", "practice", "--player", "Bea"), [("Bea", "2026-05-14")]),
    ],
)
def test_rounds_are_chosen_as_everywhere(
    home: Path, words: tuple[str, ...], there: list[tuple[str, str]]
) -> None:
    with inside(home):
        rows = call("rounds", *words, "--format", "json").json()
    assert [(row["player"], row["date"]) for row in rows] == there


ENOUGH = {"number": ("97",), "report": ("x.html",), "fit": ("--name", "squad")}
"""What a verb needs beside ``--player`` to be a whole call."""
OF_ONE = sorted(
    name
    for name in sgzone.list_commands(click.Context(sgzone))
    if (verb := sgzone.get_command(click.Context(sgzone), name)) is not None
    and any("--player" in option.opts for option in verb.params)
)


@pytest.mark.repeats
@pytest.mark.parametrize("verb", OF_ONE)
def test_every_verb_refuses_a_misspelt_player_and_names_those_there(home: Path, verb: str) -> None:
    with inside(home):
        done = call(verb, *ENOUGH.get(verb, ()), "--player", "Eve")
        assert not Path("x.html").exists()
    assert (done.code, done.out) == (2, "")
    assert 'No player "Eve" in the season file (there: Ada, Bea)' in done.err


def test_the_verbs_of_one_player_are_all_there() -> None:
    assert {"summary", "report", "rounds", "gained", "trend", "why", "fit"} <= set(OF_ONE)


@pytest.mark.repeats
@pytest.mark.parametrize("verb", ["summary", "gained", "rounds"])
def test_a_player_without_a_round_of_these_days_has_an_empty_answer(home: Path, verb: str) -> None:
    with inside(home):
        done = call(verb, "--player", "Bea", "--since", "2030-01-01", "--format", "csv")
    assert (done.code, done.out.count("\n")) == (0, 1)
    assert "No round of these days and events in the season file (there: 1 round" in done.err


@pytest.mark.repeats
@pytest.mark.parametrize("verb", ["summary", "gained", "counts", "trend", "clubs"])
def test_a_season_file_without_a_round_says_what_to_do(tmp_path: Path, verb: str) -> None:
    with inside(tmp_path):
        open_store("sgzone.duckdb").close()
        done = call(verb)
    assert done.code == 0
    assert done.err.startswith("No round in the season file yet. Write a card")
    assert "No round of these days" not in done.err


@pytest.mark.long
def test_a_column_that_no_row_fills_is_left_out_for_eyes_alone(home: Path) -> None:
    with inside(home):
        shown, whole = call("summary").out, call("summary", "--format", "csv").out
    heads = shown.split("──")[0]
    assert "verdict" in heads
    assert "not enough shots" in shown
    assert not re.search("range|estimate|note|measuring", heads.split("\n", 1)[1])
    with inside(home):  # no stroke of this card has a club, and clubs were asked for
        assert re.search(r"\nplayer +club +shots ", call("summary", "--by", "club").out)
    assert {"low", "shrunk_per_shot", "note"} <= set(whole.splitlines()[0].split(","))


@pytest.mark.parametrize("verb", [("rounds",), ("gained",), ("fit", "--name", "squad")])
def test_swapped_days(home: Path, verb: tuple[str, ...]) -> None:
    with inside(home):
        done = call(*verb, "--since", "2026-06-01", "--until", "2026-05-01")
    assert (done.code, done.out) == (2, "")
    assert "swap the two" in done.err


def test_a_place_too_far_is_told_in_the_unit_of_its_lie(home: Path) -> None:
    with inside(home):
        assert "at most 700 yd; 800 yd is not" in call("benchmarks", "--at", "tee 800").err
        assert "at most 200 ft; 300 ft is not" in call("benchmarks", "--at", "green 300").err
        assert "at most 700 yd; 900 m is not" in call("benchmarks", "--at", "rough 900 m").err


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--hours", "1e300"), "hours a week must be from 0.25 to 168"),
        (("--hours", "5", "--weeks", "6", "--week", "99"), "the block has 6 weeks"),
    ],
)
def test_more_time_than_there_is(home: Path, words: tuple[str, ...], why: str) -> None:
    with inside(home):
        done = call("practice", *words, "--player", "Ada")
    assert (done.code, done.out) == (2, "")
    assert why in done.err


def test_a_folder_has_a_name(home: Path) -> None:
    with inside(home):
        Path("inner").mkdir()
        with inside(Path("inner")):
            for verb in ("check", "load"):
                done = call(verb, ".")
                assert (done.code, done.out) == (2, "")
                assert "sgzone: .: no card in this folder" in done.err
        Path("inner").rmdir()


def test_two_files_of_one_name_are_told_apart(home: Path) -> None:
    with inside(home):
        for folder in ("a", "b"):
            Path(folder).mkdir()
            Path(folder, "card.csv").write_text(HEADER + f"{folder},2026-05-14,1,1,gren,3,holed,\n")
        rows = call("check", "a/card.csv", "b/card.csv", "--format", "json").json()
        assert {row["file"] for row in rows} == {"a/card.csv", "b/card.csv"}
        done = call("load", "a/card.csv", "b/card.csv")
        assert done.err.index("a/card.csv:") < done.err.index("b/card.csv:")
        alone = call("check", "a/card.csv", "--format", "json").json()
        assert {row["file"] for row in alone} == {"card.csv"}


@pytest.mark.parametrize(
    ("text", "limit"),
    [
        (CURVE + "x" * 1_000_000, "a curve may have 1 MB"),
        (CURVE + "green,3,ft,1,x\n" * 20_001, "a curve may have 20000"),
        (CURVE.strip() + "," * 60 + "\ngreen,3,ft,1,x\n", "a curve may have 50"),
        (CURVE + 'green,3,ft,1,"x\n', "quotes that never close"),
    ],
)
def test_a_curve_that_is_too_much(home: Path, text: str, limit: str) -> None:
    with inside(home):
        Path("own.csv").write_text(text)
        done = call("gained", "--benchmark", "own.csv")
    assert done.code == 1
    assert limit in done.err


def test_a_curve_of_hostile_words_is_text(home: Path) -> None:
    name = "=1+1 <script>alert(1)</script>.csv".replace("/", "")
    words = "=HYPERLINK(1)\x1b[31m<script>alert(2)</script>"
    lies = [f"{lie},{d},yd,{2 + d / 100},{words}" for lie in ("fairway", "tee") for d in (10, 200)]
    with inside(home):
        Path(name).write_text(
            CURVE + "\n".join([f"green,3,ft,1.1,{words}", f"green,60,ft,2.2,{words}", *lies]) + "\n"
        )
        text = call("benchmarks", name, "--format", "csv").out
        assert "'=HYPERLINK(1)\\x1b" in text
        assert "\n'=1+1" in text
        done = call("report", "own.html", "--benchmark", name, "--player", "Ada")
        assert done.code == 0
        assert "<script>alert" not in Path("own.html").read_text(encoding="utf-8")


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("when", "number", "said"),
    [
        ("2026-05-14", "9" * 5000, "must be a whole number from 1 to 9"),
        ("2026-05-14", "12345", "must be a whole number from 1 to 9"),
        ("2026-05-14", "-1", "must be a whole number from 1 to 9"),
        ("2026-05-14", "1.0", "must be a whole number from 1 to 9"),
        ("2026-05-14", "²", "must be a whole number from 1 to 9"),
        ("2026-05-14", "9", "No round 9"),
        ("2026-05-14", "0", "must be a whole number from 1 to 9"),
        ("0000-01-01", "1", "is not a date"),
        ("2026-02-30", "1", "is not a date"),
        ("9" * 5000, "1", "is not a date"),
        ("-2026-05-14", "1", "is not a date"),
        ("0001-01-01", "1", "No round 1"),
        ("9999-12-31", "1", "No round 1"),
    ],
)
def test_odd_rounds_to_delete(home: Path, when: str, number: str, said: str) -> None:
    with inside(home):
        done = call("rounds", "--delete", "Ada", when, number)
        assert (done.code, done.out) == (2, "")
        assert said in done.err
        assert len(done.err) < 500
        assert len(call("rounds", "--format", "json").json()) == 3


@pytest.mark.repeats
@pytest.mark.parametrize(
    "number", [0, -1, 10**30, 10**400, 2**31, True, 1.5, float("nan"), "x", None]
)
def test_odd_rounds_to_delete_from_python(home: Path, number: object) -> None:
    with open_store(home / "sgzone.duckdb") as store:
        with pytest.raises(SgzoneError, match="round"):
            store.delete("Ada", "2026-05-14", number)  # type: ignore[arg-type]
        assert len(store.rounds()) == 3


@pytest.mark.repeats
@pytest.mark.parametrize("when", [None, 5, "", "14/05/2026", "2026-05-14T00:00", "\0", "9" * 5000])
def test_odd_days_to_delete_from_python(home: Path, when: object) -> None:
    with open_store(home / "sgzone.duckdb") as store:
        with pytest.raises(SgzoneError, match="is not a date"):
            store.delete("Ada", when, 1)  # type: ignore[arg-type]
        assert len(store.rounds()) == 3


def test_a_new_name_is_one_line(home: Path) -> None:
    with inside(home):
        done = call("rounds", "--rename", "Ada", "Eve\nsgzone: all fine")
    assert done.code == 2
    assert "on one line" in done.err
