"""The points have the moments they should, are mirrored, and are the same every time."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.quadrature import KEPT, Kind, drawn, miss_points, sobol_points
from sgzone.stats.resample import SEED

KIND = Kind(share=0.03, depth=-0.12, depth_sd=0.12, side=2.0)


def test_moments():
    """Distance 100, sds 5 and 4: mean -.36; variances by the mixture's formula."""
    p = miss_points(KIND)
    depth, side = p.fixed * 100 + p.usual * 5, p.side * 4
    assert p.weight.sum() == pytest.approx(1)
    assert p.weight @ depth == pytest.approx(-0.36, abs=0.01)
    variance = 0.97 * 25 + 0.03 * 144 + 0.03 * 0.97 * 144
    assert p.weight @ depth**2 - (p.weight @ depth) ** 2 == pytest.approx(variance, rel=0.02)
    assert p.weight @ side == pytest.approx(0, abs=1e-12)
    assert p.weight @ side**2 == pytest.approx(16 * (0.97 + 0.03 * 4), rel=0.02)


def test_every_point_has_its_mirror_image():
    p = miss_points(KIND, 64)
    half = len(p.side) // 2
    assert (p.side[:half] == -p.side[half:]).all()
    assert (p.usual[:half] == p.usual[half:]).all()


def test_the_seed_decides():
    assert (miss_points(KIND, 64, 1).usual == miss_points(KIND, 64, 1).usual).all()
    assert (miss_points(KIND, 64, 1).usual != miss_points(KIND, 64, 2).usual).any()
    assert not np.isinf(miss_points(KIND).usual).any()


@pytest.mark.parametrize("sizes", KEPT)
def test_every_kept_point_is_scipys(sizes: tuple[int, ...]) -> None:
    kept, expected = sobol_points(sizes, SEED), drawn(sizes, SEED)
    assert [len(points) for points in kept] == list(sizes)
    for mine, scipys in zip(kept, expected, strict=True):
        assert np.array_equal(mine, scipys)


def test_another_seed_or_size_is_drawn() -> None:
    (other,), (usual,) = sobol_points((128,), SEED + 1), sobol_points((128,), SEED)
    assert (other != usual).any()
    (few,) = sobol_points((16,), SEED)
    assert np.array_equal(few, drawn((16,), SEED)[0])


def test_the_points_fill_the_square_evenly() -> None:
    """Of 512 points 32 lie in each sixteenth of the square."""
    (points,) = sobol_points((512,), SEED)
    row, column = (points * 4).astype(int).T
    assert (np.bincount(4 * row + column) == 32).all()
