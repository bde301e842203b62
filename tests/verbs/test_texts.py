"""Texts and days that choose: what means nothing is said, what is clear is taken."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import click
import pytest

import sgzone as sg
from sgzone.cli import MOST_LETTERS, sgzone
from sgzone.errors import CallError
from sgzone.season.store import open_store
from tests.hard.calls import CALL_AT_FAULT, FINE, call, inside

ENOUGH = {
    "number": ("97",),
    "report": ("x.html",),
    "fit": ("--name", "squad", "--out", "squad.csv", "--replace"),
    "practice": ("--hours", "5"),
    "compare": ("--by", "club"),
}
BOOK = "x" * 1_000_000
CHOOSING = sorted(
    verb
    for verb in sgzone.list_commands(click.Context(sgzone))
    if (command := sgzone.get_command(click.Context(sgzone), verb)) is not None
    and any("--event" in param.opts for param in command.params)
)


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season file of one player, without much in it."""
    path = tmp_path_factory.mktemp("texts") / "sgzone.duckdb"
    card = sg.simulate_season(rounds=6).card.assign(player="Ada", event="practice", club="54")
    card.to_csv(path.with_name("card.csv"), index=False)
    with open_store(path) as store:
        store.load(path.with_name("card.csv"))
    return path


@pytest.fixture
def home(season: Path, tmp_path: Path) -> Path:
    shutil.copyfile(season, tmp_path / season.name)
    return tmp_path


@pytest.mark.repeats
@pytest.mark.parametrize("verb", CHOOSING)
def test_days_at_the_ends_of_the_calendar(verb: str, home: Path) -> None:
    start = (verb, *ENOUGH.get(verb, ()))
    with inside(home):
        wide = call(*start, "--since", "0001-01-01", "--until", "9999-12-31")
        assert wide.code == FINE, wide.err
        for day in (("--since", "9999-12-31"), ("--until", "0001-01-01")):
            none = call(*start, *day)
            assert "No round of these days" in none.err or "No stroke to fit" in none.err
        turned = call(*start, "--since", "9999-12-31", "--until", "0001-01-01")
    assert (turned.code, turned.out) == (CALL_AT_FAULT, "")
    assert "swap the two" in turned.err


@pytest.mark.repeats
@pytest.mark.parametrize("verb", ["compare", "trend"])
@pytest.mark.parametrize("day", ["0001-01-01", "1000-01-01", "9999-12-31"])
def test_a_day_that_splits_nothing(verb: str, day: str, home: Path) -> None:
    with inside(home):
        done = call(verb, "--split-date", day, "--format", "csv")
    assert done.code == FINE
    assert done.out.count("\n") >= 1


@pytest.mark.parametrize(
    "day", ["0000-01-01", "10000-01-01", "2026-02-30", "", "today", "9" * 5000]
)
def test_what_is_no_day_is_said(day: str, home: Path) -> None:
    with inside(home):
        for option in ("--since", "--until"):
            done = call("summary", option, day)
            assert (done.code, done.out) == (CALL_AT_FAULT, "")
            assert len(done.err) < MOST_LETTERS + 500


@pytest.mark.repeats
@pytest.mark.parametrize("verb", CHOOSING)
@pytest.mark.parametrize("text", ["", "a\0b", "\udcff", BOOK], ids=["none", "nul", "half", "book"])
def test_a_player_or_event_that_nobody_is(verb: str, text: str, home: Path) -> None:
    start = (verb, *ENOUGH.get(verb, ()))
    with inside(home):
        player = call(*start, "--player", text)
        event = call(*start, "--event", text)
    assert (player.code, player.out) == (CALL_AT_FAULT, "")
    assert "No player" in player.err
    assert "No round of these days and events" in event.err or "No stroke to fit" in event.err
    assert len(player.err) < MOST_LETTERS + 500


@pytest.mark.parametrize(
    "words",
    [
        ("compare", "--by", "club", "--groups", ""),
        ("compare", "--by", "", "--split-date", "2026-05-01"),
        ("practice", "--hours", "5", "--target", ""),
        ("practice", "--hours", "5", "--split", ""),
        ("practice", "--hours", "5", "--ceiling", ""),
        ("practice", "--what-if", ""),
        ("summary", "--benchmark", ""),
        ("summary", "--benchmark", "a\0b"),
        ("number", "97", "--lie", ""),
    ],
    ids=lambda words: " ".join(words).replace("\0", "NUL"),
)
def test_an_empty_text_is_not_passed_over(words: tuple[str, ...], home: Path) -> None:
    with inside(home):
        done = call(*words)
    assert (done.code, done.out) == (CALL_AT_FAULT, "")


@pytest.mark.parametrize("by", ["", ",", " , ,"])
def test_nothing_to_group_by_is_said(by: str, home: Path) -> None:
    with inside(home):
        for verb in ("summary", "compare"):
            done = call(verb, "--by", by)
            assert (done.code, done.out) == (CALL_AT_FAULT, "")
            assert "name a column, such as club" in done.err


def test_columns_are_taken_as_they_are_meant(home: Path) -> None:
    with inside(home):
        once = call("summary", "--by", "part", "--format", "csv")
        for by in ("part,part", " part ,", ",part"):
            assert call("summary", "--by", by, "--format", "csv").out == once.out
        unknown = call("summary", "--by", "bounce,part")
    assert unknown.code == CALL_AT_FAULT
    assert 'no column "bounce" to group by. Choose from: player, part' in unknown.err


def test_python_takes_columns_as_the_command_line_does(season: Path) -> None:
    with open_store(season, read_only=True) as store:
        listed = sg.summarise(store, by=["part", "lie"])
        assert sg.summarise(store, by="part, lie").equals(listed)
        for by in ("", [","], [""]):
            with pytest.raises(CallError, match=r"^no(thing to group by| column)"):
                sg.summarise(store, by=by)
        assert len(sg.summarise(store, by=[])) == 1
        with pytest.raises(CallError, match=r"^7 is no column"):
            sg.summarise(store, by=[7])  # type: ignore[list-item]


def test_a_message_that_repeats_a_book_keeps_its_ends(home: Path) -> None:
    with inside(home):
        done = call("summary", "--by", BOOK)
    assert done.code == CALL_AT_FAULT
    assert done.err.startswith('sgzone: no column "xxx')
    assert done.err.rstrip().endswith("total.")
    assert "letters)" in done.err
    assert len(done.err) < MOST_LETTERS + 100


@pytest.mark.long
@pytest.mark.parametrize("level", [pytest.param("-O", marks=pytest.mark.long), "-OO"])
def test_without_docstrings_a_verb_works_or_says_what_it_needs(level: str, home: Path) -> None:
    def run(*words: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, level, "-m", "sgzone", *words]
        return subprocess.run(command, cwd=home, capture_output=True, text=True, check=False)

    summary = run("summary", "--format", "csv")
    assert (summary.returncode, summary.stderr) == (0, "")
    report = run("report", "x.html")
    if level == "-O":
        assert report.returncode == 0
    else:  # a later chart library may do without
        assert report.returncode in (0, CALL_AT_FAULT)
        assert "Traceback" not in report.stderr
        assert report.returncode == 0 or "python -OO" in report.stderr
