"""Break-even proximity: the putt from which a stroke gained exactly nothing."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.benchmarks import benchmark, break_even_proximity
from sgzone.terms import BENCHMARK_NAMES, LIES


def test_by_hand() -> None:
    # tour fairway 30 yd: 2.52 - 1 = 1.52 lies between 8 ft (1.50) and 9 ft (1.56)
    feet = float(break_even_proximity(benchmark("tour"), "fairway", 90))
    assert 8 < feet < 9
    # tour rough 10 yd 2.34 is exactly the 6 ft putt, 1.34, plus a stroke
    assert break_even_proximity(benchmark("tour"), "rough", 30) == pytest.approx(6, abs=1e-9)


@pytest.mark.repeats
@pytest.mark.parametrize("name", BENCHMARK_NAMES)
@given(lie=st.sampled_from(LIES), distance_ft=st.floats(0.5, 2000))
def test_the_stroke_gains_nothing(name: str, lie: str, distance_ft: float) -> None:
    chosen = benchmark(name)
    before = float(chosen.expected(lie, distance_ft))
    feet = float(break_even_proximity(chosen, lie, distance_ft))
    if np.isnan(feet):
        assert before - 1 < chosen.expected("green", 0)
    else:
        assert before - float(chosen.expected("green", feet)) - 1 == pytest.approx(0, abs=1e-9)


def test_shapes_and_nothing_to_find(tmp_path: Path) -> None:
    tour = benchmark("tour")
    assert break_even_proximity(tour, "fairway", 300).shape == ()
    table = break_even_proximity(tour, ["fairway", "rough"], [[150], [300], [450]])
    assert table.shape == (3, 2)
    assert (np.diff(table, axis=0) > 0).all()
    # a one-foot putt is holed: nothing can make that even
    assert np.isnan(break_even_proximity(tour, ["green", "holed"], [1, 0])).all()
    path = tmp_path / "rough.csv"
    path.write_text(
        "lie,distance,unit,strokes,source\nrough,20,yd,2.6,me\nrough,60,yd,2.9,me\n",
        encoding="utf-8",
    )
    assert np.isnan(break_even_proximity(benchmark(path), "rough", [60, 90])).all()
