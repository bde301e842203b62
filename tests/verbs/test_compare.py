"""The verbs `compare` and `trend` on the demo season."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sgzone.errors import CallError
from sgzone.resources import data_path
from sgzone.review.beside.groups import COMPARE_COLUMNS
from sgzone.review.beside.pairs import FACTS
from sgzone.review.trend import BEFORE_AFTER_COLUMNS, TREND_COLUMNS
from sgzone.season.store import open_store
from sgzone.verbs.compare import compare, trend
from tests.verbs.runner import asked, csv_of

SHOWN = [*COMPARE_COLUMNS[: -len(FACTS)], "note"]


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = Path(tmp_path_factory.mktemp("compare")) / "s.duckdb"
    with open_store(path) as store:
        store.load(data_path("demo/season.csv"))
        store.load(data_path("demo/bag.csv"))
    return path


def test_clubs_at_a_number(season):
    got = csv_of(compare, season, "--by", "club,swing", "--at", "90")
    assert got.columns.tolist() == SHOWN
    assert (got["at_yd"] == 90).all()
    one = csv_of(compare, season, "--by", "club,swing", "--at", "90", "--groups", "58 full,54 full")
    assert one[["first", "second"]].to_numpy().tolist() == [["58 full", "54 full"]]


def test_the_planted_gap_of_the_demo_points_the_right_way(season):
    """Part swings are planted short and scattered: full swings gain more from the same steps."""
    got = csv_of(compare, season, "--by", "swing", "--groups", "full,three-quarter").iloc[0]
    assert got["p_better"] < 0.2
    assert got["depth_sd_first_ft"] < got["depth_sd_second_ft"]
    assert got["spread_p"] < 0.05


@pytest.mark.parametrize(
    "by", ["wind", "turf", "green_firmness", "event", "bounce", "month", "measured"]
)
def test_conditions(season, by):
    got = csv_of(compare, season, "--by", by)
    assert len(got) >= 1
    assert got["p_better"].between(0, 1).all()


def test_factors_nobody_wrote_down_are_an_empty_table(season):
    assert len(csv_of(compare, season, "--by", "face")) == 0


def test_before_and_after_a_date(season):
    got = csv_of(compare, season, "--split-date", "2026-07-20", "--part", "putt_0_10")
    assert got.loc[0, ["first", "second"]].tolist() == ["before 2026-07-20", "from 2026-07-20"]


def test_tables_say_units_and_metric_turns_them(season):
    text = asked(compare, season, "--by", "swing", "--at", "90").stdout
    for words in ("within 10 yd of 90 yd", "a shot", "shots with each", "Test blocks do not"):
        assert words in text
    wide = ("--by", "swing", "--at", "90", "--wide")
    yards = asked(compare, season, *wide).stdout
    assert "at, yd" in yards
    assert " ft" in yards
    wide = ("--by", "swing", "--at", "82", "--wide")
    metric = asked(compare, season, *wide, "--units", "metric").stdout
    assert "at, m" in metric
    assert "within 9 m of 82 m (90 yd)" in metric
    assert " ft" not in metric.replace("shift", "")


def test_a_call_without_a_column_says_what_to_do(season):
    for args in ([], ["--by", "lie"], ["--by", "club", "--lie", "grass"]):
        assert isinstance(asked(compare, season, *args).exception, CallError)
    assert asked(compare, season, "--by", "club", "--at", "0").exit_code == 2


def test_trend(season):
    got = csv_of(trend, season)
    assert got.columns.tolist() == list(TREND_COLUMNS)
    assert got.groupby("part").size().eq(40).all()
    text = asked(trend, season).stdout
    for words in (
        "wedge 50-100 yd",
        "second half",
        "by luck",
        "Strokes a round against tour: + gains",
    ):
        assert words in text
    assert text.startswith("No real change shown over the season.\nPutts 0-10 ft moved most: some ")
    assert "1.00 " not in text.replace("-1.00", "").replace("+1.00", "")  # no chance of 1.00


@pytest.mark.long
def test_trend_before_and_after(season):
    got = csv_of(trend, season, "--split-date", "2026-07-20")
    assert got.columns.tolist() == list(BEFORE_AFTER_COLUMNS)
    text = asked(trend, season, "--split-date", "2026-07-20").stdout
    assert text.startswith("No real change shown from 2026-07-20 on.\n")
    assert "a date is not a cause" in text


@pytest.mark.long
def test_empty_selections_are_headers(season):
    late = ("--since", "2030-01-01")
    assert csv_of(compare, season, "--by", "club", *late).columns.tolist() == SHOWN
    assert csv_of(trend, season, *late).columns.tolist() == list(TREND_COLUMNS)
    assert asked(trend, season, *late).exit_code == 0
    assert asked(compare, season, "--by", "club", *late).exit_code == 0
    rows = json.loads(asked(trend, season, *late, "--format", "json").stdout)
    assert rows == []
