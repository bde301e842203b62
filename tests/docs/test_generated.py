"""The generated pages say what the code does: a stale page fails here."""

from __future__ import annotations

import re
from importlib.metadata import version
from pathlib import Path

import pytest
from packaging.version import Version

from tests.docs.generate import pages
from tests.docs.pages import PAGES as DOCS
from tests.docs.pages import ROOT

PAGES = pages()


@pytest.mark.parametrize("path", PAGES, ids=lambda p: p.name)
def test_page_is_fresh(path: Path) -> None:
    if path.name == "reference.md" and Version(version("click")) < Version("8.5"):
        pytest.skip("an older click writes help in other brackets")
    assert path.read_text(encoding="utf-8") == PAGES[path], "run: make docs"


def _headings(page: Path) -> set[str]:
    """Return what links to the headings of a page end in."""
    found = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in found}


def dead_links(page: Path, text: str) -> list[str]:
    """Return the links of a page that lead to no file or no heading."""
    dead = []
    for target, heading in re.findall(r"\]\(([^)#]*)#?([^)]*)\)", text):
        if target.startswith("http"):
            continue
        there = page.parent / target if target else page
        if not there.exists() or (heading and heading not in _headings(there)):
            dead.append(f"{target}#{heading}")
    return dead


@pytest.mark.parametrize("page", DOCS, ids=lambda p: p.name)
def test_links_of_the_docs_lead_somewhere(page: Path) -> None:
    assert dead_links(page, page.read_text(encoding="utf-8")) == []


def test_a_dead_link_is_found() -> None:
    text = "[a](docs/no.md) [b](docs/guide.md#nowhere) [c](docs/guide.md#ask) [d](docs/guide.md)"
    assert dead_links(ROOT / "README.md", text) == ["docs/no.md#", "docs/guide.md#nowhere"]
