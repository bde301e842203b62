"""`--benchmark auto`, verb by verb: the standard it is, its column in data, where it is refused."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner, Result

from sgzone.cli import sgzone
from sgzone.errors import CallError
from sgzone.season.store import open_store
from sgzone.words.plays_like import TO_EACH
from tests.demo_season import demo_file
from tests.review.where.family import family_card

AUTO = ("--benchmark", "auto")
CALLS = (
    *(
        "summary --by band,lie --no-measuring",
        "gained",
        "why",
        "why --detail misses",
        "why --detail short-sided",
        "why --detail putting",
    ),
    *("why --detail ratio", "compare --by swing", "compare --split-date 2026-07-20", "trend"),
    *("trend --split-date 2026-07-20", "clubs", "clubs --detail questions", "clubs --detail wear"),
    *("clubs --detail changes", "number 97", "number --from 90 --to 100", "practice --hours 5"),
    *("practice --hours 5 --week", "practice --blocks"),
)
"""Every way of asking that can be against a benchmark, but the first and the reports."""


def ask(call: str, *more: str, db: Path | None = None) -> Result:
    words = [*call.split(), *more, "--db", str(db or demo_file())]
    return CliRunner().invoke(sgzone, words)


def csv_of(call: str, *more: str, db: Path | None = None) -> pd.DataFrame:
    done = ask(call, *more, "--format", "csv", db=db)
    assert done.exit_code == 0, done.output
    return pd.read_csv(io.StringIO(done.stdout))


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a season file of Ada, a 90-golfer, and of Ben, of whom little is known."""
    folder = tmp_path_factory.mktemp("two")
    card = pd.concat([family_card("Ada", 0.9), family_card("Ben", 0.3, 19)])
    card.to_csv(folder / "card.csv", index=False)
    with open_store(folder / "two.duckdb") as store:
        store.load(folder / "card.csv")
    return folder / "two.duckdb"


@pytest.mark.parametrize(
    "call",
    ["summary --no-measuring", *(pytest.param(call, marks=pytest.mark.long) for call in CALLS)],
)
def test_every_answer_is_that_against_the_standard_and_names_it(call: str) -> None:
    found = csv_of(call, *AUTO)
    assert found.columns[-1] == "benchmark"
    assert set(found["benchmark"]) == {"scratch"}
    plain = csv_of(call, "--benchmark", "scratch")
    pd.testing.assert_frame_equal(found.drop(columns="benchmark"), plain)
    assert "benchmark" not in plain


@pytest.mark.long
def test_a_table_is_against_the_standard_and_why_stands_aside() -> None:
    for call in ("summary --no-measuring", "gained", "why", "trend", "compare --by swing"):
        done = ask(call, *AUTO)
        assert re.search(r"against scratch|a round to scratch", done.stdout)
        assert "auto" not in done.stdout
        assert "Against scratch, the standard nearest to your whole game.\n" in done.stderr
        assert "averages 75 to 78 (8 in 10; 40 rounds)." in done.stderr
    rows = json.loads(ask("why", *AUTO, "--format", "json").stdout)
    assert {row["benchmark"] for row in rows} == {"scratch"}


@pytest.mark.long
def test_a_sheet_in_a_file_names_it_too(tmp_path: Path) -> None:
    call = "number --from 95 --to 100"
    for name, wanted in (("auto", {"scratch"}), ("scratch", None)):
        out = tmp_path / f"{name}.csv"
        assert ask(call, "--benchmark", name, "--out", str(out)).exit_code == 0
        sheet = pd.read_csv(out)
        assert (set(sheet["benchmark"]) if wanted else None) == wanted
        assert ("benchmark" in sheet) == bool(wanted)
    page = tmp_path / "sheet.html"
    assert ask(call, *AUTO, "--out", str(page)).exit_code == 0
    assert "scratch" in page.read_text(encoding="utf-8")


def test_too_few_rounds_are_against_the_tour_and_told_so() -> None:
    call = "summary --no-measuring --until 2026-06-01"
    assert set(csv_of(call, *AUTO)["benchmark"]) == {"tour"}
    done = ask(call, *AUTO)
    assert "a round to tour, over 10 rounds" in done.stdout
    assert "no standard can be named for your whole game (20 rounds needed, 10 there)" in (
        done.stderr
    )


@pytest.mark.long
def test_the_standard_is_the_same_at_every_level() -> None:
    """The control: at this level the whole game has no range that could be given."""
    assert "Against scratch" in ask("gained", *AUTO).stderr
    for level in ("0.5", "0.999"):
        assert "Against scratch" in ask("trend", *AUTO, "--level", level).stderr


@pytest.mark.long
def test_several_players_are_each_against_their_own(two: Path) -> None:
    for call in ("summary --no-measuring", "gained", "summary --by part --no-measuring"):
        found = csv_of(call, *AUTO, db=two)
        assert found.columns[-1] == "benchmark"
        named = found.groupby("player")["benchmark"].unique().str.join(" ")
        assert named.to_dict() == {"Ada": "amateur-90", "Ben": "tour"}
        for player, name in named.items():
            alone = csv_of(call, "--player", str(player), "--benchmark", name, db=two)
            own = found[found["player"] == player].reset_index(drop=True)
            pd.testing.assert_frame_equal(own[alone.columns], alone, check_dtype=False)
    done = ask("summary --no-measuring", *AUTO, db=two)
    assert f"against {TO_EACH}" in done.stdout
    assert "amateur-90" in done.stdout
    assert "Against tour, as no standard can be named: Ben (20 rounds needed, 19 there)." in (
        done.stderr
    )


def test_one_chosen_of_several_is_alone(two: Path) -> None:
    done = ask("summary --no-measuring --player Ada", *AUTO, db=two)
    assert "a round on amateur-90, over 24 rounds" in done.stdout
    assert "Ben" not in done.output
    done = ask("why", *AUTO, db=two)
    assert isinstance(done.exception, CallError)
    assert "add --player" in str(done.exception)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        ("fit --name auto", "auto cannot name a benchmark"),
        ("fit --name new --from auto", "auto is no curve"),
        ("field --benchmark auto", "auto is no curve"),
        ("summary --in strokes.parquet --benchmark auto", "auto is no curve"),
        ("gained --in strokes.parquet --benchmark auto", "auto is no curve"),
        ("report r.html --against auto", "auto is no curve"),
        ("report r.html --kind team --benchmark auto", "auto is each player's own"),
        ("practice --hours 5 --target 75 --benchmark auto", "leave it out"),
        ("clubs --detail bag --benchmark auto", "leave it out"),
        ("summary --plays-like --benchmark auto", "leave it out"),
    ],
)
def test_where_it_cannot_be_it_is_refused_with_what_to_give(
    call: str, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = ask(call)
    assert isinstance(done.exception, CallError)
    assert said in str(done.exception)
    assert "leave" in str(done.exception) or "such as" in str(done.exception)
    assert not list(tmp_path.iterdir())


def test_a_chart_of_several_standards_is_refused(two: Path, tmp_path: Path) -> None:
    drawn = ("--chart", str(tmp_path / "c.svg"))
    done = ask("summary --no-measuring", *AUTO, *drawn, db=two)
    assert isinstance(done.exception, CallError)
    assert "--chart does nothing with --benchmark auto for several players" in str(done.exception)
    done = ask("summary --no-measuring --player Ada", *AUTO, *drawn, db=two)
    assert done.exit_code == 0
    assert "amateur-90" in (tmp_path / "c.svg").read_text(encoding="utf-8")


@pytest.mark.long
def test_where_every_part_loses_the_nearest_stands_below_the_table(two: Path) -> None:
    done = ask("summary --no-measuring").stdout
    nearest = "Nearest standard: scratch. Worse than scratch: sand 0-50 yd by 0.15 (0.08 to 0.21) a"
    assert f"\n{nearest} round, 38 shots.\n" in done
    assert done.endswith("\nNext: every answer against scratch, --benchmark auto.\n")
    for other in (
        *(("--benchmark", "scratch"), ("--benchmark", "amateur-80"), AUTO),
        *(("--by", "part,event"), ("--by", "player,part"), ("--format", "csv")),
        ("--until", "2026-06-01"),
    ):
        assert "Nearest standard" not in ask("summary --no-measuring", *other).stdout
    assert "Nearest standard" not in ask("summary --no-measuring", db=two).stdout  # of two players
    assert "Nearest standard: amateur-90. " in ask("summary --player Ada", db=two).stdout


@pytest.mark.long
def test_on_the_command_line() -> None:
    words = [sys.executable, "-m", "sgzone", "why", *AUTO, "--db", str(demo_file())]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert "against scratch" in done.stdout
    assert done.stderr.startswith("Against scratch, the standard nearest to your whole game.\n")
    done = subprocess.run([*words[:3], "benchmarks", "auto"], capture_output=True, text=True)
    assert done.returncode == 2
    assert done.stderr.startswith("sgzone: The benchmark auto is no curve")
