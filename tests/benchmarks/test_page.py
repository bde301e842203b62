"""docs/benchmarks.md says what the code gives."""

from __future__ import annotations

from tests.benchmarks.pages import PAGE, page


def test_the_page_is_fresh() -> None:
    stale = "run: python -m tests.benchmarks.pages"
    assert PAGE.read_text(encoding="utf-8") == page(), stale
