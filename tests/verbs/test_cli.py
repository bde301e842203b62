"""The real command line: data on one stream, messages on the other, an exit code."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path

import click
import pandas as pd
import pytest

from sgzone import cli
from sgzone.words.digits import DAGGER
from tests.hard.calls import Outcome, call, inside
from tests.scoring.holes import HOLES, card_rows

NAMES = list(HOLES)


def run(*call: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "sgzone", *map(str, call)], cwd=cwd, capture_output=True, text=True
    )


def asked(*words: str | Path, cwd: Path) -> Outcome:
    """Answer as ``run`` does, within this process: one start of Python less."""
    with inside(cwd):
        return call(*words)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the season file of two players: the worked holes, and two of them again."""
    home = tmp_path_factory.mktemp("cli")
    rows = [row for n, name in enumerate(NAMES, 1) for row in card_rows(n, HOLES[name][0])]
    pd.DataFrame(rows).to_csv(home / "worked.csv", index=False)
    second = [row | {"player": "Second"} for row in card_rows(1, HOLES["three putts"][0])]
    pd.DataFrame(second).to_csv(home / "second.csv", index=False)
    done = asked("load", "worked.csv", "second.csv", cwd=home)
    assert done.code == 0, done.err
    return home


@pytest.mark.long
def test_gained_csv_holds_unrounded_numbers_and_nothing_else(folder: Path) -> None:
    done = run("gained", "--player", "Worked Example", "--format", "csv", cwd=folder)
    assert done.returncode == 0
    frame = pd.read_csv(io.StringIO(done.stdout))
    assert list(frame.columns) == [
        *("player", "date", "round", "hole", "shot", "lie", "distance_yd", "part", "band"),
        *("end_lie", "end_distance_yd", "penalty", "expected_before", "expected_after"),
        *("gained", "status"),
    ]
    wanted = [value for name in NAMES for value in HOLES[name][1]]
    got = [None if value != value else value for value in frame["gained"]]
    assert [v is None for v in got] == [v is None for v in wanted]
    assert [v for v in got if v is not None] == pytest.approx(
        [v for v in wanted if v is not None], abs=1e-9
    )


def test_json_says_null_where_csv_is_empty(folder: Path) -> None:
    done = asked("gained", "--format", "json", cwd=folder)
    rows = json.loads(done.out)
    unknown = [row for row in rows if row["status"] == "unknown_end"]
    assert len(unknown) == 2
    assert all(row["gained"] is None for row in unknown)
    assert {row["player"] for row in rows} == {"Worked Example", "Second"}
    assert rows[0]["date"] == "2026-05-01"


def test_empty_selection_prints_the_header(folder: Path) -> None:
    done = asked("gained", "--since", "2030-01-01", "--format", "csv", cwd=folder)
    assert done.code == 0
    assert done.out.count("\n") == 1
    assert done.out.startswith("player,date,round,hole,shot,")


def test_an_unknown_player_is_named_with_those_there(folder: Path) -> None:
    done = asked("gained", "--player", "Nobody", "--format", "csv", cwd=folder)
    assert done.code == 2
    assert 'No player "Nobody" in the season file (there: Second, Worked Example).' in done.err
    assert done.out == ""


@pytest.mark.parametrize(
    "call",
    [
        ["gained", "--benchmark", "nonesuch"],
        ["gained", "--level", "80"],
        ["gained", "--format", "xml"],
        ["gained", "--since", "14/05/2026"],
        ["nonesuch"],
        ["summary", "--by", "drop table strokes"],
    ],
)
def test_a_wrong_call_exits_2_and_prints_nothing(folder: Path, call: list[str]) -> None:
    done = asked(*call, cwd=folder)
    assert done.code == 2
    assert done.out == ""
    assert len(done.err) > 20


def test_the_process_itself_ends_with_the_code_of_a_wrong_call(folder: Path) -> None:
    done = run("nonesuch", cwd=folder)
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr
    assert 'There is no verb "nonesuch". sgzone --help lists the verbs.' in done.stderr


def test_no_season_file_is_one_sentence(tmp_path: Path) -> None:
    done = asked("gained", cwd=tmp_path)
    assert done.code == 1
    assert "sgzone.duckdb" in done.err
    assert done.err.count("\n") == 1
    assert not list(tmp_path.iterdir())


def test_summary_and_counts_put_the_player_first(folder: Path) -> None:
    for verb in ("summary", "counts"):
        done = asked(verb, "--format", "csv", cwd=folder)
        assert done.code == 0, done.err
        frame = pd.read_csv(io.StringIO(done.out))
        assert frame.columns[0] == "player"
        assert set(frame["player"]) == {"Worked Example", "Second"}


def test_the_code_a_verb_stops_with_is_the_exit_code(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    @click.command()
    @click.pass_context
    def stops(ctx: click.Context) -> None:
        ctx.exit(1)

    monkeypatch.setitem(cli.sgzone.commands, "stops", stops)
    monkeypatch.setitem(cli.VERBS, "stops", "")
    monkeypatch.setattr(cli.VerbGroup, "get_command", click.Group.get_command)
    monkeypatch.setattr(sys, "argv", ["sgzone", "stops"])
    with pytest.raises(SystemExit) as stop:
        cli.main()
    assert stop.value.code == 1


@pytest.mark.long
def test_a_reader_that_leaves_early_sees_no_traceback(folder: Path) -> None:
    command = f"set -o pipefail; {sys.executable} -m sgzone gained --format csv | true"
    done = subprocess.run(["bash", "-c", command], cwd=folder, capture_output=True, text=True)
    assert done.returncode == 0
    assert done.stderr == ""


@pytest.mark.long
def test_values_that_are_not_published_say_so_on_the_number(folder: Path) -> None:
    calls = (["gained", "--benchmark", "amateur-90"], ["summary", "--benchmark", "amateur-90"])
    for words in calls:
        done = asked(*words, "--player", "Worked Example", cwd=folder)
        assert done.code == 0, done.err
        assert f"{DAGGER} Worked out, not published" in done.out
        assert done.out.count(DAGGER) > 2  # on the rows too
        wide = asked(*words, "--player", "Worked Example", "--wide", cwd=folder)
        assert "derived" in wide.out
        assert "uncertain" in wide.out
    plain = asked("gained", "--player", "Second", cwd=folder)
    assert "derived" not in plain.out


def test_a_plan_without_strokes_is_a_header(folder: Path) -> None:
    call = ("practice", "--hours", "5", "--since", "2030-01-01", "--player", "Second")
    done = asked(*call, "--format", "csv", cwd=folder)
    assert done.code == 0, done.err
    assert done.out.count("\n") == 1
    assert done.out.startswith("part,shots_per_round,loss_per_round,low,high,share,")
