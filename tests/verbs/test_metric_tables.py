"""`--units metric` leaves no yard and no foot in the table of any verb; a missing cell is empty."""

from __future__ import annotations

import io
import re
import shlex

import pandas as pd
import pytest
from click.testing import CliRunner

from sgzone.cli import sgzone
from sgzone.resources import data_path
from sgzone.season.store import open_store
from sgzone.units import M_PER_YD

CARDS = ("season.csv", "practice_log.csv", "test_blocks.csv", "bag.csv")
NOT_METRIC = re.compile(r"\b(yd|yds|yards?|ft|feet|foot)\b", re.IGNORECASE)
ECHO = re.compile(r"(\b\d[\d.]* m) \(\d[\d.]* yd\)")
"""The number that was asked for, said in both units."""
TABLES = (
    "summary",
    "counts",
    "gained --since 2026-09-01",
    "why",
    "compare --by club --at 90",
    "trend",
    "clubs",
    "clubs --detail cover",
    "number 97",
    "practice --hours 5 --week",
    "practice --blocks",
)
DETAILS = (
    "summary --by band,lie --no-measuring",
    *(
        f"why --detail {detail}"
        for detail in ("misses", "short-sided", "carry", "putting", "ratio")
    ),
    "compare --by turf",
    "trend --split-date 2026-07-01",
    *(f"clubs --detail {d}" for d in ("consistency", "questions", "changes")),
    "number --from 80 --to 90",
    "practice --hours 5 --detail",
    'practice --what-if "wedge_50_100 long_short_spread -20%"',
)
NO_LENGTHS = ("field", "clubs --detail bag", "clubs --detail wear")
"""They take no ``--units``."""


@pytest.fixture(scope="module")
def db(tmp_path_factory):
    path = tmp_path_factory.mktemp("season") / "s.duckdb"
    with open_store(path) as store:
        for name in CARDS:
            store.load(data_path(f"demo/{name}"))
    return path


def said(db, call):
    verb, *rest = shlex.split(call)
    result = CliRunner().invoke(sgzone, [verb, "--db", str(db), *rest])
    assert result.exception is None, result.output
    return result.stdout


@pytest.mark.repeats
@pytest.mark.parametrize(
    "call", [*TABLES, *(pytest.param(call, marks=pytest.mark.long) for call in DETAILS)]
)
def test_no_yard_and_no_foot_is_left_in_a_metric_table(db, call):
    table = said(db, f"{call} --units metric")
    assert len(table.splitlines()) > 1
    assert not NOT_METRIC.search(ECHO.sub(r"\1", table))


@pytest.mark.parametrize("call", NO_LENGTHS)
def test_where_no_units_are_asked_for_there_is_no_length(db, call):
    table = said(db, call)
    assert len(table.splitlines()) > 1
    assert not NOT_METRIC.search(table)


@pytest.mark.repeats
@pytest.mark.parametrize(
    "call", ["summary --no-measuring", "counts", "trend", "gained --since 2026-09-01"]
)
def test_parts_and_bands_keep_their_names_in_data(db, call):
    data = f"{call} --format csv"
    assert said(db, f"{data} --units metric") == said(db, data)


def test_the_interval_of_a_carry_is_in_the_units_of_the_carry(db):
    data = pd.read_csv(io.StringIO(said(db, "clubs --format csv")))
    row = data.iloc[-1]
    ends = [f"{row[name] * M_PER_YD:.0f}" for name in ("carry_yd", "low", "high")]
    assert ends[1] != f"{row['low']:.0f}"
    line = next(
        line
        for line in said(db, "clubs --units metric").splitlines()
        if line.startswith(f"{row['club']} ") and f" {row['swing']} " in line
    )
    assert re.search(rf" {ends[0]}  +{ends[1]} to {ends[2]} ", line)


def test_the_spread_of_a_carry_is_in_the_units_of_the_carry(db):
    data = pd.read_csv(io.StringIO(said(db, "clubs --detail consistency --format csv")))
    row = data[(data["club"] == "46") & (data["swing"] == "full")].iloc[0]
    line = next(
        line
        for line in said(db, "clubs --detail consistency --units metric --wide").splitlines()
        if line.startswith("46 ") and " full " in line
    )
    assert f" {row['carry_yd_sd'] * M_PER_YD:.1f} " in line


def test_a_squad_of_one_has_a_row_and_a_reason(db):
    row = next(line for line in said(db, "field").splitlines() if "no round shared" in line)
    assert "<NA>" not in row
