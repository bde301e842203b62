"""Strokes as Parquet: what is written, and what may be read."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.errors import CallError, DataError
from sgzone.season.parquet import STROKE_COLUMNS, ParquetStrokes
from sgzone.season.store import open_store
from sgzone.season.strokefiles import parquet_files
from tests.season.cardfiles import card_text, write

# in from 160 yd, out of the zone again, in again; a second hole never leaves it
ROWS = (
    "1,1,fairway,160",
    "1,2,sand,100,1",
    "1,3,rough,160",
    "1,4,green,20",
    "2,1,fairway,100",
    "2,2,green,2,,conceded",
)


@pytest.fixture
def strokes(tmp_path: Path) -> Path:
    target = tmp_path / "strokes" / "a.parquet"
    with open_store() as store:
        store.load(write(tmp_path, card_text(*ROWS)))
        assert store.write_strokes(target) == 6
    return target


def test_each_row_carries_its_end_and_whether_the_hole_was_in_the_zone(strokes: Path) -> None:
    table = pq.read_table(strokes).select(
        ["hole", "shot", "played", "end_lie", "end_distance_ft", "entered"]
    )
    assert [tuple(row.values()) for row in table.to_pylist()] == [
        (1, 1, True, "sand", 300.0, False),
        (1, 2, True, "rough", 480.0, False),
        (1, 3, True, "green", 20.0, True),
        (1, 4, True, "holed", 0.0, True),
        (2, 1, True, "green", 2.0, False),
        (2, 2, False, None, None, True),
    ]


def test_the_event_of_a_round_stands_on_all_its_rows(tmp_path: Path) -> None:
    header = "player,date,hole,shot,lie,distance,event"
    text = card_text("1,1,fairway,100,practice", "1,2,green,2,", header=header)
    with open_store() as store:
        store.load(write(tmp_path, text))
        store.write_strokes(tmp_path / "a.parquet")
    table = pq.read_table(tmp_path / "a.parquet")
    assert table["round_event"].to_pylist() == ["practice", "practice"]
    assert set(STROKE_COLUMNS) <= set(table.column_names)


def test_nothing_is_overwritten(strokes: Path) -> None:
    before = strokes.read_bytes()
    with open_store() as store, pytest.raises(DataError, match="exists already"):
        store.write_strokes(strokes)
    assert strokes.read_bytes() == before
    assert [path.name for path in strokes.parent.iterdir()] == ["a.parquet"]


def test_a_file_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with open_store() as store, pytest.raises(DataError, match="cannot be written"):
        store.write_strokes(tmp_path / "file" / "a.parquet")


def test_files_of_a_folder_a_pattern_or_one_by_one(strokes: Path) -> None:
    below = strokes.parent / "season=2027" / "b.parquet"
    below.parent.mkdir()
    below.write_bytes(strokes.read_bytes())
    (strokes.parent / "notes.txt").write_text("x")
    assert parquet_files(str(strokes.parent)) == [str(strokes), str(below)]
    assert parquet_files(f"{strokes.parent}/*.parquet") == [str(strokes)]
    assert parquet_files(str(strokes)) == [str(strokes)]
    with pytest.raises(CallError, match="no Parquet file"):
        parquet_files(f"{strokes.parent}/c*.parquet")
    with ParquetStrokes(parquet_files(str(strokes.parent))) as both:
        assert both.reader("SELECT count(*) FROM strokes", {}).read_all()[0].to_pylist() == [12]


def test_a_quote_in_a_name_is_only_a_quote(strokes: Path) -> None:
    odd = strokes.with_name("it's [1].parquet")
    strokes.rename(odd)
    with ParquetStrokes([str(odd)]) as there:
        assert there.reader("SELECT count(*) FROM strokes", {}).read_all()[0].to_pylist() == [6]


def test_no_other_file_can_be_reached(strokes: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.parquet"
    other.write_bytes(strokes.read_bytes())
    secret = write(tmp_path, "a\n1\n", "secret.csv")
    with ParquetStrokes([str(strokes)]) as there:
        for query in (
            f"SELECT * FROM '{other}'",
            f"SELECT * FROM read_csv('{secret}')",
            f"COPY (SELECT 1) TO '{tmp_path}/out.csv'",
            f"ATTACH '{tmp_path}/new.duckdb'",
            f"SET allowed_paths = ['{other}']",
            "SET enable_external_access = true",
            "INSTALL httpfs",
        ):
            with pytest.raises(Exception, match=r"disabled|locked|Permission"):
                there.reader(query, {})
    assert not (tmp_path / "out.csv").exists()
    assert not (tmp_path / "new.duckdb").exists()


@pytest.mark.parametrize("column", ["entered", "end_lie", "played"])
def test_a_card_is_no_file_of_strokes(strokes: Path, column: str) -> None:
    pq.write_table(pq.read_table(strokes).drop_columns([column]), strokes)
    with pytest.raises(DataError, match=f"no column {column}"):
        ParquetStrokes([str(strokes)])


def test_what_is_no_parquet_is_said(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="cannot be read"):
        ParquetStrokes([str(write(tmp_path, "player,date\n", "a.parquet"))])


def test_a_number_column_of_words_is_said(strokes: Path) -> None:
    table = pq.read_table(strokes)
    place = table.column_names.index("penalty")
    words = pa.array(["water"] * len(table))
    pq.write_table(table.set_column(place, "penalty", words), strokes)
    with ParquetStrokes([str(strokes)]) as there, pytest.raises(DataError, match="cannot be read"):
        there.reader("SELECT sum(penalty) FROM strokes", {}).read_all()
