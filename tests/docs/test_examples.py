"""What a page shows in Python runs, on the demo season, as a reader would paste it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from sgzone.resources import data_path
from tests.demo_season import demo_file
from tests.docs.pages import PAGES, ROOT, fences

EXAMPLES = {
    str(page.relative_to(ROOT)): blocks
    for page in PAGES
    if (blocks := fences(page.read_text(encoding="utf-8"), "python"))
}


def test_the_search_finds_the_examples() -> None:
    assert {"README.md", "docs/charts/README.md", "docs/charts/putting.md"} <= EXAMPLES.keys()


@pytest.mark.parametrize("page", EXAMPLES)
def test_the_examples_of_a_page_run(
    page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copy(demo_file(), "sgzone.duckdb")
    shutil.copy(data_path("demo/season.csv"), "card.csv")
    for block in EXAMPLES[page]:
        exec(compile(block, page, "exec"), {})
