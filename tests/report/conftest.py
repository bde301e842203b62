"""The demo season, loaded and asked once."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sgzone.report.asked import Asked
from sgzone.season.store import Store
from tests.report.seasons import ask, demo, season


@pytest.fixture(scope="session")
def store() -> Iterator[Store]:
    """The demo season in memory; tests only read it."""
    with season(demo()) as opened:
        yield opened


@pytest.fixture(scope="session")
def asked(store: Store) -> Asked:
    """The demo season, asked; what one test has found the next one has."""
    return ask(store)
