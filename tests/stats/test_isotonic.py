"""Values that rise wherever their model does not fall."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.stats.isotonic import rising_like


def test_pools_by_weight_inside_a_run_only() -> None:
    model = [1.0, 2.0, 3.0, 2.5, 2.6]
    values = [1.0, 3.0, 2.0, 1.0, 0.0]
    got = rising_like(model, values, [1.0, 1.0, 3.0, 1.0, 1.0])
    # 3 and 2 pool to (3 + 3 x 2) / 4; the model falls to its fourth value, so a new run starts
    assert got.tolist() == pytest.approx([1.0, 2.25, 2.25, 0.5, 0.5])


def test_a_level_model_may_not_be_fallen_below() -> None:
    assert rising_like([1, 1], [2.0, 1.0], [1, 1]).tolist() == [1.5, 1.5]


@given(st.lists(st.tuples(st.floats(1, 5), st.floats(1, 5)), min_size=2, max_size=30))
def test_it_rises_where_the_model_does_and_keeps_what_already_does(
    pairs: list[tuple[float, float]],
) -> None:
    model, values = (np.array(part) for part in zip(*pairs, strict=True))
    got = rising_like(model, values, np.ones(len(model)))
    climbs = np.diff(model) >= 0
    assert (np.diff(got)[climbs] >= -1e-12).all()
    assert rising_like(model, model, np.ones(len(model))) == pytest.approx(model)
