"""Sums over groups and values of cells, against loops over both."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.stats.columns import Columns


@given(st.integers(0, 10**6), st.lists(st.integers(1, 5), max_size=4), st.integers(1, 3))
def test_are_what_a_loop_over_groups_and_cells_gives(seed, sizes, count):
    rng = np.random.default_rng(seed)
    of = rng.permutation(np.repeat(np.arange(len(sizes)), sizes).astype(np.intp))
    x, values = rng.normal(size=(count, len(of))), rng.normal(size=(len(of), 4))
    coefficients = rng.normal(size=(count, len(sizes), 4))
    matrices = rng.normal(size=(count, count, len(sizes), 4))
    matrices += matrices.swapaxes(0, 1)
    columns = Columns(x, of)
    for group in range(len(sizes)):
        own, its = x[:, of == group], values[of == group]
        assert columns.total(values)[group] == pytest.approx(its.sum(axis=0))
        assert columns.sums(values)[:, group] == pytest.approx(own @ its)
        products = np.einsum("ac,bc,ct->abt", own, own, its)
        assert columns.products(values)[:, :, group] == pytest.approx(products)
    along, across = columns.along(coefficients), columns.across(matrices)
    assert along.shape == across.shape == values.shape
    for cell, group in enumerate(of):
        mine = x[:, cell]
        assert along[cell] == pytest.approx(mine @ coefficients[:, group])
        wanted = np.einsum("a,abt,b->t", mine, matrices[:, :, group], mine)
        assert across[cell] == pytest.approx(wanted)
