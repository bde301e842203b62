"""What a page shows in Python runs, on the demo season, as a reader would paste it."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from typing import Any

import pandas as pd
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


@pytest.mark.repeats
@pytest.mark.parametrize("page", EXAMPLES)
def test_the_examples_of_a_page_run(
    page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copy(demo_file(), "sgzone.duckdb")
    shutil.copy(data_path("demo/season.csv"), "card.csv")
    for block in EXAMPLES[page]:
        names: dict[str, Any] = {}
        exec(compile(block, page, "exec"), names)
        frames = [value for value in names.values() if isinstance(value, pd.DataFrame)]
        assert frames
        assert all(len(frame) for frame in frames)
        for written in re.findall(r'\.save\("([^"]+)"\)', block):
            assert "<svg" in Path(written).read_text(encoding="utf-8")
