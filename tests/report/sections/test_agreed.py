"""Every agreement on the page: its table, its charts, its text as text."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sgzone.report.paper.pdf import to_pdf
from sgzone.report.player import player_report
from sgzone.report.screen.html import to_html
from sgzone.report.sections import agreed
from sgzone.season.agreed.keeping import About, add
from tests.report.seasons import ask, demo, season

ADA = "Wrenna Oddlethorpe"
DAY = date(2026, 6, 30)
HOSTILE = (
    "<script>alert(1)</script>",
    '#panic("x") $y$ *b* @z <c> \\',
    "שני פאטים " + "a" * 150,
)


def test_the_newest_open_ones_are_drawn() -> None:
    with season(demo()) as store:
        for part in ("chip_0_30", "wedge_50_100", "putt_0_10", "pitch_30_50"):
            add(store, ADA, part, About(part=part), DAY)
        add(store, ADA, "sleep", day=DAY)
        made = agreed.section(ask(store))
    assert made is not None
    [figure] = made.figures
    assert [panel.title for panel in figure.panels] == [
        *("2. wedge_50_100", "3. putt_0_10", "4. pitch_30_50"),
    ]
    assert [row[1] for row in figure.table.rows][:2] == ["1. chip_0_30", "2. wedge_50_100"]
    assert len(figure.table.rows) == 5
    assert made.lead == ("5 open agreements: 4 not settled and 1 with nothing to count.",)
    assert figure.panels[1].alt.startswith("putt_0_10: ")


def test_of_what_counts_nothing_there_is_a_table_alone() -> None:
    with season(demo()) as store:
        add(store, ADA, "sleep", day=DAY)
        made = agreed.section(ask(store))
    assert made is not None
    assert (made.figures, len(made.tables)) == ((), 1)


@pytest.mark.long
@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_stays_a_text_on_page_and_paper(text: str, tmp_path: Path) -> None:
    with season(demo()) as store:
        add(store, ADA, text, About(part="chip_0_30"), DAY)
        page = player_report(ask(store)).page
        html = to_html(page)
    assert "<script>alert" not in html
    assert to_pdf(page).startswith(b"%PDF-")
