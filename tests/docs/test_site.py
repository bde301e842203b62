"""The pages as a site: built without a warning, and nothing in it asks a network."""

from __future__ import annotations

import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import pytest

import sgzone as sg
from tests.docs.pages import ROOT

NEEDED = ("sphinx", "myst_parser", "furo")
_ASSET = re.compile(
    r"<(?:link|script|img|iframe|source|object|embed|image|use)\b[^>]*?"
    r"""\b(?:src|href|data|srcset)\s*=\s*["']?\s*((?:https?:)?//[^"'\s>]+)""",
    re.IGNORECASE,
)
_OF_STYLES = re.compile(r"""(?:url\(|@import)\s*["']?\s*((?:https?:)?//[^"')\s]+)""", re.IGNORECASE)


def asked_of_a_network(text: str) -> list[str]:
    """Return the addresses that a page or a style sheet loads by itself; links are no matter."""
    return _ASSET.findall(text) + _OF_STYLES.findall(text)


@pytest.mark.parametrize(
    ("text", "addresses"),
    [
        ('<script async src="https://a.org/x.js"></script>', ["https://a.org/x.js"]),
        ("<link rel=stylesheet href='//a.org/x.css'>", ["//a.org/x.css"]),
        ("@font-face { src: url(http://a.org/f.woff) }", ["http://a.org/f.woff"]),
        ('@import "https://a.org/x.css";', ["https://a.org/x.css"]),
        ('<a href="https://a.org">read</a> <img src="_images/x.svg">', []),
    ],
)
def test_what_asks_a_network_is_found(text: str, addresses: list[str]) -> None:
    assert asked_of_a_network(text) == addresses


def test_the_reference_names_every_public_name_once() -> None:
    text = (ROOT / "docs" / "python-reference.md").read_text("utf-8")
    named = re.findall(r"^\.\. auto\w+:: (?:sgzone::)?(\S+)$", text, re.MULTILINE)
    rooms = ("tables", "charts")
    public = {*sg.__all__, *(f"{room}.{name}" for room in rooms for name in dir(getattr(sg, room)))}
    assert sorted(named) == sorted(public - {*rooms, "__version__"})
    [members] = re.findall(r"Store\n   :members: ((?:.+\n +)*.+)", text)
    for name in re.split(r",\s+", members):
        assert callable(getattr(sg.Store, name)), name


@pytest.mark.long
@pytest.mark.skipif(
    any(importlib.util.find_spec(name) is None for name in NEEDED),
    reason="needs sphinx, myst-parser and furo: pip install 'sgzone[docs]'",
)
def test_the_site_is_built_whole_and_offline(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "sphinx", "-q", "-W", "--keep-going", "-b", "html"]
    done = subprocess.run(
        [*words, "-d", str(tmp_path / "trees"), "docs", str(tmp_path / "site")],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    site = tmp_path / "site"
    pages = {str(page.relative_to(site)): page.read_text("utf-8") for page in site.rglob("*.html")}
    for source in (ROOT / "docs").rglob("*.md"):
        assert str(source.relative_to(ROOT / "docs").with_suffix(".html")) in pages
    for named in ("sgzone.score", "sgzone.clubs", "sgzone.Benchmark", "sgzone.charts.by_part"):
        assert f'id="{named}"' in pages["python-reference.html"]
    assert "TypeAliasForwardRef" not in pages["python-reference.html"]
    assert 'toctree-l2"><a class="reference internal" href="charts/' in pages["index.html"]
    assert "by-part.svg" in pages["charts/by-part.html"]
    assert (site / "_images" / "by-part.svg").is_file()
    styles = {str(sheet): sheet.read_text("utf-8") for sheet in site.rglob("*.css")}
    asking = {
        name: found
        for name, text in (pages | styles).items()
        if (found := asked_of_a_network(text))
    }
    assert asking == {}
