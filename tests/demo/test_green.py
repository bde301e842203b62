"""Edge of the green, side of a miss, pins: by value."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.demo.green import (
    FRINGE_FT,
    LEFT,
    LONG,
    PIN_MARGIN_FT,
    RIGHT,
    SHORT,
    Greens,
    draw_pins,
    draw_sizes,
    edge_and_side,
    lie_at,
)
from sgzone.terms import LIES


def one_green(n, wide=40.0, deep=60.0, x=0.0, y=0.0):
    flat = np.zeros(n, dtype=np.int64)
    return Greens(
        np.full(n, wide / 2), np.full(n, deep / 2), np.full(n, x), np.full(n, y), flat, flat
    )


@pytest.mark.parametrize(
    ("x", "y", "edge", "side"),
    [
        (25, 0, 5, RIGHT), (-26, 0, 6, LEFT), (0, -40, 10, SHORT), (0, 33, 3, LONG),
        (10, 0, -10, RIGHT), (24, 36, np.hypot(24, 36) * (1 - 1 / np.hypot(1.2, 1.2)), LONG),
    ],
)  # fmt: skip
def test_edge_and_side(x, y, edge, side):
    seen, where = edge_and_side(one_green(1), np.array([float(x)]), np.array([float(y)]))
    assert seen[0] == pytest.approx(edge)
    assert where[0] == side


def test_the_hole_need_not_be_in_the_middle():
    greens = one_green(1, x=10.0, y=-20.0)
    seen, where = edge_and_side(greens, np.array([10.0]), np.array([-55.0]))
    assert seen[0] == pytest.approx(5.0)
    assert where[0] == SHORT


def test_pins_keep_their_margin_and_fill_the_green():
    rng = np.random.default_rng(1)
    wide, deep = draw_sizes(rng, 20_000)
    greens = draw_pins(rng, wide, deep)
    edge, _ = edge_and_side(greens, np.zeros(20_000), np.zeros(20_000))
    assert edge.max() < -0.7 * PIN_MARGIN_FT  # measured along the ray from the centre
    share = np.hypot(
        greens.centre_x / (greens.half_wide - PIN_MARGIN_FT),
        greens.centre_y / (greens.half_deep - PIN_MARGIN_FT),
    )
    assert np.mean(share < 0.5) == pytest.approx(0.25, abs=0.01)  # even over the area


def test_lies_follow_the_edge():
    rng = np.random.default_rng(1)
    edge = np.array([-5.0, 0.0, 0.5, FRINGE_FT, FRINGE_FT + 0.1])
    names = [LIES[code] for code in lie_at(edge, np.zeros(5, dtype=np.int64), rng)]
    assert names[:4] == ["green", "green", "fringe", "fringe"]
    assert names[4] in ("fairway", "rough", "sand")


def test_more_sand_beside_the_green_than_behind_it():
    rng = np.random.default_rng(1)
    edge = np.full(20_000, 20.0)
    shares = [np.mean(lie_at(edge, np.full(20_000, s), rng) == LIES.index("sand")) for s in (1, 2)]
    assert shares == pytest.approx([0.10, 0.22], abs=0.01)
