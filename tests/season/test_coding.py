"""Distances read all at once are those read one by one."""

from __future__ import annotations

import pyarrow as pa
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.season.coding import DISTANCES, _distances
from sgzone.units import split_distance

WRITTEN = ["87", "87.", ".5", "007.50", "80m", "7'10\"", "12 yd", "87,5", "1e5", "-3", "", "n/a"]
DIGITS = ["9" * 15, "9" * 16, "9" * 400, "0.1" + "0" * 24 + "1", "0.30000000000000004", "١٢", "1_0"]


def one_by_one(cell: str | None) -> tuple[float | None, str | None]:
    try:
        return (None, None) if cell is None else split_distance(cell)
    except ValueError:
        return None, None


def read(cells: list[str | None]) -> list[tuple[float | None, str | None]]:
    found = _distances("distance", pa.array(cells, pa.string()))
    number, unit = (found[name].to_pylist() for name in DISTANCES["distance"])
    return list(zip(number, unit, strict=True))


@pytest.mark.parametrize("cell", [*WRITTEN, *DIGITS, None])
def test_each_way_of_writing(cell: str | None) -> None:
    assert read([cell]) == [one_by_one(cell)]


def test_they_stay_at_their_places() -> None:
    assert read([*WRITTEN, None, *DIGITS]) == [one_by_one(c) for c in [*WRITTEN, None, *DIGITS]]
    assert read(["7'6\"", "87.25", "80m"]) == [(7.5, "ft"), (87.25, None), (80.0, "m")]


@given(st.lists(st.floats(0, 1e6).map(repr) | st.text("0123456789.'m ", max_size=9)))
def test_whatever_is_written(cells: list[str | None]) -> None:
    assert read(cells) == [one_by_one(cell) for cell in cells]
