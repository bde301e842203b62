"""One browser for the tests of a file."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from selenium.webdriver import Chrome

from tests.browser.chromium import browser


@pytest.fixture(scope="module")
def driver() -> Iterator[Chrome]:
    with browser() as running:
        yield running
