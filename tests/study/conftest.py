"""A test that asks for ``size`` is a study and, smaller, a part of every check."""

from __future__ import annotations

import pytest

from tests.study.sizes import SMALL, WHOLE, Size

SIZES = [
    pytest.param(WHOLE, id="whole", marks=pytest.mark.study),
    pytest.param(SMALL, id="small", marks=pytest.mark.small_study),
]


@pytest.fixture(scope="module", params=SIZES)
def size(request: pytest.FixtureRequest) -> Size:
    """Return how much of the study to do."""
    found: Size = request.param
    return found
