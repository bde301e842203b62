"""A player's own curve, verb by verb: no answer to what costs strokes, one to better or worse."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner, Result

from sgzone.cli import sgzone
from sgzone.demo.presets import strong_amateur
from sgzone.demo.simulate import simulate_season
from sgzone.errors import CallError

OWN = ("--player", "A", "--benchmark", "mine")
PLAN = ("practice", "--hours", "3")
COSTS = [
    ("summary", *OWN),
    ("summary", "--in", "strokes", *OWN),
    ("why", *OWN),
    *(("why", "--detail", detail, *OWN) for detail in ("misses", "short-sided")),
    *(("why", "--detail", detail, *OWN) for detail in ("putting", "ratio")),
    (*PLAN, *OWN),
    (*PLAN, "--week", *OWN),
    ("practice", "--what-if", "wedge_50_100 long_short_spread -20%", *OWN),
    ("report", "r.html", *OWN),
    ("report", "r.html", "--kind", "block", *OWN),
    ("report", "r.html", "--kind", "team", "--benchmark", "mine"),
    ("report", "r.html", "--player", "A", "--against", "mine"),
    ("report", "--export", "tables", *OWN),
]
NORMAL = [
    ("gained", *OWN),
    ("gained", "--in", "strokes", *OWN),
    ("trend", *OWN),
    ("compare", "--by", "club", *OWN),
    ("field", "--benchmark", "mine"),
    ("number", "80", *OWN),  # ways to play one shot, beside each other
    # nobody's own: another player's strokes against it
    ("summary", "--no-measuring", "--player", "B", "--benchmark", "mine"),
    ("why", "--player", "B", "--benchmark", "mine"),
]


def _ask(*call: str) -> Result:
    return CliRunner().invoke(sgzone, list(call), catch_exceptions=False)


@pytest.fixture(scope="module")
def squad(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a season file of A and B in which `mine` is A's own curve."""
    folder = tmp_path_factory.mktemp("squad")
    cards = [simulate_season(strong_amateur(who), 6, seed).card for seed, who in enumerate("AB")]
    pd.concat(cards).to_csv(folder / "squad.csv", index=False)
    db = ("--db", str(folder / "sgzone.duckdb"))
    _ask("load", str(folder / "squad.csv"), *db)
    _ask("fit", "--name", "mine", "--player", "A", "--out", str(folder / "mine.csv"), *db)
    _ask("backup", str(folder / "strokes" / "a.parquet"), "--strokes", *db)
    return folder


@pytest.fixture
def here(squad: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(squad)
    monkeypatch.delenv("SGZONE_DB", raising=False)
    return squad


@pytest.mark.repeats
@pytest.mark.parametrize("call", COSTS, ids=" ".join)
def test_what_costs_strokes_is_not_asked_of_an_own_curve(here: Path, call: tuple[str, ...]) -> None:
    with pytest.raises(
        CallError, match=r"to A's own strokes.*nothing seems to cost strokes"
    ) as refused:
        _ask(*call)
    assert refused.value.exit_code == 2
    assert "gained, trend, compare" in str(refused.value)  # where it does serve
    assert not (here / "r.html").exists()


@pytest.mark.repeats
@pytest.mark.parametrize("call", NORMAL, ids=" ".join)
def test_better_or_worse_than_normal_is(here: Path, call: tuple[str, ...]) -> None:
    done = _ask(*call)
    assert done.exit_code == 0
    assert len(done.stdout.splitlines()) > 3
    assert "seems to cost strokes" not in done.output


def test_the_mean_gained_against_it_is_near_nothing(here: Path) -> None:
    """Why it is refused: every stroke of A over a season adds up to nearly nothing."""
    lines = _ask("gained", *OWN, "--format", "csv").stdout.splitlines()
    place = lines[0].split(",").index("gained")
    own = pd.Series([float(line.split(",")[place] or "nan") for line in lines[1:]])
    tour = _ask("gained", "--player", "A", "--format", "csv").stdout.splitlines()
    against = pd.Series([float(line.split(",")[place] or "nan") for line in tour[1:]])
    assert abs(own.mean()) < 0.25 * abs(against.mean())
    assert against.mean() < -0.03
