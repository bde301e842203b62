"""The generated pages say what the code does: a stale page fails here."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.docs.generate import ROOT, pages

PAGES = pages()


@pytest.mark.parametrize("path", PAGES, ids=lambda p: p.name)
def test_page_is_fresh(path: Path) -> None:
    assert path.read_text(encoding="utf-8") == PAGES[path], "run: make docs"


@pytest.mark.parametrize(
    "path", [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").rglob("*.md"))]
)
def test_links_of_the_docs_lead_somewhere(path: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)", path.read_text(encoding="utf-8")):
        if not target.startswith("http"):
            assert (path.parent / target).exists(), f"{path.name}: {target}"
