"""The verb fit, and a fitted curve wherever a benchmark's name goes."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner, Result

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.calibration import CALIBRATION_COLUMNS
from sgzone.cli import sgzone
from sgzone.demo.presets import strong_amateur
from sgzone.demo.simulate import simulate_season
from sgzone.errors import CallError, DataError


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("cards") / "squad.csv"
    cards = [simulate_season(strong_amateur(who), 4, seed).card for seed, who in enumerate("AB")]
    pd.concat(cards).to_csv(path, index=False)
    return path


@pytest.fixture(scope="module")
def loaded(card: Path) -> Path:
    """The season file with the card, loaded once."""
    db = card.with_name("sgzone.duckdb")
    ask("load", str(card), "--db", str(db))
    return db


@pytest.fixture
def here(loaded: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a copy of the season file, which the test may change."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("SGZONE_DB", raising=False)
    shutil.copy(loaded, tmp_path)
    return tmp_path


def ask(*call: str) -> Result:
    return CliRunner().invoke(sgzone, list(call), catch_exceptions=False)


def frame(*call: str) -> pd.DataFrame:
    return pd.read_csv(io.StringIO(ask(*call, "--format", "csv").stdout))


def test_a_squads_benchmark_from_fit_to_summary(here: Path) -> None:
    done = ask("fit", "--name", "squad-2026", "--format", "csv")
    table = pd.read_csv(io.StringIO(done.stdout))
    assert list(table.columns) == CALIBRATION_COLUMNS
    assert "Saved squad-2026" in done.stderr
    assert "2 players" in done.stderr
    assert "chance alone" in done.stderr
    assert "own" not in done.stderr
    knots = frame("benchmarks", "squad-2026")
    assert {"n", "low", "high", "base", "status"} <= set(knots.columns)
    assert (knots["base"] - knots["strokes"]).abs().max() > 0.02
    tour = benchmark("tour")
    row = knots.query("lie == 'fairway' and distance == 100").iloc[0]
    assert row["base"] == pytest.approx(float(tour.expected("fairway", 300.0)))
    by_name = frame("gained", "--benchmark", "squad-2026")
    by_file = frame("gained", "--benchmark", "squad-2026.csv")
    off = by_name[~by_name["end_lie"].isin(["fringe"]) & (by_name["lie"] != "fringe")]
    same = by_file.loc[off.index, "gained"]
    assert off["gained"].to_numpy() == pytest.approx(same.to_numpy(), nan_ok=True)
    summary = json.loads(ask("summary", "--benchmark", "squad-2026", "--format", "json").stdout)
    assert {row["player"] for row in summary} == {"A", "B"}
    one = ask("benchmarks", "squad-2026", "--at", "rough 40", "--format", "json").stdout
    assert "squad-2026" in json.loads(one)[0]["source"].split("+")
    assert "squad-2026" in frame("benchmarks")["benchmark"].tolist()


@pytest.mark.long
def test_the_chart_is_written(here: Path) -> None:
    ask("fit", "--name", "squad")
    for kind in (".svg", ".html", ".png", ".json"):
        done = ask("benchmarks", "squad", "--chart", f"squad{kind}")
        assert f"Wrote squad{kind}" in done.stderr
        assert (here / f"squad{kind}").stat().st_size > 1000
    assert "squad" in (here / "squad.svg").read_text()
    assert "https://" not in (here / "squad.svg").read_text()
    with pytest.raises(CallError, match="end its name in"):
        ask("benchmarks", "squad", "--chart", "squad.gif")
    with pytest.raises(CallError, match="No fitted benchmark 'tour'"):
        ask("benchmarks", "tour", "--chart", "tour.svg")
    with pytest.raises(CallError, match="name it"):
        ask("benchmarks", "--chart", "all.svg")


def test_an_own_curve_is_said_to_be_one_and_refused_for_costs(here: Path) -> None:
    done = ask("fit", "--name", "mine", "--player", "A", "--out", "a.csv")
    assert "It is A's own" in done.stderr
    assert (here / "a.csv").exists()
    for verb in (
        ["summary"],
        ["why"],
        ["why", "--detail", "misses"],
        ["practice", "--hours", "3", "--weeks", "6"],
        ["report", "a.html"],
    ):
        with pytest.raises(CallError, match="nothing seems to cost strokes"):
            ask(*verb, "--player", "A", "--benchmark", "mine")
    for verb in ("gained", "trend"):
        assert len(frame(verb, "--player", "A", "--benchmark", "mine"))
    assert len(frame("compare", "--by", "club", "--player", "A", "--benchmark", "mine")) >= 0
    assert len(frame("summary", "--player", "B", "--benchmark", "mine"))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (["--name", "tour"], "published level"),
        (["--name", "Squad 2026"], "small letters"),
        (["--name", "squad", "--player", "Nobody"], 'No player "Nobody"'),
        (["--name", "squad", "--from", "squad"], "count its strokes twice"),
        (["--name", "squad", "--from", "elsewhere"], "No benchmark is called"),
        (["--name", "squad", "--since", "2030-01-01"], "nothing was saved"),
    ],
)
def test_what_is_asked_wrongly_is_said(here: Path, call: list[str], words: str) -> None:
    with pytest.raises(CallError, match=words):
        ask("fit", *call)
    assert list(here.glob("*.csv")) == []


def test_nothing_is_overwritten_without_being_asked(here: Path) -> None:
    ask("fit", "--name", "squad")
    before = (here / "squad.csv").read_bytes()
    with pytest.raises(CallError, match="exists already"):
        ask("fit", "--name", "squad")
    with pytest.raises(CallError, match="has a benchmark 'squad' already"):
        ask("fit", "--name", "squad", "--out", "other.csv")
    ask("fit", "--name", "squad", "--from", "scratch", "--replace")
    assert (here / "squad.csv").read_bytes() != before
    with pytest.raises(DataError, match=r"is saved, its curve is not: .* /dev/full"):
        ask("fit", "--name", "lost", "--out", "/dev/full", "--replace")


def test_what_a_curve_for_women_does_not_claim_is_said(here: Path) -> None:
    done = ask("fit", "--name", "women", "--from", "women-bogey")
    assert "No women's curve is claimed there" in done.stderr
    assert "women" not in ask("fit", "--name", "squad", "--from", "scratch").stderr


def test_one_round_cannot_be_checked(here: Path) -> None:
    days = ("--since", "2026-04-01", "--until", "2026-04-02")
    done = ask("fit", "--name", "short", "--player", "A", *days)
    assert "Fewer than 2 rounds" in done.stderr


def test_published_levels_need_no_season_file(here: Path) -> None:
    (here / "sgzone.duckdb").write_text("damaged")
    assert len(frame("benchmarks", "tour"))
    with pytest.raises(DataError, match="not a season file"):
        ask("benchmarks", "squad")


def test_the_field_verb_by_value(here: Path) -> None:
    table = frame("field").set_index("player")
    assert table["rounds"].tolist() == [4, 4]
    assert table["against_field"].sum() == pytest.approx(0, abs=1e-9)
    gap = table["gained_per_round"]["A"] - table["gained_per_round"]["B"]
    # the same four days and courses, whole rounds: nothing but the difference is left
    assert table["against_field"]["A"] - table["against_field"]["B"] == pytest.approx(gap)
    assert "pool" in ask("field").stdout
    assert frame("field", "--player", "B")["player"].tolist() == ["B"]
