"""The verbs `compare` and `trend` on the demo season."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner, Result

from sgzone.errors import CallError
from sgzone.resources import data_path
from sgzone.review.beside.groups import COMPARE_COLUMNS
from sgzone.review.beside.pairs import FACTS
from sgzone.review.trend import BEFORE_AFTER_COLUMNS, TREND_COLUMNS
from sgzone.season.store import open_store
from sgzone.verbs.compare import compare, trend

SHOWN = [*COMPARE_COLUMNS[: -len(FACTS)], "note"]


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = Path(tmp_path_factory.mktemp("compare")) / "s.duckdb"
    with open_store(path) as store:
        store.load(data_path("demo/season.csv"))
        store.load(data_path("demo/bag.csv"))
    return path


def _run(verb, season: Path, *args: str) -> Result:
    return CliRunner().invoke(verb, ["--db", str(season), *args])


def _csv(verb, season: Path, *args: str) -> pd.DataFrame:
    result = _run(verb, season, *args, "--format", "csv")
    assert result.exit_code == 0, result.output
    return pd.read_csv(StringIO(result.stdout))


def test_clubs_at_a_number(season):
    got = _csv(compare, season, "--by", "club,swing", "--at", "90")
    assert got.columns.tolist() == SHOWN
    assert (got["at_yd"] == 90).all()
    one = _csv(compare, season, "--by", "club,swing", "--at", "90", "--groups", "58 full,54 full")
    assert one[["first", "second"]].to_numpy().tolist() == [["58 full", "54 full"]]


def test_the_planted_gap_of_the_demo_points_the_right_way(season):
    """Part swings are planted short and scattered: full swings gain more from the same steps."""
    got = _csv(compare, season, "--by", "swing", "--groups", "full,three-quarter").iloc[0]
    assert got["p_better"] < 0.2
    assert got["depth_sd_first_ft"] < got["depth_sd_second_ft"]
    assert got["spread_p"] < 0.05


@pytest.mark.parametrize(
    "by", ["wind", "turf", "green_firmness", "event", "bounce", "month", "measured"]
)
def test_conditions(season, by):
    got = _csv(compare, season, "--by", by)
    assert len(got) >= 1
    assert got["p_better"].between(0, 1).all()


def test_factors_nobody_wrote_down_are_an_empty_table(season):
    assert len(_csv(compare, season, "--by", "face")) == 0


def test_before_and_after_a_date(season):
    got = _csv(compare, season, "--split-date", "2026-07-20", "--part", "putt_0_10")
    assert got.loc[0, ["first", "second"]].tolist() == ["before 2026-07-20", "from 2026-07-20"]


def test_tables_say_units_and_metric_turns_them(season):
    text = _run(compare, season, "--by", "swing", "--at", "90").stdout
    for words in ("at, yd", "strokes", " ft", "shots each", "Test blocks are not"):
        assert words in text
    metric = _run(compare, season, "--by", "swing", "--at", "90", "--units", "metric").stdout
    assert "at, m" in metric
    assert " ft" not in metric.replace("shift", "")


def test_a_call_without_a_column_says_what_to_do(season):
    for args in ([], ["--by", "lie"], ["--by", "club", "--lie", "grass"]):
        assert isinstance(_run(compare, season, *args).exception, CallError)
    assert _run(compare, season, "--by", "club", "--at", "0").exit_code == 2


def test_trend(season):
    got = _csv(trend, season)
    assert got.columns.tolist() == list(TREND_COLUMNS)
    assert got.groupby("part").size().eq(40).all()
    text = _run(trend, season).stdout
    for words in ("wedge 50-100 yd", "strokes per", "luck alone"):
        assert words in text


def test_trend_before_and_after(season):
    got = _csv(trend, season, "--split-date", "2026-07-20")
    assert got.columns.tolist() == list(BEFORE_AFTER_COLUMNS)
    assert "a date is not a cause" in _run(trend, season, "--split-date", "2026-07-20").stdout


def test_empty_selections_are_headers(season):
    late = ("--since", "2030-01-01")
    assert _csv(compare, season, "--by", "club", *late).columns.tolist() == SHOWN
    assert _csv(trend, season, *late).columns.tolist() == list(TREND_COLUMNS)
    assert _run(trend, season, *late).exit_code == 0
    assert _run(compare, season, "--by", "club", *late).exit_code == 0
    rows = json.loads(_run(trend, season, *late, "--format", "json").stdout)
    assert rows == []
