"""The demo season's review, asked once."""

from __future__ import annotations

import pytest

from sgzone.report.gather import Review, gather
from tests.report.seasons import demo, season


@pytest.fixture(scope="session")
def review() -> Review:
    with season(demo()) as store:
        return gather(store, "tour")
