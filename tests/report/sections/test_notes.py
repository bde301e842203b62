"""Notes on a page: only where they were asked for, as text, and never printed."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.report.page import Page
from sgzone.report.paper.order import on_paper
from sgzone.report.sections import notes
from sgzone.report.write import write_report
from sgzone.words.rounds.notes import NO_NOTES
from tests.report.seasons import ONE_HOLE, ask, card, season
from tests.review.debrief.hand_rounds import GOOD, WATER
from tests.review.debrief.hand_rounds import card as by_hand

HOSTILE = "</script><script>alert(1)</script>\u202e" + "z" * 400


@pytest.fixture
def noted(tmp_path: Path) -> Path:
    path = tmp_path / "noted.csv"
    by_hand([WATER, GOOD]).assign(note=HOSTILE).to_csv(path, index=False)
    return path


def test_a_section_of_notes_is_for_the_screen_alone(noted: Path, tmp_path: Path) -> None:
    with season(noted) as store:
        section = notes.section(ask(store))
    assert section.lead == ("5 notes, for you and your coach alone.",)
    row = section.tables[0].rows[0]
    assert row[:4] == ("2026-05-01", "1", "1", "fairway 110 yd")
    assert row[4].endswith("z…")
    assert "\u202e" not in row[4]
    assert on_paper(Page("", "", (), (section,))).sections == ()
    with season(card(tmp_path, ONE_HOLE)) as store:
        bare = notes.section(ask(store))
    assert (bare.lead, bare.tables) == ((NO_NOTES,), ())


@pytest.mark.long
def test_a_season_s_page_holds_notes_only_where_they_were_asked_for(
    noted: Path, tmp_path: Path
) -> None:
    with season(noted) as store:
        write_report(tmp_path / "without.html", store)
        write_report(tmp_path / "with.html", store, with_notes=True)
    without, told = (
        (tmp_path / f"{name}.html").read_text(encoding="utf-8") for name in ("without", "with")
    )
    assert "zzzz" not in without
    assert "zzzz" in told
    assert "<script>alert" not in told
    assert "What the card says" in told
