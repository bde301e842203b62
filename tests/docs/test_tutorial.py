"""The tutorials run from top to bottom, and show what is printed."""

from __future__ import annotations

import doctest
import shutil
from pathlib import Path

import pytest

from tests.demo_season import demo_file
from tests.docs.pages import ROOT, fences

PAGES = ("tutorial", "own-benchmark")


def faults(text: str) -> tuple[int, int]:
    """Return how many of the page's lines print something else, and how many were tried."""
    source = "\n".join(fences(text, "pycon"))
    test = doctest.DocTestParser().get_doctest(source, {}, "page", None, 0)
    found = doctest.DocTestRunner(verbose=False).run(test)
    return found.failed, found.attempted


@pytest.mark.repeats
@pytest.mark.parametrize("page", PAGES)
def test_a_tutorial_shows_what_is_printed(
    page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copy(demo_file(), "sgzone.duckdb")
    failed, tried = faults((ROOT / "docs" / f"{page}.md").read_text(encoding="utf-8"))
    assert failed == 0
    assert tried > 8


def test_another_value_is_found() -> None:
    assert faults("```pycon\n>>> 1 + 1\n3\n```\n") == (1, 1)
