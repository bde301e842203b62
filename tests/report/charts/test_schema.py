"""Charts hold to Vega-Lite's schema; a report that is written does not check that again."""

from __future__ import annotations

from pathlib import Path

import altair as alt
import pytest
from altair.utils.schemapi import SchemaValidationError, debug_mode

from sgzone.report.page import Page, Panel
from sgzone.report.screen.html import spec
from sgzone.report.squad import team_report
from tests.report.seasons import demo_report
from tests.report.squads import ask_all, squad


def _panels(page: Page) -> list[Panel]:
    return [p for s in page.sections for f in s.figures for p in f.panels]


def _check(page: Page) -> None:
    for panel in _panels(page):
        held = panel.chart.to_dict()  # raises where a part of it is against the schema
        held.pop("config", None)
        with debug_mode(False):
            assert spec(panel) == held


@pytest.mark.repeats
@pytest.mark.parametrize("kind", ["season", "block"])
def test_a_players_charts_hold_to_the_schema(kind: str) -> None:
    page = demo_report(kind).page
    assert len(_panels(page)) > 10
    _check(page)


@pytest.mark.long
def test_a_squads_charts_hold_to_the_schema(tmp_path: Path) -> None:
    with squad(tmp_path, ["Ada Low", "Bo Day"]) as players:
        page = team_report(ask_all(players)).page
    assert _panels(page)
    _check(page)


def test_a_chart_against_the_schema_is_found() -> None:
    with debug_mode(False):
        chart = alt.Chart({"values": [{"a": 1}]}).mark_point().encode(x=alt.X("a:Q", stack="high"))
    with pytest.raises(SchemaValidationError):
        chart.to_dict()
