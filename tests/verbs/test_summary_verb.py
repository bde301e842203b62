"""The verbs `summary` and `counts`: clean data out, messages aside, nothing chosen is no error."""

from __future__ import annotations

import io
import json

import pandas as pd
import pytest
from click.testing import CliRunner

from sgzone.resources import data_path
from sgzone.review.where.counts import COUNT_COLUMNS
from sgzone.review.where.counts import FACTS as COUNT_FACTS
from sgzone.review.where.summary import FACTS, VALUE_COLUMNS, summarise
from sgzone.season.store import open_store
from sgzone.verbs.summary import counts, summary
from sgzone.words.digits import DAGGER


@pytest.fixture(scope="module")
def db(tmp_path_factory):
    path = tmp_path_factory.mktemp("season") / "s.duckdb"
    with open_store(path) as store:
        store.load(data_path("demo/season.csv"))
    return path


def ask(verb, db, *call):
    result = CliRunner().invoke(verb, ["--db", str(db), *call])
    if result.exception:
        raise result.exception
    return result


def test_csv_is_the_frame_unrounded_with_the_total_last(db):
    got = pd.read_csv(io.StringIO(ask(summary, db, "--format", "csv").stdout))
    with open_store(db, read_only=True, create=False) as store:
        wanted = summarise(store, by=("part", "total"))
    names = [name for name in VALUE_COLUMNS if name not in FACTS]
    assert got.columns.tolist() == ["part", *names, "note", "measuring"]
    assert got["part"].tolist() == wanted["part"].tolist()
    assert got["part"].iloc[-1] == "total"
    assert got["low"].to_numpy() == pytest.approx(wanted["low"], rel=1e-12, nan_ok=True)


def test_what_is_no_womens_curve_is_said_beside_the_table(db):
    got = ask(summary, db, "--benchmark", "women-bogey", "--no-measuring", "--format", "csv")
    assert "curve of amateur-90 itself" in got.stderr
    assert "curve" not in got.stdout
    assert "women" not in ask(summary, db, "--no-measuring").stderr
    call = ("--benchmark", "women-bogey", "--no-measuring")
    short, wide = (ask(summary, db, *call, *more).stdout for more in ((), ("--wide",)))
    for part, words in (("chip 0-30 yd", "uncertain"), ("approach 100-150 yd", "derived")):
        assert f"\n{part}{DAGGER} " in short
        assert words in next(line for line in wide.splitlines() if line.startswith(part))
    assert f"\n{DAGGER} Worked out, not published" in short
    assert DAGGER not in ask(summary, db, "--no-measuring").stdout  # the tour is published


def test_json_has_null_where_nothing_is_known(db):
    got = ask(summary, db, "--by", "part,event", "--no-measuring", "--format", "json").stdout
    rows = json.loads(got)
    few = [row for row in rows if row["verdict"] == "not enough shots"]
    assert few
    assert few[0]["low"] is None
    assert "measuring" not in rows[0]


def test_table_has_units_words_and_messages_aside(db):
    got = ask(summary, db)
    assert " a round to tour, over 40 rounds.\n" in got.stdout
    assert "best estimate" in got.stdout
    assert "\napproach 100-150 yd " in got.stdout
    assert "14 holes picked up: the real loss is larger." in got.stdout
    data = ask(summary, db, "--format", "csv")
    assert "picked up" not in data.stdout
    assert "14 holes picked up: the real loss is larger." in data.stderr


def test_an_order_of_cells_without_a_verdict_is_not_called_worst_first(db):
    def said(*days):
        call = ("--no-measuring", "--by", "part", *days)
        lead, _, *care = ask(summary, db, *call).stdout.split("\n\n")
        return lead, " ".join(care)

    (whole, care), (few, none) = said(), said("--since", "2026-10-20")
    assert whole.startswith("Strokes a round of 18 holes against tour: + gains, - loses, worst")
    assert care.startswith("Ranges: 8 in 10.")
    assert "too early: the order is mostly luck" in few
    assert "worst" not in few
    assert "Ranges" not in none


@pytest.mark.parametrize("verb", [summary, counts])
def test_days_without_a_round_get_a_header_only(db, verb):
    got = ask(verb, db, "--since", "2031-01-01", "--format", "csv")
    assert len(got.stdout.splitlines()) == 1
    assert "No round of these days" in got.stderr


def test_counts_in_csv_and_table(db):
    got = pd.read_csv(io.StringIO(ask(counts, db, "--format", "csv").stdout))
    names = [name for name in COUNT_COLUMNS if name not in COUNT_FACTS]
    assert got.columns.tolist() == [*names, "note"]
    shares = got[got["unit"] == "share"]
    assert shares["value"].between(0, 1).all()
    assert (got["low"] <= got["value"]).all()
    assert (got["value"] <= got["high"]).all()
    table = ask(counts, db, "--units", "metric").stdout
    assert " m " in table
    assert "%" in table


@pytest.mark.repeats
@pytest.mark.parametrize("by", ["part", "part,total", "total", "player,total", "player,part,total"])
def test_too_many_strokes_are_not_rerun_and_that_is_said(db, by, monkeypatch):
    with open_store(db, read_only=True, create=False) as store:
        shots = int(summarise(store, by=("total",))["shots"].iloc[0])
    monkeypatch.setattr("sgzone.review.where.measuring.MOST_STROKES", shots)
    assert "measuring" in ask(summary, db, "--by", by, "--format", "csv").stdout
    monkeypatch.setattr("sgzone.review.where.measuring.MOST_STROKES", shots - 1)
    got = ask(summary, db, "--by", by, "--format", "csv")
    assert "measuring" not in got.stdout
    assert f"{shots} strokes: verdicts were not rerun" in got.stderr
