"""The points have the moments they should, are mirrored, and are the same every time."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.quadrature import Kind, miss_points

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
