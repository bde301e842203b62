"""Every chart has its page: its picture, how to read it, what could mislead, what to do."""

from __future__ import annotations

import re
from inspect import getmembers, isfunction
from pathlib import Path
from xml.etree import ElementTree as ET

import altair as alt
import pytest

from sgzone.report import charts
from sgzone.report.charts.file import drawn
from tests.docs.pages import ROOT
from tests.docs.pictures import FOLDER, charts_of_the_demo

PAGES = sorted(page for page in (ROOT / "docs" / "charts").glob("*.md") if page.name != "README.md")
NAMES = {page.stem for page in PAGES}
MODULES = sorted(Path(charts.__file__).parent.glob("*.py"))
_CHART = re.compile(r"^def ([a-z]\w*)\((?:[^()]|\([^()]*\))*\) -> alt\.\w+", re.MULTILINE)
_NAMED = re.compile(r"`sg\.charts\.(\w+)`")
PARTS = ("**How to read it.**", "**What could mislead.**", "**What to do.**")
PIECES = {
    *("alone", "curve_of", "key", "layered", "nought", "one_map", "side_colour", "wide"),
    *("signed_axis", "signed_scale", "two_lines"),
}
"""What charts are put together from, and what a chart that stands alone has over it;
``one_map`` draws one of ``miss_map``, ``curve_of`` an ``agreed_curve`` of a row."""
_MOST_BYTES = 1_500_000


def _read(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def test_every_chart_function_has_a_page_and_every_page_a_function() -> None:
    named = {name for page in PAGES for name in _NAMED.findall(_read(page))}
    drawing = {name for path in MODULES for name in _CHART.findall(_read(path))}
    assert named == drawing - PIECES == set(charts.__all__)
    there = {name for name, _ in getmembers(charts, isfunction)}
    assert named <= there


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_a_page_says_how_to_read_what_misleads_and_what_to_do(page: Path) -> None:
    text = _read(page)
    places = [text.find(part) for part in (f"](pictures/{page.stem}.svg)", *PARTS)]
    assert -1 not in places
    assert places == sorted(places)
    assert _NAMED.search(text)
    index = _read(page.parent / "README.md")
    assert f"]({page.name})" in index


def test_every_page_has_its_picture_and_nothing_else_is_there() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {f"{name}.svg" for name in NAMES}
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) < _MOST_BYTES
    for path in FOLDER.iterdir():
        assert "NaN" not in _read(path), path.name
        marks = [e for e in ET.parse(path).iter() if e.tag.endswith(("path", "line", "rect"))]
        assert len(marks) > 10, path.name


@pytest.mark.long
def test_every_picture_can_be_made_anew() -> None:
    specs = {name: drawn(chart) for name, chart in charts_of_the_demo().items()}
    assert specs.keys() == NAMES
    for name, spec in specs.items():
        assert "container" not in str(spec.get("width")), name
        assert any(len(rows) > 5 for rows in spec["datasets"].values()), name


def test_what_the_module_draws_is_altair_s() -> None:
    """The annotations the search rests on are real types."""
    for name in charts.__all__:
        told = getattr(charts, name).__annotations__["return"]
        assert issubclass(getattr(alt, told.removeprefix("alt.")), alt.TopLevelMixin)
