"""Strokes in Parquet files that cannot be strokes: told with a file, a place and a value."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.errors import DataError
from sgzone.review.where.summary import summarise
from sgzone.scoring.parquet import gained_reader
from sgzone.season.parquet import ParquetStrokes
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from tests.hard.calls import call
from tests.season.cardfiles import card_text, write

ROWS = ("1,1,fairway,100", "1,2,sand,20", "1,3,green,8", "2,1,rough,60", "2,2,green,2,,conceded")
DAY = 20_000  # days since 1970


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> pa.Table:
    folder = tmp_path_factory.mktemp("good")
    with open_store() as store:
        store.load(write(folder, card_text(*ROWS)))
        store.write_strokes(folder / "a.parquet")
    return pq.read_table(folder / "a.parquet")


def changed(good: pa.Table, name: str, column: pa.Array) -> pa.Table:
    return good.set_column(good.column_names.index(name), name, column)


def with_cell(good: pa.Table, name: str, value: Any) -> pa.Table:
    """Return the strokes with another value in the third one."""
    cells = good[name].to_pylist()
    cells[2] = value
    return changed(good, name, pa.array(cells, good.schema.field(name).type))


def day(number: int, good: pa.Table) -> pa.Array:
    cells = [number if place == 2 else DAY for place in range(len(good))]
    return pa.array(cells, pa.int32()).cast(pa.date32())


CELLS = [
    *[(name, None) for name in ("player", "date", "round", "hole", "shot", "played", "lie")],
    *[(name, None) for name in ("distance_ft", "penalty", "entered")],
    *[("player", name) for name in ("", "  ", "x" * 81)],
    *[("round", number) for number in (0, -1, 10)],
    *[("hole", number) for number in (0, -1, 37, 2**31 - 1)],
    *[("shot", number) for number in (0, -1, 31)],
    *[("penalty", number) for number in (-1, 4)],
    *[("lie", lie) for lie in ("", "moon", "holed")],
    *[("distance_ft", d) for d in (0.0, -3.0, float("nan"), float("inf"), 1e308, 200.1)],
    *[("end_distance_ft", d) for d in (-3.0, float("nan"), float("-inf"), 2100.1)],
    ("end_lie", "moon"),
    ("date", date(1, 1, 1)),
    ("date", date(1899, 12, 31)),
]


@pytest.mark.repeats
@pytest.mark.parametrize(("name", "value"), CELLS, ids=str)
@pytest.mark.parametrize("verb", [("gained", "--format", "csv"), ("summary",)], ids=str)
def test_a_stroke_that_is_none(
    good: pa.Table, tmp_path: Path, verb: tuple[str, ...], name: str, value: Any
) -> None:
    pq.write_table(with_cell(good, name, value), tmp_path / "a.parquet")
    done = call(*verb, "--in", tmp_path)
    assert (done.code, done.out) == (1, "")
    assert f"In 1 stroke {name} is " in done.err
    assert f"in stroke 3 of {tmp_path}/a.parquet" in done.err
    assert "so nothing is valued" in done.err


@pytest.mark.parametrize("number", [-719_530, -800_000, 3_000_000, 2**31 - 1, -(2**31)])
def test_days_that_no_calendar_of_ours_has(good: pa.Table, tmp_path: Path, number: int) -> None:
    pq.write_table(changed(good, "date", day(number, good)), tmp_path / "a.parquet")
    for verb in ("gained", "summary"):
        done = call(verb, "--in", tmp_path)
        assert (done.code, done.out) == (1, "")
        assert "date is not a day from 1900-01-01" in done.err


@pytest.mark.parametrize(
    ("column", "values", "said"),
    [
        ("player", [["Ada"]] * 5, "VARCHAR[] in the column player"),
        ("player", [{"name": "Ada"}] * 5, "STRUCT"),
        ("player", [b"Ada\xff"] * 5, "BLOB"),
        ("player", [None] * 5, "In 5 strokes player"),
        ("club", [["52"]] * 5, "VARCHAR[] in the column club"),
        ("par", [{"par": 4}] * 5, "in the column par"),
        ("shot", [1.5, 2.5, 3.0, 1.0, 2.0], "In 2 strokes shot is not a whole number"),
        ("shot", [float("nan")] * 5, "In 5 strokes shot"),
        ("shot", [2**62] * 5, "cannot be read"),
        ("date", [20_000] * 5, "cannot be read"),
        ("date", ["yesterday"] * 5, "cannot be read"),
        ("played", ["maybe"] * 5, "cannot be read"),
        ("distance_ft", ["far"] * 5, "cannot be read"),
    ],
)
def test_columns_of_another_kind(
    good: pa.Table, tmp_path: Path, column: str, values: list[Any], said: str
) -> None:
    pq.write_table(changed(good, column, pa.array(values)), tmp_path / "a.parquet")
    for verb in (("gained",), ("summary", "--by", "club,par,course")):
        done = call(*verb, "--in", tmp_path)
        assert (done.code, done.out) == (1, "")
        assert said in done.err


@pytest.mark.parametrize("column", ["player", "lie", "end_lie", "round_event", "club"])
def test_text_that_is_no_utf_8(good: pa.Table, tmp_path: Path, column: str) -> None:
    stray = pa.array([b"Ada\xff"] * 5, pa.binary()).buffers()
    text = pa.Array.from_buffers(pa.string(), 5, stray)
    pq.write_table(changed(good, column, text), tmp_path / "a.parquet")
    done = call("summary", "--in", tmp_path, "--by", "club", "--event", "practice")
    assert done.code in (0, 1)  # what the answer does not need is not read
    assert "cannot be read" in call("summary", "--in", tmp_path, "--by", "club").err or (
        column == "round_event"
    )


def test_whole_numbers_written_as_others_are_whole(good: pa.Table, tmp_path: Path) -> None:
    """As pandas writes a column that lacks a value somewhere."""
    as_float = changed(good, "shot", good["shot"].cast(pa.float64()))
    par = pa.array([4.0, float("nan"), None, 4.0, 3.0])
    pq.write_table(changed(as_float, "par", par), tmp_path / "a.parquet")
    done = call("summary", "--in", tmp_path, "--by", "par")
    assert done.code == 0


def test_one_stroke_in_two_files_counts_for_nobody(good: pa.Table, tmp_path: Path) -> None:
    pq.write_table(good, tmp_path / "a.parquet")
    pq.write_table(good.slice(3, 1), tmp_path / "b.parquet")
    for verb in (("gained", "--format", "csv"), ("summary",)):
        done = call(*verb, "--in", tmp_path)
        assert (done.code, done.out) == (1, "")
        assert "have strokes twice in 1 round (first: Ada, 2026-05-14, round 1)" in done.err


def test_every_shot_of_every_hole_is_told_apart(good: pa.Table) -> None:
    """No two places of a round share a bit, up to the last shot of the last hole."""
    row = good.slice(0, 1).to_pylist()[0]
    rows = [row | {"hole": hole, "shot": shot} for hole in range(1, 37) for shot in range(1, 31)]
    whole = pa.Table.from_pylist(rows, good.schema)
    assert told(whole) is None
    for place in (0, 29, 30, 4 * 30 - 1, 4 * 30, 36 * 30 - 1):
        assert "twice in 1 round" in str(told(pa.concat_tables([whole, whole.slice(place, 1)])))


def told(strokes: pa.Table) -> DataError | None:
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        pq.write_table(strokes, f"{folder}/a.parquet")
        with ParquetStrokes([f"{folder}/a.parquet"]) as parquet:
            try:
                summarise(parquet)
            except DataError as wrong:
                return wrong
    return None


def test_only_what_is_asked_for_is_looked_at(good: pa.Table, tmp_path: Path) -> None:
    """One player's question reads that player's strokes; the others' faults are not theirs."""
    bad = with_cell(good, "penalty", 9)
    names = ["Bea"] * len(bad)
    pq.write_table(good, tmp_path / "a.parquet")
    pq.write_table(changed(bad, "player", pa.array(names)), tmp_path / "b.parquet")
    with ParquetStrokes([str(tmp_path / "a.parquet"), str(tmp_path / "b.parquet")]) as parquet:
        assert gained_reader(parquet, selection=Selection("Ada")).read_all().num_rows
        with pytest.raises(DataError, match=r"penalty .* of .*/b\.parquet"):
            gained_reader(parquet)
