"""The demo season, loaded and asked once."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sgzone.report.asked import Review
from sgzone.season.store import Store
from tests.report.seasons import demo, demo_review, season


@pytest.fixture(scope="session")
def review() -> Review:
    return demo_review()


@pytest.fixture(scope="session")
def store() -> Iterator[Store]:
    """The demo season in memory; tests only read it."""
    with season(demo()) as opened:
        yield opened
