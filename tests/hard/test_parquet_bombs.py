"""Parquet files that hold more than they weigh: refused before they fill the memory."""

from __future__ import annotations

import resource
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.cards import parquet
from sgzone.cards.parquet import read_parquet
from sgzone.errors import DataError
from tests.hard.calls import call_apart

ROOM = 3_000_000_000  # bytes a process may take in the test of a true bomb


def table(rows: int, **more: pa.Array) -> pa.Table:
    """Return putts of one player, one hole a row."""
    plain = {"player": "Ada", "date": "2026-05-14", "lie": "green", "distance": "3"}
    columns = {name: pa.array([text] * rows) for name, text in plain.items()}
    return pa.table({**columns, "hole": list(range(rows)), "shot": [1] * rows, **more})


def why_not(path: Path) -> str:
    with pytest.raises(DataError) as error:
        read_parquet(path)
    return str(error.value)


@pytest.mark.long
def test_one_long_text_of_a_dictionary_in_every_row(tmp_path: Path) -> None:
    """A megabyte, 20,000 times: 20 GB of text in a file of a few kilobytes."""
    path = tmp_path / "bomb.parquet"
    note = pa.DictionaryArray.from_arrays(pa.array([0] * 20_000, pa.int32()), ["x" * 1_000_000])
    pq.write_table(table(20_000, note=note), path, compression="zstd")
    assert path.stat().st_size < 100_000
    done = call_apart(
        *("check", path.name, "--format", "json"),
        cwd=tmp_path,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM)),
    )
    (problem,) = done.json()
    assert done.code == 1
    assert "more than 1 GB when unpacked" in problem["wrong"]


def test_sizes_are_looked_at_before_anything_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "long.parquet"
    notes = pa.array([f"{n:01000}" for n in range(3000)])
    pq.write_table(table(3000, note=notes), path, use_dictionary=False)
    monkeypatch.setattr(parquet, "MAX_UNPACKED", 1_000_000)
    monkeypatch.setattr(parquet, "MOST_PACKED", 0)
    monkeypatch.setattr(parquet, "_text_size", lambda column: pytest.fail("it was read"))
    assert "more than 1 MB when unpacked" in why_not(path)


def test_sizes_that_are_lies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file's own sum says next to nothing; what is read is measured all the same."""
    path = tmp_path / "lie.parquet"
    notes = pa.array([f"{n:01000}" for n in range(3000)])
    pq.write_table(table(3000, note=notes), path, use_dictionary=False)
    true = pq.ParquetFile(path).metadata.row_group(0).total_byte_size
    data = path.read_bytes()
    assert data.count(varint(2 * true)) == 1
    path.write_bytes(data.replace(varint(2 * true), small(true)))
    assert pq.ParquetFile(path).metadata.row_group(0).total_byte_size < 1_000_000
    monkeypatch.setattr(parquet, "MAX_UNPACKED", 1_000_000)
    monkeypatch.setattr(parquet, "MOST_PACKED", 0)
    assert "more than 1 MB when unpacked" in why_not(path)


def varint(number: int) -> bytes:
    """Return a number as the footer of a Parquet file writes it."""
    out = bytearray()
    while number > 127:
        out.append(number & 127 | 128)
        number >>= 7
    return bytes([*out, number])


def small(true: int) -> bytes:
    """Return 1 in as many bytes as the true size takes."""
    length = len(varint(2 * true))
    return bytes([2 | 128, *[128] * (length - 2), 0])


def test_columns_in_columns_are_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parquet, "_text_size", lambda column: pytest.fail("it was read"))
    for number, note in enumerate(([["a"]], [{"a": "b"}], [{"a": {"b": [["c"]]}}])):
        path = tmp_path / f"{number}.parquet"
        pq.write_table(table(1, note=pa.array(note)), path)
        assert 'the column "note" holds' in why_not(path)


def test_names_that_stand_twice_or_hold_a_point(tmp_path: Path) -> None:
    path = tmp_path / "names.parquet"
    names = ["hole", "a", "a.b", "a"]
    pq.write_table(pa.Table.from_arrays([pa.array([text]) for text in "1xyz"], names=names), path)
    cells = read_parquet(path)
    assert cells.headers == names
    assert [column.to_pylist() for column in cells.columns] == [["1"], ["x"], ["y"], ["z"]]


def test_a_plain_file_reads_as_before(tmp_path: Path) -> None:
    path = tmp_path / "plain.parquet"
    coded = pa.array(["a", "b", None] * 50_000).dictionary_encode()
    plain = pa.array(["ä", None, ""] * 50_000)
    day = pa.array([0, 1, None] * 50_000, pa.date32())
    rows = table(150_000, club=coded, note=plain, course=day, large=plain.cast(pa.large_string()))
    pq.write_table(rows, path, row_group_size=40_000)
    cells = read_parquet(path)
    got = dict(zip(cells.headers, [column.to_pylist() for column in cells.columns], strict=True))
    assert got["club"] == ["a", "b", None] * 50_000
    assert got["note"] == got["large"] == ["ä", None, ""] * 50_000
    assert got["course"][:3] == ["1970-01-01", "1970-01-02", None]
    assert got["hole"][-1] == "149999"
