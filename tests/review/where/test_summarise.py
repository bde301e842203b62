"""The summary of a season file against plain arithmetic on its strokes."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.stats import t as student_t

from sgzone.errors import CallError
from sgzone.resources import data_path
from sgzone.review.where.summary import VALUE_COLUMNS, summarise
from sgzone.scoring import scored
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from sgzone.words.notes import noted


@pytest.fixture(scope="module")
def store():
    with open_store() as store:
        store.load(data_path("demo/season.csv"))
        yield store


@pytest.fixture(scope="module")
def strokes(store):
    frame = scored(store)
    return frame[(frame["part"] != "outside") & (frame["status"] == "scored")]


def test_values_by_part_are_those_of_the_strokes(store, strokes):
    got = summarise(store).set_index("part")
    mean = strokes.groupby("part")["gained"].agg(["mean", "count"])
    assert (got["shots"] == mean["count"].reindex(got.index)).all()
    assert got["gained_per_shot"].to_numpy() == pytest.approx(mean["mean"].reindex(got.index))
    holes = store.rounds()["holes"].sum()
    per_round = strokes.groupby("part")["gained"].sum() / (holes / 18)
    assert got["gained_per_round"].to_numpy() == pytest.approx(per_round.reindex(got.index))


def test_interval_is_the_clustered_one(store, strokes):
    got = summarise(store, level=0.95).set_index("part").loc["wedge_50_100"]
    of = strokes[strokes["part"] == "wedge_50_100"]
    fit = sm.OLS(of["gained"], np.ones(len(of))).fit(
        cov_type="cluster", cov_kwds={"groups": of["round_key"]}
    )
    G = of["round_key"].nunique()
    half = student_t.ppf(0.975, G - 1) * np.sqrt(G / (G - 1)) * fit.bse.iloc[0]
    assert got["high"] - got["low"] == pytest.approx(2 * half)
    assert got["rounds"] == G


@pytest.mark.parametrize("column", ["band", "lie", "club", "swing", "course", "event", "month"])
def test_every_cut_adds_up_to_the_total(store, column):
    got = summarise(store, by=(column, "total"))
    assert got.columns.tolist() == [column, *VALUE_COLUMNS]
    cells, total = got.iloc[:-1], got.iloc[-1]
    assert total[column] == "total"
    assert cells["shots"].sum() == total["shots"]
    assert (cells["gained_per_shot"] * cells["shots"]).sum() == pytest.approx(
        total["gained_per_shot"] * total["shots"]
    )


def test_two_crossed(store, strokes):
    got = summarise(store, by=("lie", "event"))
    assert got.columns[:2].tolist() == ["lie", "event"]
    assert got["shots"].sum() == len(strokes)
    sand = got[(got["lie"] == "sand") & (got["event"] == "competition")].iloc[0]
    of = strokes[(strokes["lie"] == "sand") & (strokes["event"] == "competition")]
    holes = store.rounds().query("event == 'competition'")["holes"].sum()
    assert sand["gained_per_round"] == pytest.approx(of["gained"].sum() / (holes / 18))


def test_another_benchmark_moves_everything(store):
    tour, amateur = summarise(store), summarise(store, "amateur-90")
    total = [frame["gained_per_round"].sum() for frame in (tour, amateur)]
    assert total[1] > total[0] + 3


def test_what_a_benchmark_lacks_is_counted_apart_from_balls_without_an_end(store, tmp_path):
    own = tmp_path / "own.csv"
    own.write_text(
        "lie,distance,unit,strokes,source\n"
        "green,1,ft,1,mine\ngreen,60,ft,2.3,mine\n"
        "fairway,10,yd,2.2,mine\nfairway,200,yd,3.2,mine\n"
    )
    status = scored(store, str(own)).query("part != 'outside'")["status"].value_counts()
    assert status["unknown_end"] > 0
    assert status["no_benchmark"] > 100
    note = noted(summarise(store, str(own), by=("total",)), "summary")["note"].iloc[0]
    assert f"{status['unknown_end']} strokes skipped: finish not written down" in note
    assert f"{status['no_benchmark']} strokes skipped: the standard has no value there" in note


def test_an_unknown_column_is_refused_and_an_unknown_player_is_nobody(store):
    with pytest.raises(CallError, match="no column"):
        summarise(store, by=("colour",))
    got = summarise(store, selection=Selection(player="Nobody"), by=("part", "total"))
    assert got.columns.tolist() == ["part", *VALUE_COLUMNS]
    assert got.empty
