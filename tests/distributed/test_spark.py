"""Spark values every stroke as DuckDB does, and moves none of them to do so."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from click.testing import CliRunner, Result

from sgzone import distributed
from sgzone.benchmarks import benchmark
from sgzone.benchmarks.fit import fit_benchmark
from sgzone.benchmarks.outcomes import outcomes
from sgzone.benchmarks.saved import save
from sgzone.cli import sgzone
from sgzone.demo.simulate import write_cards
from sgzone.errors import CallError, DataError
from sgzone.scoring import round_sizes, round_sums, strokes_gained
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from tests.scoring.parquetfiles import NO_ROUGH, full_store, in_order

pytestmark = [
    pytest.mark.spark,
    pytest.mark.filterwarnings("ignore::FutureWarning:pyspark"),
    pytest.mark.filterwarnings("ignore::DeprecationWarning:pyspark"),
    pytest.mark.filterwarnings("ignore::ResourceWarning"),  # the gateway's own sockets
]

VALUES = ["expected_before", "expected_after", "gained"]
CLOSE = 1e-9


@pytest.fixture(scope="module")
def spark(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    pytest.importorskip("pyspark", reason="pyspark is not installed: make spark")
    from pyspark.sql import SparkSession

    options = {
        "spark.master": "local[2]",
        "spark.ui.enabled": "false",
        "spark.sql.shuffle.partitions": "2",
        "spark.driver.bindAddress": "127.0.0.1",
        "spark.driver.host": "127.0.0.1",
        "spark.sql.warehouse.dir": str(tmp_path_factory.mktemp("tables")),
    }
    session = SparkSession.builder.config(map=options).getOrCreate()
    session.sparkContext.setLogLevel("ERROR")
    yield session
    session.stop()


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with full_store(tmp_path_factory.mktemp("cards")) as store:
        yield store


@pytest.fixture(scope="module")
def folder(store: Store, tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("strokes")
    store.write_strokes(folder / "a.parquet")
    return str(folder)


def _rows(frame: Any) -> pd.DataFrame:
    return in_order(frame.toArrow().to_pandas())


def _assert_same(got: pd.DataFrame, wanted: pd.DataFrame) -> None:
    """Row by row: words and numbers of the card exactly, values to 1e-9."""
    plain = [name for name in wanted.columns if name not in VALUES]
    assert got.columns.tolist() == wanted.columns.tolist()
    pd.testing.assert_frame_equal(got[plain], wanted[plain], check_exact=True)
    pd.testing.assert_frame_equal(got[VALUES], wanted[VALUES], rtol=0, atol=CLOSE)


def _exchanges(frame: Any) -> list[str]:
    plan = frame._jdf.queryExecution().executedPlan().toString()
    return re.findall(r"(\w*Exchange) ", plan)


@pytest.mark.parametrize("name", ["tour", "amateur-90"])
def test_every_stroke_has_the_same_value(spark: Any, store: Store, folder: str, name: str) -> None:
    _assert_same(_rows(distributed.score(spark, folder, name)), strokes_gained(store, name))


def test_a_lie_the_benchmark_lacks_stays_without_a_value(
    spark: Any, store: Store, folder: str, tmp_path: Path
) -> None:
    own = tmp_path / "own.csv"
    own.write_text(NO_ROUGH)
    got = _rows(distributed.score(spark, spark.read.parquet(folder), str(own)))
    assert (got["status"] == "no_benchmark").sum() > 100
    _assert_same(got, strokes_gained(store, str(own)))


@pytest.mark.parametrize(
    "selection",
    [
        Selection(player="Worked Example"),
        Selection(since=date(2026, 6, 1), until=date(2026, 7, 31)),
        Selection(event="competition"),
    ],
    ids=str,
)
def test_the_same_rounds_are_chosen(
    spark: Any, store: Store, folder: str, selection: Selection
) -> None:
    wanted = strokes_gained(store, "tour", selection)
    assert 0 < len(wanted) < len(strokes_gained(store))
    _assert_same(_rows(distributed.score(spark, folder, "tour", selection)), wanted)


def test_scoring_moves_the_curve_and_no_stroke(spark: Any, folder: str) -> None:
    frame = distributed.score(spark, folder)
    plan = frame._jdf.queryExecution().executedPlan().toString()
    assert plan.count("BroadcastHashJoin") == 2
    assert set(_exchanges(frame)) == {"BroadcastExchange"}


def test_a_shuffle_would_be_seen(spark: Any, folder: str) -> None:
    """The check above can fail: one sort of the result, and strokes move."""
    assert "Exchange" in _exchanges(distributed.score(spark, folder).orderBy("gained"))


def test_the_sums_take_one_shuffle(spark: Any, folder: str) -> None:
    exchanges = _exchanges(distributed.round_sums(spark, folder, by=["part", "month"]))
    assert exchanges.count("Exchange") == 1
    assert set(exchanges) == {"Exchange", "BroadcastExchange"}


def test_the_sums_are_the_same(spark: Any, store: Store, folder: str) -> None:
    by = ["part", "club"]
    got = distributed.round_sums(spark, folder, by=by).toArrow().to_pandas()
    assert got.columns.tolist()[:5] == [*by, "player", "date", "round"]
    _same_sums(got, round_sums(store, by=by), by, store)


def _same_sums(got: pd.DataFrame, wanted: pd.DataFrame, by: list[str], store: Store) -> None:
    rounds = round_sizes(store)[["round_key", "date", "round"]]
    keys = [*by, "player", "date", "round"]
    wanted = wanted.merge(rounds, on="round_key").drop(columns="round_key")
    got["date"] = pd.to_datetime(got["date"]).astype(wanted["date"].dtype)
    got, wanted = (f.sort_values(keys, ignore_index=True) for f in (got, wanted[got.columns]))
    pd.testing.assert_frame_equal(got, wanted, rtol=0, atol=CLOSE)


def test_a_fitted_benchmark_is_found_in_a_season_file(
    spark: Any, folder: str, tmp_path: Path
) -> None:
    db = tmp_path / "s.duckdb"
    with full_store(tmp_path, db) as store:
        base = benchmark("tour")
        rows = outcomes(store, base)
        save(store, fit_benchmark("squad", base, rows), "tour", rows)
        wanted = strokes_gained(store, "squad")
        sums = round_sums(store, "squad", by=["part"])
        store.execute("CHECKPOINT")
    got = _rows(distributed.score(spark, folder, "squad", db=db))
    _assert_same(got, wanted)
    assert (got["gained"] - _against_tour(spark, folder)).abs().max() > 0.05
    frame = distributed.round_sums(spark, folder, "squad", by=["part"], db=str(db))
    total = frame.toArrow().to_pandas()["total"].sum()
    assert total == pytest.approx(sums["total"].sum(), abs=1e-6)
    with pytest.raises(CallError, match="A fitted one is kept in a season file"):
        distributed.score(spark, folder, "squad")


def _against_tour(spark: Any, folder: str) -> pd.Series:
    gained: pd.Series = _rows(distributed.score(spark, folder))["gained"]
    return gained


def test_what_cannot_be_valued_is_refused(spark: Any, folder: str) -> None:
    frame = spark.read.parquet(folder)
    with pytest.raises(DataError, match="no column end_lie, entered"):
        distributed.score(spark, frame.drop("end_lie", "entered"))
    with pytest.raises(DataError, match="no column club"):
        distributed.round_sums(spark, frame.drop("club"), by=["club"])
    with pytest.raises(CallError, match='no column "weather"'):
        distributed.round_sums(spark, frame, by=["weather"])


def test_nothing_is_left_in_the_session(spark: Any, folder: str) -> None:
    distributed.score(spark, folder).count()
    assert spark.catalog.listTables() == []


@pytest.mark.study
def test_a_million_simulated_strokes_agree(spark: Any, tmp_path: Path) -> None:
    write_cards(tmp_path / "card.parquet", 1_000_000, players=500)
    with open_store(tmp_path / "s.duckdb") as store:
        store.load(tmp_path / "card.parquet")
        assert store.write_strokes(tmp_path / "strokes" / "a.parquet") >= 1_000_000
        folder = str(tmp_path / "strokes")
        wanted = strokes_gained(store)
        assert len(wanted) > 900_000
        _assert_same(_rows(distributed.score(spark, folder)), wanted)
        sums = distributed.round_sums(spark, folder, by=["part"]).toArrow().to_pandas()
        _same_sums(sums, round_sums(store, by=["part"]), ["part"], store)


def test_the_verb_writes_the_same_rows(
    spark: Any, store: Store, folder: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Last: the verb ends its session, and with it the one of these tests."""
    out = tmp_path / "out"
    monkeypatch.chdir(tmp_path)
    done = _value_with_spark(folder, out)
    wanted = strokes_gained(store)
    assert f"{len(wanted)} strokes" in done.stderr
    _assert_same(in_order(pd.read_parquet(out)), wanted)
    with pytest.raises(DataError, match="Spark cannot value the strokes of"):
        _value_with_spark(str(tmp_path / "nowhere"), tmp_path / "none")
    assert [path.name for path in tmp_path.iterdir()] == ["out"]  # no folder of Spark's own


def _value_with_spark(source: str, out: Path) -> Result:
    call = ["gained", "--in", source, "--engine", "spark", "--out", str(out)]
    return CliRunner().invoke(sgzone, call, catch_exceptions=False)
