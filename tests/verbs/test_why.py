"""The verb `why`: contract of the long form, words of the table, errors."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from sgzone.errors import CallError
from sgzone.review.why.costs import FACTORS
from sgzone.review.why.split import COLUMNS, FACTS, WHY_COLUMNS
from sgzone.season.store import open_store
from sgzone.verbs.summary import summary
from sgzone.verbs.why import DETAILS, why
from tests.verbs.runner import asked, csv_of

SHOWN = [*(name for name in WHY_COLUMNS if name not in FACTS), "note"]


def _card(player: str, rounds: int, seed: int, spread: float = 1.0) -> pd.DataFrame:
    """Return 4 holes a round: a shot from 60 to 90 yd that stays on the green, two putts."""
    rng = np.random.default_rng(seed)
    rows = []
    for day in range(rounds):
        for hole in range(1, 5):
            depth, side = rng.normal(-12, 12 * spread), rng.normal(0, 10)
            key = {"player": player, "date": f"2026-05-{day + 1:02d}", "hole": hole}
            first = {
                **key,
                "shot": 2,
                "lie": "fairway",
                "distance": f"{rng.uniform(60, 90):.1f} yd",
            }
            rows.append({**first, "club": "54", "depth_ft": depth, "side_ft": side})
            end = max(float(np.hypot(depth, side)), 1)
            rows.append({**key, "shot": 3, "lie": "green", "distance": f"{end:.1f} ft"})
            rows.append({**key, "shot": 4, "lie": "green", "distance": "1.5 ft", "result": "holed"})
    return pd.DataFrame(rows)


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = Path(tmp_path_factory.mktemp("why"))
    _card("Ann", 25, 1).to_csv(folder / "ann.csv", index=False)
    _card("Ben", 2, 2).to_csv(folder / "ben.csv", index=False)
    _card("Cat", 25, 3, spread=3.0).to_csv(folder / "cat.csv", index=False)
    with open_store(folder / "s.duckdb") as store:
        for name in ("ann", "ben", "cat"):
            store.load(folder / f"{name}.csv")
    return folder / "s.duckdb"


def test_csv_is_the_long_form_and_adds_up(season: Path) -> None:
    table = csv_of(why, season, "--player", "Ann")
    assert list(table.columns) == SHOWN
    wedge = table[table["part"] == "wedge_50_100"]
    assert list(wedge["factor"].unique()) == list(FACTORS)
    assert (wedge["shots"] == 100).all()
    for column in COLUMNS:
        cells = wedge[wedge["column"] == column].set_index("factor")["loss_per_shot"]
        assert cells.drop("total").sum() == pytest.approx(cells["total"], abs=1e-9)
    total = wedge[(wedge["factor"] == "total") & (wedge["column"] == "total")].iloc[0]
    assert total["loss_per_round"] == pytest.approx(total["loss_per_shot"] * 100 / (100 / 18))


@pytest.mark.long
def test_a_cause_is_named_only_where_the_summary_has_a_loss(season: Path) -> None:
    """Ann's wedges are about as good as the benchmark's; Cat's finish far short and far past."""
    for player, verdict, named in (("Ann", "not settled", 0), ("Cat", "clear loss", 1)):
        parts = csv_of(summary, season, "--player", player).set_index("part")
        assert parts.loc["wedge_50_100", "verdict"] == verdict
        table = csv_of(why, season, "--player", player)
        wedge = table[(table["part"] == "wedge_50_100") & (table["column"] == "total")]
        notes = wedge.set_index("factor")["note"]
        assert notes.str.startswith("largest cause").sum() == named
        assert notes.str.contains("no loss is shown").all() == (not named)
    assert notes["long_short_spread"].startswith("largest cause; sd")


def test_json_has_nulls_not_nan(season: Path) -> None:
    result = asked(why, season, "--player", "Ben", "--until", "2026-05-01", "--format", "json")
    rows = json.loads(result.stdout)
    assert {row["low"] for row in rows} == {None}
    assert {row["factor"] for row in rows} == {"total"}


def test_the_table_speaks_plainly(season: Path) -> None:
    short = asked(why, season, "--player", "Ann").stdout
    text = asked(why, season, "--player", "Ann", "--wide").stdout
    for words in (
        "usual miss: short or long",
        "line",
        "distance control",
        "other",
        "ft short (80%:",
    ):
        assert words in text
    assert "17 ft short" in short
    for words in ("long_short_bias", "Shapley", "nan"):
        assert words not in text
        assert words not in short


@pytest.mark.repeats
@pytest.mark.parametrize("detail", DETAILS)
@pytest.mark.parametrize("fmt", ["table", "csv"])
def test_details(season: Path, detail: str, fmt: str) -> None:
    result = asked(why, season, "--player", "Ann", "--detail", detail, "--format", fmt)
    assert result.exit_code == 0, result.output
    if fmt == "csv" and detail == "ratio":
        table = pd.read_csv(StringIO(result.stdout))
        assert sorted(table["ratio"].unique()) == pytest.approx([0.8, 1.0, 1.2])


def test_two_players_are_named(season: Path) -> None:
    result = asked(why, season)
    assert isinstance(result.exception, CallError)
    assert "Ann, Ben" in str(result.exception)


def test_an_empty_selection_is_a_header(season: Path) -> None:
    result = asked(why, season, "--player", "Ann", "--since", "2030-01-01", "--format", "csv")
    assert result.exit_code == 0
    assert result.stdout == ",".join(SHOWN) + "\n"


def test_a_ratio_of_nothing_is_refused(season: Path) -> None:
    assert asked(why, season, "--player", "Ann", "--ratio", "0").exit_code == 2


@pytest.mark.parametrize(("detail", "miss"), [("misses", "short-left"), ("misses", "short-right")])
def test_a_miss_that_costs_is_minus_where_a_person_reads(
    season: Path, detail: str, miss: str
) -> None:
    """csv keeps losses above 0; the table has the same amounts as losses, ends in order."""
    kept = csv_of(why, season, "--player", "Cat", "--detail", detail).set_index("miss").loc[miss]
    assert kept["low"] < kept["loss_per_shot"] < kept["high"]
    assert kept["loss_per_shot"] > 0
    text = asked(why, season, "--player", "Cat", "--detail", detail).stdout
    assert "+ gains, - loses" in text.splitlines()[0]
    (row,) = (line for line in text.splitlines() if miss in line)
    best, low, high = (-kept[name] for name in ("loss_per_shot", "high", "low"))
    assert f"{best:+.2f}  {low:+.2f} to {high:+.2f}" in row
    assert low < best < high


def test_a_missed_green_is_minus_too(season: Path) -> None:
    text = asked(why, season, "--player", "Cat", "--detail", "short-sided").stdout
    assert "+ gains, - loses" in text.splitlines()[0]
    assert "loss" not in text
