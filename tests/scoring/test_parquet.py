"""Strokes valued out of Parquet files are valued as the season file values them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import duckdb
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.errors import CallError, DataError
from sgzone.review.where.summary import summarise
from sgzone.scoring import round_sums, strokes_gained
from sgzone.scoring.parquet import (
    gained_reader,
    parquet_gained_query,
    parquet_sums_query,
    sums_reader,
)
from sgzone.season.parquet import BATCH_ROWS, ParquetStrokes
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store
from tests.scoring.parquetfiles import NO_ROUGH, full_store, in_order


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with full_store(tmp_path_factory.mktemp("cards")) as store:
        yield store


@pytest.fixture(scope="module")
def file(store: Store, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("strokes") / "a.parquet"
    store.write_strokes(path)
    return path


@pytest.fixture
def parquet(file: Path) -> Iterator[ParquetStrokes]:
    with ParquetStrokes([str(file)]) as parquet:
        yield parquet


@pytest.mark.parametrize("name", ["tour", "amateur-90"])
def test_every_stroke_has_the_same_value(store: Store, parquet: ParquetStrokes, name: str) -> None:
    got = in_order(gained_reader(parquet, name).read_pandas())
    pd.testing.assert_frame_equal(got, strokes_gained(store, name), check_exact=True)


def test_a_lie_the_benchmark_lacks_stays_without_a_value(
    store: Store, parquet: ParquetStrokes, tmp_path: Path
) -> None:
    own = tmp_path / "own.csv"
    own.write_text(NO_ROUGH)
    got = in_order(gained_reader(parquet, str(own)).read_pandas())
    assert (got["status"] == "no_benchmark").sum() > 100
    pd.testing.assert_frame_equal(got, strokes_gained(store, str(own)), check_exact=True)


@pytest.mark.parametrize(
    "selection",
    [
        Selection(player="Worked Example"),
        Selection(since=date(2026, 6, 1), until=date(2026, 7, 31)),
        Selection(event="competition"),
        Selection(player="Nobody"),
    ],
    ids=str,
)
def test_the_same_rounds_are_chosen(
    store: Store, parquet: ParquetStrokes, selection: Selection
) -> None:
    got = in_order(gained_reader(parquet, "tour", selection).read_pandas())
    wanted = strokes_gained(store, "tour", selection)
    assert len(wanted) < len(strokes_gained(store, "tour", EVERYTHING))
    pd.testing.assert_frame_equal(got, wanted, check_exact=True, check_dtype=len(wanted) > 0)


def test_sums_per_round_are_the_same(store: Store, parquet: ParquetStrokes) -> None:
    by = ["part", "month"]
    got = in_order(sums_reader(parquet, by=by).read_pandas().assign(hole=0, shot=0))
    wanted = round_sums(store, by=by)
    got, wanted = (f.sort_values([*by, "player", "n", "total"]) for f in (got, wanted))
    for column in (*by, "player", "n", "total", "squares", "unscored", "unvalued"):
        assert got[column].tolist() == wanted[column].tolist()


def test_an_unknown_column_is_refused(parquet: ParquetStrokes) -> None:
    with pytest.raises(CallError, match='no column "1; DROP'):
        sums_reader(parquet, by=["1; DROP TABLE strokes"])


@pytest.mark.parametrize("by", [("part", "total"), ("lie", "event"), ()])
def test_two_players_are_summed_up_alike(
    store: Store, parquet: ParquetStrokes, by: tuple[str, ...]
) -> None:
    assert parquet.players() == store.players()
    assert len(parquet.players()) > 1
    pd.testing.assert_frame_equal(
        summarise(parquet, "scratch", by=by), summarise(store, "scratch", by=by), check_exact=True
    )


def test_a_column_that_the_files_lack_is_named(file: Path, tmp_path: Path) -> None:
    without = tmp_path / "a.parquet"
    pq.write_table(pq.read_table(file).drop_columns(["club"]), without)
    with ParquetStrokes([str(without)]) as parquet:
        with pytest.raises(DataError, match="no column club"):
            sums_reader(parquet, by=["club"])
        assert len(summarise(parquet, by=("part",)))


@pytest.fixture(scope="module")
def large(file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Write some 400,000 strokes; decompressed they take 60 MB."""
    path = tmp_path_factory.mktemp("large") / "a.parquet"
    once = pq.read_table(file)
    place = once.column_names.index("player")
    copies = []
    for copy in range(200):  # of other players: one stroke twice is refused
        names = pa.array([f"{name} {copy}" for name in once["player"].to_pylist()])
        copies.append(once.set_column(place, "player", names))
    pq.write_table(pa.concat_tables(copies), path, row_group_size=BATCH_ROWS)
    assert pq.read_metadata(path).num_rows * once.nbytes / len(once) > 50e6
    return path


def test_little_memory_is_enough_for_many_strokes(large: Path, store: Store) -> None:
    with ParquetStrokes([str(large)], memory_limit="32MB") as parquet:
        rows = sum(batch.num_rows for batch in gained_reader(parquet))
    assert rows == 200 * len(strokes_gained(store))


def test_the_memory_limit_is_one(large: Path) -> None:
    with (
        pytest.raises(DataError, match="5MB of memory is too little"),
        ParquetStrokes([str(large)], memory_limit="5MB") as parquet,
    ):
        gained_reader(parquet).read_all()


def test_a_damaged_file_is_told_before_the_first_stroke_and_where_rows_stream(large: Path) -> None:
    damaged = large.with_name("b.parquet")
    content = bytearray(large.read_bytes())
    content[len(content) // 4 : len(content) // 2] = b"\xaa" * (
        len(content) // 2 - len(content) // 4
    )
    damaged.write_bytes(content)
    with ParquetStrokes([str(large), str(damaged)], memory_limit="64MB") as parquet:
        with pytest.raises(DataError, match="cannot be read"):
            gained_reader(parquet)
        # the engine reads ahead: it meets the damage when the reader is made, or batches later
        with pytest.raises(DataError, match="cannot be read"):
            parquet.reader("SELECT * FROM strokes", {}).read_all()


def test_damage_met_while_rows_stream_is_told_too(large: Path) -> None:
    def batches() -> Iterator[pa.RecordBatch]:
        yield pa.RecordBatch.from_pydict({"player": ["A"]})
        raise duckdb.IOException("the second page is damaged")

    with ParquetStrokes([str(large)]) as parquet:
        schema = pa.schema({"player": pa.string()})
        told = parquet._rows(pa.RecordBatchReader.from_batches(schema, batches()))
        assert next(told).num_rows == 1
        with pytest.raises(DataError, match="cannot be read"):
            next(told)


def test_the_text_keeps_to_what_both_engines_run() -> None:
    """Spark itself is asked by ``make spark``; this one answers where there is none."""
    text = parquet_gained_query() + parquet_sums_query(["part", "month"], "SUM")
    words = set(re.findall(r"[A-Z_]{2,}", re.sub(r"--.*", "", text)))
    both = {
        *("WITH", "AS", "SELECT", "FROM", "WHERE", "LEFT", "JOIN", "ON", "AND", "OR", "IS", "NOT"),
        *("NULL", "CASE", "WHEN", "THEN", "ELSE", "END", "CAST", "FLOOR", "INTEGER", "STRING"),
        *("COUNT", "SUM", "SUBSTRING", "GROUP", "BY", "ALL"),
    }
    assert words <= both
    assert re.search(r"[a-z_]+\(", re.sub(r"--.*", "", text)) is None  # functions in capitals
    assert "[" not in text
    assert re.findall(r"CAST\((?!FLOOR|date)", text) == []
