"""The verbs `benchmarks` and `sources`."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner, Result

from sgzone.benchmarks import benchmark
from sgzone.errors import CallError, DataError
from sgzone.terms import BENCHMARK_NAMES, WOMEN_NAMES
from sgzone.verbs.benchmarks import benchmarks, sources

COLUMNS = ["benchmark", "lie", "distance", "unit", "strokes", "status", "source"]


def ask(*call: str) -> Result:
    result = CliRunner().invoke(benchmarks, call)
    if result.exception:
        raise result.exception
    return result


def table(*call: str) -> pd.DataFrame:
    return pd.read_csv(io.StringIO(ask(*call, "--format", "csv").stdout))


def test_one_value_unrounded() -> None:
    frame = table("tour", "--at", "rough 87")
    assert list(frame.columns) == COLUMNS
    row = frame.iloc[0]
    assert row.drop("strokes").tolist() == ["tour", "rough", 87, "yd", "published", "broadie2012"]
    assert row["strokes"] == float(benchmark("tour").expected("rough", 261))


@pytest.mark.parametrize(
    ("place", "lie", "distance", "unit", "feet"),
    [
        ("green 14", "green", 14, "ft", 14),
        ("Green 7'6\"", "green", 7.5, "ft", 7.5),
        ("fringe 5", "fringe", 5, "yd", 15),
        ("greenside bunker 12 yd", "sand", 12, "yd", 36),
        ("fairway 137.16 m", "fairway", 137.16, "m", 450),
        ("sand 12 m", "sand", 12, "m", 39.37007874),
    ],
)
def test_words_and_units(place: str, lie: str, distance: float, unit: str, feet: float) -> None:
    # Python reads back the very number; pandas does from one version to another
    (row,) = json.loads(ask("amateur-90", "--at", place, "--format", "json").stdout)
    assert (row["lie"], row["unit"]) == (lie, unit)
    assert row["distance"] == distance
    assert row["strokes"] == float(benchmark("amateur-90").expected(lie, feet))


def test_without_a_name_every_benchmark_answers() -> None:
    frame = table("--at", "sand 15")
    assert frame["benchmark"].tolist() == [*BENCHMARK_NAMES, *WOMEN_NAMES]
    assert frame["status"].tolist() == ["published", "derived", *["uncertain"] * 5]


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("place", "keys"),
    [
        ("green 60", "broadie2014"),
        ("green 75", "broadie2011+broadie2014"),
        ("green 120", "broadie2011+broadie2014"),
        ("fairway 5", "broadie2012+broadie2014"),
        ("fringe 15 yd", "broadie2012+broadie2014"),
        ("tee 60", "broadie2012"),
    ],
)
def test_a_value_names_the_sources_it_rests_on(place: str, keys: str) -> None:
    assert table("tour", "--at", place)["source"].tolist() == [keys]


def test_the_status_stands_beside_the_number() -> None:
    assert "extrapolated" in ask("tour", "--at", "fairway 5").stdout
    assert "uncertain" in ask("amateur-100", "--at", "sand 20").stdout


@pytest.mark.repeats
@pytest.mark.parametrize("call", [["women-bogey"], ["women-bogey", "--at", "fairway 30"], []])
def test_what_is_no_womens_curve_is_said_beside_the_numbers(call: list[str]) -> None:
    shown = ask(*call).stdout
    assert "it is the curve of amateur-90 itself, marked uncertain" in shown
    assert "No women's curve is claimed there" in shown
    assert "women's curve" not in ask("amateur-90", *call[1:]).stdout


def test_a_curve_with_its_sources() -> None:
    frame = table("scratch")
    assert list(frame.columns) == COLUMNS
    assert len(frame) == len(benchmark("scratch").knots)
    assert frame["source"].notna().all()


def test_the_list() -> None:
    rows = json.loads(ask("--format", "json").stdout)
    assert [row["benchmark"] for row in rows] == [*BENCHMARK_NAMES, *WOMEN_NAMES]
    for row in rows:
        assert row["published"] + row["derived"] + row["uncertain"] == row["knots"]
        assert row["fitted"] == row["extrapolated"] == 0


def test_an_own_curve_and_a_lie_it_lacks(tmp_path: Path) -> None:
    path = tmp_path / "team.csv"
    path.write_text(
        "lie,distance,unit,strokes,source\ngreen,3,ft,1.1,team\ngreen,9,ft,1.6,team\n",
        encoding="utf-8",
    )
    row = table(str(path), "--at", "green 9").iloc[0]
    assert row[["benchmark", "strokes", "source"]].tolist() == ["team.csv", 1.6, "team"]
    lacking = table(str(path), "--at", "rough 30").iloc[0]
    assert lacking["status"] == "no_benchmark"
    assert pd.isna(lacking["strokes"])
    path.write_text("lie\n", encoding="utf-8")
    with pytest.raises(DataError):
        ask(str(path))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (["amateur-95"], "Name one of tour"),
        (["tour", "--at", "trees 30"], "'trees' is not a lie"),
        (["tour", "--at", "fairway"], "a lie and a distance"),
        (["tour", "--at", "fairway -3"], "not a distance"),
        (["tour", "--at", "fairway 0"], "more than 0"),
        (["tour", "--at", "green 201"], "at most 200 ft"),
        (["tour", "--at", "fairway 701"], "at most 700 yd"),
        (["tour", "--at", "fairway 1,5"], "decimal point"),
    ],
)
def test_what_is_asked_wrongly_is_said(call: list[str], words: str) -> None:
    with pytest.raises(CallError, match=words):
        ask(*call)


def test_sources_lists_every_figure_with_its_work() -> None:
    result = CliRunner().invoke(sources, ["--format", "csv"])
    frame = pd.read_csv(io.StringIO(result.stdout), dtype=str, keep_default_na=False)
    assert {"value", "unit", "source", "authors", "year", "title", "where"} <= set(frame.columns)
    line = frame[(frame["source"] == "broadie2012") & (frame["condition"] == "rough 80 yd")]
    assert line["value"].tolist() == ["2.96"]
    shown = CliRunner().invoke(sources, []).stdout
    assert "Broadie M (2012)" in shown
