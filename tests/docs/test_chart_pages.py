"""Every chart has its page: how to read it, what could mislead, what to do."""

from __future__ import annotations

import re
from inspect import getmembers, isfunction
from pathlib import Path

import altair as alt
import pytest

from sgzone.report import charts

PAGES = Path(__file__).parents[2] / "docs" / "charts"
MODULES = Path(charts.__file__).parent.glob("charts*.py")
_CHART = re.compile(r"^def ([a-z]\w*)\((?:[^()]|\([^()]*\))*\) -> alt\.\w+:", re.MULTILINE)
_NAMED = re.compile(r"`sg\.charts\.(\w+)`")
PARTS = ("**How to read it.**", "**What could mislead.**", "**What to do.**")
PIECES = {"one_map"}  # of `miss_map`, drawn by itself where the page has its own headings


def _pages() -> list[Path]:
    return sorted(page for page in PAGES.glob("*.md") if page.name != "README.md")


def _functions() -> set[str]:
    """Return the public functions of the chart modules that return a chart."""
    return {name for path in MODULES for name in _CHART.findall(path.read_text(encoding="utf-8"))}


def test_every_chart_function_has_a_page_and_every_page_a_function() -> None:
    named = {name for page in _pages() for name in _NAMED.findall(page.read_text(encoding="utf-8"))}
    drawing = _functions()
    assert {"by_part", "pairs_chart", "small_bars"} <= drawing  # the search finds them
    assert "squad_reach" not in drawing  # a number, no chart
    assert named == drawing - PIECES == set(charts.__all__)
    there = {name for name, _ in getmembers(charts, isfunction)}
    assert named <= there


@pytest.mark.parametrize("page", _pages(), ids=lambda page: page.stem)
def test_a_page_says_how_to_read_what_misleads_and_what_to_do(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    places = [text.find(part) for part in PARTS]
    assert -1 not in places
    assert places == sorted(places)
    assert _NAMED.search(text)
    index = (PAGES / "README.md").read_text(encoding="utf-8")
    assert f"]({page.name})" in index
    for link in re.findall(r"\]\(([\w-]+\.md)\)", text):
        assert (PAGES / link).exists()


def test_what_the_module_draws_is_altair_s() -> None:
    """The annotations the search rests on are real types."""
    for name in charts.__all__:
        told = getattr(charts, name).__annotations__["return"]
        assert issubclass(getattr(alt, told.removeprefix("alt.")), alt.TopLevelMixin)
