"""The practice verb from the outside: formats, switches, what it refuses, what it always says."""

from __future__ import annotations

import io
import json
import re
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pandas as pd
import pytest

from sgzone.cli import main
from sgzone.practice.plan import DETAIL_COLUMNS, PLAN_COLUMNS
from sgzone.resources import data_path
from sgzone.season.store import open_store
from sgzone.words.cautions import CAUTION, CAUTIONS

PLAN = ("--hours", "2", "--weeks", "6")


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("practice")
    with open_store(folder / "sgzone.duckdb") as store:
        for name in ("season", "practice_log", "test_blocks"):
            store.load(data_path(f"demo/{name}.csv"))
    return folder


@dataclass(frozen=True)
class Done:
    returncode: int
    stdout: str
    stderr: str


def run(home: Path, *call: str) -> Done:
    """Call the command line's own entry in this process: as a user meets it, without the start."""
    out, err = io.StringIO(), io.StringIO()
    argv = ["sgzone", "practice", "--db", str(home / "sgzone.duckdb"), *call]
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.setattr(sys, "argv", argv)
        patch.chdir(home)
        try:
            main()
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
    return Done(code, out.getvalue(), err.getvalue())


@pytest.mark.long
def test_csv_is_the_contract_and_nothing_else(home):
    done = run(home, *PLAN, "--format", "csv")
    assert done.returncode == 0, done.stderr
    table = pd.read_csv(io.StringIO(done.stdout))
    assert tuple(table.columns) == PLAN_COLUMNS
    assert table["share"].sum() == pytest.approx(1)
    assert table["hours_per_week"].sum() == pytest.approx(2)
    detail = pd.read_csv(io.StringIO(run(home, *PLAN, "--detail", "--format", "csv").stdout))
    assert tuple(detail.columns) == (*PLAN_COLUMNS, *DETAIL_COLUMNS)


def test_json_has_null_where_there_is_no_log(home):
    done = run(home, *PLAN, "--no-log", "--format", "json")
    assert {row["share_now"] for row in json.loads(done.stdout)} == {None}


@pytest.mark.long
def test_the_table_holds_assumptions_cautions_and_the_load(home):
    done = run(home, "--hours", "10", "--weeks", "6")
    said = " ".join(done.stdout.split())
    assert "if these assumptions are right" in said
    assert "How fast practice pays is assumed" in said
    assert f"\n{CAUTION}\n" in done.stdout
    assert "From 2.1 h to 10.0 h a week is a jump" in said
    wide = " ".join(run(home, "--hours", "10", "--weeks", "6", "--wide").stdout.split())
    assert "recoverable" in wide
    assert "assumed rate," in wide
    for split in ("plan", "by loss", "equal", "hours now"):
        assert split in wide
    assert "a jump" not in run(home, *PLAN).stdout


@pytest.mark.parametrize(
    "word",
    [
        *("wrist", "elbow", "back", "physiotherapist", "licensed", "mats", "bunker", "Juniors"),
        *("permission", "nobody ahead", "lightning", "Warm up", "rest"),
    ],
)
def test_the_cautions_name_what_they_must(word):
    assert word in " ".join(CAUTIONS)


@pytest.mark.long
def test_a_target_is_answered_first(home):
    """What the demo season lacks to scratch, the hours that could win it, and their chance."""
    asked = ("--hours", "6", "--weeks", "6", "--target")
    said = run(home, *asked, "scratch").stdout
    assert said.startswith("To play like scratch you must gain 0.6")
    assert "a round inside 150 yards (8 in 10: 0.1" in said
    assert "There you play now like a golfer who averages 76 (8 in 10: 75 to 77)." in said
    assert "The cheapest way: about 5" in said
    assert "Most on approach 100-150 yd (22)" in said
    assert "At 6 hours a week for 6 weeks your chance to get there is about 3 in 10." in said
    assert "Losses are to tour." in said
    assert "inside 137 m (" in run(home, *asked, "scratch", "--units", "metric").stdout
    far = run(home, *asked, "68.6").stdout
    assert far.startswith("To play like a golfer who averages 68.6 you must gain 3.7")
    assert "out of reach by practice of these parts" in far
    near = run(home, *asked, "amateur-80").stdout
    assert near.startswith("You play like amateur-80 already: better by 1.7")
    assert "cheapest way: " not in near
    table = pd.read_csv(io.StringIO(run(home, *asked, "scratch", "--format", "csv").stdout))
    assert tuple(table.columns) == PLAN_COLUMNS
    assert table["need_per_round"].sum() == pytest.approx(0.63, abs=0.02)
    assert table["hours_to_goal"].sum() == pytest.approx(54, rel=0.08)
    plain = pd.read_csv(io.StringIO(run(home, *asked[:-1], "--format", "csv").stdout))
    own = ["need_per_round", "hours_to_goal"]
    assert plain[own].isna().all(axis=None)
    assert plain.drop(columns=own).equals(table.drop(columns=own))
    assert "cheapest way" not in run(home, *asked[:-1]).stdout


def test_no_target_without_a_plan(home):
    done = run(home, *PLAN, "--target", "scratch", "--since", "2031-01-01")
    assert done.returncode == 0
    assert "Too few strokes to plan from" in done.stdout
    assert "To play like" not in done.stdout


@pytest.mark.long
def test_a_typed_split_is_set_beside(home):
    split = "approach_100_150=50,putt_0_10=50"
    assert re.search(r"Your split: about 0\.\d", run(home, *PLAN, "--split", split).stdout)
    assert "your split " in run(home, *PLAN, "--split", split, "--wide").stdout
    assert "our split" not in run(home, *PLAN).stdout
    wrong = run(home, *PLAN, "--split", "putt_0_10=50")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "add up to 100" in wrong.stderr
    assert "no part" in run(home, *PLAN, "--split", "driver=100").stderr


@pytest.mark.repeats
@pytest.mark.parametrize("number", ["abc", "-1", "inf", "nan"])
@pytest.mark.parametrize("option", ["--split", "--ceiling"])
def test_what_is_no_number_of_a_part_is_named(home, option, number):
    wrong = run(home, *PLAN, option, f"putt_0_10=50,chip_0_30={number}")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert f"{option} chip_0_30: {number}: " in wrong.stderr
    assert "must be from 0 to" in wrong.stderr


@pytest.mark.parametrize("option", ["--split", "--ceiling"])
def test_a_part_without_a_number_is_named(home, option):
    wrong = run(home, *PLAN, option, "putt_0_10=50,chip_0_30")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert f'{option}: "chip_0_30" is no part=number such as approach_100_150=30' in wrong.stderr


@pytest.mark.long
def test_flags_and_a_file_change_the_plan(home):
    (home / "own.toml").write_text(
        "floor_hours = 0\n[part.sand_0_50]\nfloor_hours = 6\n", encoding="utf-8"
    )
    done = run(home, *PLAN, "--settings", "own.toml", "--format", "csv")
    table = pd.read_csv(io.StringIO(done.stdout)).set_index("part")
    assert table.loc["sand_0_50", "share"] >= 0.5 - 1e-9
    done = run(home, *PLAN, "--ceiling", "approach_100_150=2", "--format", "csv")
    table = pd.read_csv(io.StringIO(done.stdout)).set_index("part")
    assert table.loc["approach_100_150", "share"] <= 2 / 12 + 1e-9
    (home / "bad.toml").write_text("speed = 1\nrecoverable = 7\n", encoding="utf-8")
    wrong = run(home, *PLAN, "--settings", "bad.toml")
    assert (wrong.returncode, wrong.stdout) == (1, "")
    assert "speed" in wrong.stderr
    assert "recoverable" in wrong.stderr


@pytest.mark.long
def test_a_week_as_csv_and_as_a_page(home):
    rows = pd.read_csv(io.StringIO(run(home, *PLAN, "--week", "--format", "csv").stdout))
    assert rows.groupby("session")["minutes"].first().sum() == 120
    later = pd.read_csv(io.StringIO(run(home, *PLAN, "--week", "4", "--format", "csv").stdout))
    assert later["number"].tolist() != rows["number"].tolist()
    page = run(home, *PLAN, "--week").stdout
    assert page.startswith(
        "Week 1 of 6: 2 sessions of 60 minutes, 160 balls, two at each number.\n"
    )
    assert "so many balls inside the number in brackets" in page
    balls = rows.groupby(["session", "part"], sort=False)["balls"].sum()
    assert re.findall(r" (\d+) +\d+ of (\d+) ", page) == [(str(n), str(n)) for n in balls]
    assert len(page.splitlines()) < 40
    assert f"\n{CAUTION}\n" in page


@pytest.mark.long
def test_blocks_say_how_many_rounds_the_course_needs(home):
    done = run(home, "--blocks")
    assert done.returncode == 0, done.stderr
    assert "rounds before and as many after" in done.stdout
    assert "range" in done.stdout
    table = pd.read_csv(io.StringIO(run(home, "--blocks", "--format", "csv").stdout))
    assert not [name for name in table.columns if "rate" in name or "tau" in name]


def test_what_if_says_worth_and_sign_on_the_course(home):
    done = run(home, "--what-if", "wedge_50_100 long_short_spread -20%")
    assert done.returncode == 0, done.stderr
    assert "strokes per round (80%:" in done.stdout
    assert "median finish" in done.stdout


@pytest.mark.parametrize(
    ("call", "said"),
    [
        ((), "--hours"),
        (("--hours", "0"), "from 0.25 to 168"),
        (("--hours", "2", "--target", "nowhere"), "nowhere: the average score must be from 68.6"),
        (("--hours", "2", "--target", "100.5"), "or a level: tour, scratch, amateur-80"),
        (("--hours", "2", "--recoverable", "3"), "from 0 to 1"),
        (("--what-if", "better wedges"), "is no change"),
    ],
)
def test_what_it_cannot_do_is_said_in_a_sentence(home, call, said):
    done = run(home, *call)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_an_empty_selection_is_a_header_and_exit_0(home):
    done = run(home, *PLAN, "--since", "2031-01-01", "--format", "csv")
    assert done.returncode == 0
    assert done.stdout.startswith("part,shots_per_round")


def test_no_test_blocks_are_no_error(home):
    done = run(home, "--blocks", "--since", "2031-01-01")
    assert "misses got smaller" in done.stdout
