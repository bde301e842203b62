"""The cells that scoring joins are the curve itself, not an approximation."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.benchmarks.model import CELL_COLUMNS
from sgzone.terms import BENCHMARK_NAMES, LIES

EDGES = [0.0, 1.0, 29.999999999, 30.0, 299.999999999, 300.0, 450.0, 1800.0, 2100.0]
distances = st.one_of(st.floats(0, 2100), st.sampled_from(EDGES), st.integers(0, 2100).map(float))

METRES = "lie,distance,unit,strokes,source\n" + "\n".join(
    f"{lie},{metres},m,{strokes},club records"
    for lie, metres, strokes in [
        ("green", 0.5, 1.02),
        ("green", 2.2, 1.6),
        ("green", 2.6, 1.7),
        ("green", 17.3, 2.3),
        ("fairway", 9.1, 2.5),
        ("fairway", 91.7, 3.2),
        ("fairway", 137.16, 3.4),
    ]
)


@pytest.fixture(scope="module")
def metres(tmp_path_factory: pytest.TempPathFactory) -> Benchmark:
    path: Path = tmp_path_factory.mktemp("own") / "metres.csv"
    path.write_text(METRES, encoding="utf-8")
    return benchmark(path)


def by_cells(cells: pd.DataFrame, lie: str, distance_ft: float) -> tuple[float, str]:
    """Look the distance up as scoring does: the cell by its whole foot, the piece by its reach."""
    row = cells[
        (cells["lie"] == lie)
        & (cells["cell"] == np.floor(distance_ft))
        & (cells["x_lo"] <= distance_ft)
        & (distance_ft < cells["x_hi"])
    ]
    assert len(row) == 1
    piece = row.iloc[0]
    t = distance_ft - piece["x0"]
    return piece["c0"] + t * (piece["c1"] + t * (piece["c2"] + t * piece["c3"])), piece["status"]


@pytest.mark.repeats
@pytest.mark.parametrize("name", BENCHMARK_NAMES)
@given(lie=st.sampled_from(LIES), distance_ft=distances)
def test_a_cell_gives_the_curve(name: str, lie: str, distance_ft: float) -> None:
    chosen = benchmark(name)
    value, status = by_cells(chosen._cells, lie, distance_ft)
    assert value == pytest.approx(float(chosen.expected(lie, distance_ft)), abs=1e-9)
    assert status == chosen.status(lie, distance_ft)


@given(lie=st.sampled_from(["green", "fairway"]), distance_ft=distances)
def test_a_curve_in_metres_gives_the_curve_too(
    metres: Benchmark, lie: str, distance_ft: float
) -> None:
    value, status = by_cells(metres._cells, lie, distance_ft)
    assert value == pytest.approx(float(metres.expected(lie, distance_ft)), abs=1e-9)
    assert status == metres.status(lie, distance_ft)


def test_a_knot_inside_a_foot_splits_its_cell(metres: Benchmark) -> None:
    cells = metres.cells()
    # The green's four knots, fairway's two (137.16 m is 450 ft), and three putts under its first.
    assert (cells.groupby(["lie", "cell"]).size() == 2).sum() == 4 + 2 + 3
    assert not (cells["x_hi"] <= cells["x_lo"]).any()


@pytest.mark.parametrize("name", BENCHMARK_NAMES)
def test_cells_tile_every_foot_once(name: str) -> None:
    cells = benchmark(name).cells()
    assert list(cells.columns) == CELL_COLUMNS
    for _, rows in cells.groupby("lie"):
        assert rows["cell"].tolist() == list(range(2101))
        assert (rows["x_lo"].to_numpy()[1:] == rows["x_hi"].to_numpy()[:-1]).all()
    assert set(cells["lie"]) == set(LIES)


def test_the_caller_may_change_what_it_got() -> None:
    mine = benchmark("tour").cells()
    mine["c0"] = 0.0
    assert (benchmark("tour").cells()["c0"] > 0).all()
