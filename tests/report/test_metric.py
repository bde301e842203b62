"""In metric no yard and no foot is left: in text, tables, charts, on the page or on paper."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import altair as alt
import pytest

from sgzone.clubs.stock import often_hit
from sgzone.report.charts.clubs import stock_ladder
from sgzone.report.page import Page, Panel
from sgzone.report.paper.pdf import to_pdf
from sgzone.report.player import Report, player_report
from sgzone.report.squad import team_report
from sgzone.season.store import Store
from sgzone.units import M_PER_FT, M_PER_YD
from sgzone.words.say import METRIC, Say
from tests.report.seasons import ask, demo_report
from tests.report.squads import ask_all, squad

LONGER = [pytest.param(kind, marks=pytest.mark.long) for kind in ("block", "team")]
_CODE = re.compile(r"(lie|part|band)=[^ ]*$")
"""What a mark opens when it is chosen, in codes that no reader sees."""
NOT_METRIC = re.compile(r"\b(yd|ft|yds)\b", re.IGNORECASE)


@pytest.fixture(scope="module")
def metric() -> Report:
    return demo_report("metric")


def _panels(page: Page) -> list[Panel]:
    return [p for section in page.sections for figure in section.figures for p in figure.panels]


def _said(value: Any) -> Iterator[str]:
    """Yield every text of a chart's specification: titles, tooltips, labels and data."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from _said(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _said(inner)
    elif isinstance(value, str):
        yield value


def _texts(page: Page) -> Iterator[str]:
    """Yield all that a reader of the page can see, but for the titles of its sources."""
    yield from (page.title, page.subtitle, *page.summary, *page.colophon)
    for section in page.sections:
        yield from (section.title, *section.lead, *section.notes)
        tables = [*(figure.table for figure in section.figures), *section.tables]
        for figure in section.figures:
            yield from (*figure.caption, *(key.words for key in figure.keys))
        for panel in (p for figure in section.figures for p in figure.panels):
            said = _said(panel.chart.to_dict())
            yield from (panel.title, panel.alt, *(one for one in said if not _CODE.match(one)))
        if section.id != "sources":
            for table in tables:
                yield from (table.caption, *table.headings)
                yield from (cell for row in table.rows for cell in row)


@pytest.mark.long
@pytest.mark.parametrize("kind", ["season", *LONGER])
def test_no_yard_and_no_foot_is_left(
    store: Store, metric: Report, tmp_path: Path, kind: str
) -> None:
    page = metric.page
    if kind == "block":
        page = player_report(ask(store, say=Say(METRIC), kind="block")).page
    if kind == "team":
        with squad(tmp_path, ["Ada Low", "Bo Day"]) as players:
            page = team_report(ask_all(players, Say(METRIC))).page
    texts = list(_texts(page))
    assert len(texts) > 300
    assert [text for text in texts if NOT_METRIC.search(text)][:20] == []
    yards = list(_texts(demo_report("plain").page)) if kind == "season" else []
    assert not yards or sum(bool(NOT_METRIC.search(text)) for text in yards) > 100


@pytest.mark.long
@pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="needs pdftotext: apt-get install poppler-utils"
)
def test_no_yard_and_no_foot_is_left_on_paper(metric: Report, tmp_path: Path) -> None:
    path = tmp_path / "metric.pdf"
    path.write_bytes(to_pdf(metric.page))
    done = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    )
    assert "approach 91-137 m" in done.stdout
    assert "0-1.5 m" in done.stdout
    titles = " ".join(metric.tables["sources"]["title"])
    assert [f for f in NOT_METRIC.findall(done.stdout) if f not in titles] == []


def _rows(chart: alt.LayerChart) -> list[dict[str, Any]]:
    (rows,) = chart.to_dict()["datasets"].values()
    return list(rows)


def test_the_ladder_is_drawn_in_metres(metric: Report) -> None:
    ladder = metric.tables["clubs"]
    yards, metres = _rows(stock_ladder(ladder)), _rows(stock_ladder(ladder, units="metric"))
    for one, other in zip(yards, metres, strict=True):
        for name in ("carry_yd", "low", "high", "sd_low", "sd_high", "end"):
            assert other[name] == pytest.approx(one[name] * M_PER_YD)
        assert other["depth_sd_ft"] == pytest.approx(one["depth_sd_ft"] * M_PER_FT)
    assert "carry, m (calm, level)" in list(_said(stock_ladder(ladder, units="metric").to_dict()))
    panel = next(panel for panel in _panels(metric.page) if panel.id == "ladder")
    drawn = [row["carry_yd"] for row in _rows(panel.chart)]  # type: ignore[arg-type]
    often = _rows(stock_ladder(often_hit(ladder), units="metric"))  # the page draws these alone
    assert drawn == pytest.approx([row["carry_yd"] for row in often])
    assert 5 < len(often) < len(metres)


def test_what_metres_change_is_the_words_alone(metric: Report) -> None:
    """The tables behind the page keep their units, which stand in the names of their columns."""
    plain = demo_report()
    assert set(plain.tables) == set(metric.tables)
    for name in ("where", "grid", "proximity", "clubs", "trend", "counts"):
        assert (
            plain.tables[name]
            .drop(columns="note", errors="ignore")
            .equals(metric.tables[name].drop(columns="note", errors="ignore"))
        )
