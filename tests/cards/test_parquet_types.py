"""Columns of a Parquet file: each type is read as what it says, or refused in a sentence."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from sgzone.errors import DataError, Problem
from sgzone.season.reading import find_problems, read_card

ROW = {"player": "Ada", "date": "2026-05-14", "hole": "1", "shot": "1", "lie": "green"}
ROW |= {"distance": "3", "result": "holed"}
INDEX = pa.array([0], pa.int32())
NIGHT = datetime(2026, 5, 13, 22, tzinfo=UTC)
OFFSETS = int(pa.__version__.split(".")[0]) > 17


def write(folder: Path, column: str, cell: pa.Array) -> Path:
    columns = {name: pa.array([value]) for name, value in ROW.items()} | {column: cell}
    pq.write_table(pa.table(columns), folder / "card.parquet")
    return folder / "card.parquet"


def errors(path: Path) -> list[Problem]:
    return [problem for problem in find_problems(path) if problem.severity == "error"]


def broken_text(large: bool = False) -> pa.Array:
    kind, width = (pa.large_string(), np.int64) if large else (pa.string(), np.int32)
    ends = pa.py_buffer(np.array([0, 3], width).tobytes())
    return pa.Array.from_buffers(kind, 1, [None, ends, pa.py_buffer(b"a\xff\xfe")])


@pytest.mark.parametrize(
    ("column", "cell", "value"),
    [
        ("date", pa.array([20587], pa.date32()), "2026-05-14"),
        ("date", pa.array([20587], pa.date32()).dictionary_encode(), "2026-05-14"),
        ("date", pa.array([20587 * 86_400_000], pa.date64()), "2026-05-14"),
        ("date", pa.array([datetime(2026, 5, 14)], pa.timestamp("s")), "2026-05-14"),
        ("date", pa.array([datetime(2026, 5, 14)], pa.timestamp("ns", "UTC")), "2026-05-14"),
        ("hole", pa.array([7], pa.uint8()), 7),
        ("hole", pa.array([7.0], pa.float64()), 7),
        ("hole", pa.array([Decimal("7.00")], pa.decimal128(10, 2)), 7),
        ("hole", pa.array([7]).dictionary_encode(), 7),
        ("distance_ft", pa.array(np.array([87.5], np.float16)), 87.5),
        ("distance_ft", pa.array([87.1], pa.float32()), 87.1),
        ("distance_ft", pa.array([Decimal("87.50")], pa.decimal256(50, 2)), 87.5),
        ("player", pa.array([b"Bo"], pa.binary()), "Bo"),
        ("player", pa.array([b"Bo"], pa.binary(2)), "Bo"),
        ("player", pa.array(["Bo"], pa.large_string()), "Bo"),
        ("penalty", pa.nulls(1), 0),
    ],
)
def test_read_as_what_it_says(tmp_path: Path, column: str, cell: pa.Array, value: object) -> None:
    path = write(tmp_path, column.removesuffix("_ft"), cell)
    got = read_card(path)[column][0]
    assert (str(got)[:10] if column == "date" else got) == value


@pytest.mark.parametrize(
    ("column", "cell", "value"),
    [
        ("date", pa.array([-719_528], pa.date32()), "0000-01-01"),
        ("date", pa.array([2**31 - 1], pa.date32()), "<value out of range"),
        ("date", pa.array([2**62], pa.timestamp("us")), "<value out of range"),
        ("date", pa.array([-(2**62)], pa.timestamp("ms")), "<value out of range"),
        pytest.param(
            *("date", pa.array([NIGHT], pa.timestamp("us", "+02:00")), "2026-05-14 00:00:00"),
            marks=pytest.mark.skipif(not OFFSETS, reason="this pyarrow knows zones by name alone"),
        ),
        ("date", pa.array([0], pa.time32("s")), "00:00:00"),
        ("date", pa.array([20587]), "20587"),
        ("distance", pa.array([60], pa.time32("s")), "00:01:00"),
        ("distance", pa.array([5 * 10**15], pa.time64("us")), "<value out of range"),
        ("distance", pa.array([float("nan")]), "nan"),
        ("distance", pa.array([float("inf")]), "inf"),
        ("penalty", pa.array([float("nan")]), "nan"),
        ("penalty", pa.array([True]), "true"),
        ("hole", pa.array([2**64 - 1], pa.uint64()), "18446744073709551615"),
        ("hole", pa.array([1e308]), "1e+308"),
        ("hole", pa.array([Decimal("9" * 70)], pa.decimal256(76, 0)), "9" * 70),
        ("shot", pa.array(["9" * 5000]), "9" * 5000),
        ("club", pa.array(["#REF!"]), "#REF!"),
        ("player", broken_text(), "a\\xff\\xfe"),
        ("player", broken_text(large=True), "a\\xff\\xfe"),
        ("luck", broken_text(), "a\\xff\\xfe"),
        ("lie", pa.DictionaryArray.from_arrays(INDEX, broken_text()), "a\\xff\\xfe"),
    ],
)
def test_a_cell_that_is_no_value_is_named(
    tmp_path: Path, column: str, cell: pa.Array, value: str
) -> None:
    (problem,) = errors(write(tmp_path, column, cell))
    assert (problem.row, problem.column) == (2, column)
    assert problem.value.startswith(value)


@pytest.mark.parametrize(
    "cell",
    [
        pa.array([5], pa.duration("s")),  # its text is 5: seconds, or feet?
        pa.array([b"\xff"], pa.binary()),
        pa.array([0], pa.timestamp("us", "Nowhere/City")),
        pa.array([[1]]),
        pa.array([{"a": 1}]),
        pa.array([[("a", 1)]], pa.map_(pa.string(), pa.int64())),
    ],
)
def test_a_column_that_holds_no_values_is_named(tmp_path: Path, cell: pa.Array) -> None:
    for column in ("distance", "luck"):
        (problem,) = errors(write(tmp_path, column, cell))
        assert problem.wrong.startswith(f'the column "{column}" holds ')


def test_the_first_broken_text_of_many_is_named(tmp_path: Path) -> None:
    texts = pa.chunked_array([["a", None, "\xff"], broken_text(), ["b"]])
    columns = {name: pa.array([value] * 5) for name, value in ROW.items()} | {"note": texts}
    pq.write_table(pa.table(columns), tmp_path / "card.parquet")
    (problem,) = errors(tmp_path / "card.parquet")
    assert (problem.row, problem.column) == (5, "note")


def test_a_name_of_a_column_that_is_no_text(tmp_path: Path) -> None:
    path = write(tmp_path, "luckluck", pa.array(["x"]))
    path.write_bytes(path.read_bytes().replace(b"luckluck", b"luck\xffuck"))
    with pytest.raises(DataError, match="damaged"):
        read_card(path)


@pytest.mark.repeats
@pytest.mark.parametrize("column", ["round", "hole", "shot", "penalty", "distance", "carry_yd"])
def test_numbers_without_end(tmp_path: Path, column: str) -> None:
    """Python itself refuses to make numbers of so many digits."""
    path = tmp_path / "card.csv"
    for written in ("9" * 5000, "-" + "9" * 5000, "9" * 5000 + ".0"):
        cells = ROW | {column: written}
        path.write_text(f"{','.join(cells)}\n{','.join(cells.values())}\n")
        (problem,) = errors(path)
        assert (problem.row, problem.column, problem.value) == (2, column, written)
