"""A page of a season too short for any verdict draws no bars of single strokes."""

from __future__ import annotations

from pathlib import Path

from sgzone.report.gather import gather
from sgzone.report.pages import grid_section, where_section
from sgzone.report.words import parts_lead
from sgzone.terms import NOT_ENOUGH
from tests.report.seasons import ONE_HOLE, card, demo_review, season


def test_a_season_without_a_verdict_has_the_table_and_its_sentence_but_no_chart(
    tmp_path: Path,
) -> None:
    with season(card(tmp_path, ONE_HOLE)) as store:
        review = gather(store, "tour")
    section = where_section(review)
    assert (review.parts["verdict"] == NOT_ENOUGH).all()
    assert section.figures == grid_section(review).figures == ()
    (table,) = section.tables
    assert len(table.rows) == (review.parts["shots"] > 0).sum() == 3
    assert section.lead == parts_lead(review.parts[review.parts["shots"] > 0], review.level)
    assert any("not enough shots" in " ".join(row) for row in table.rows)


def test_one_part_with_a_verdict_is_enough_for_the_chart() -> None:
    section = where_section(demo_review())
    assert [panel.id for figure in section.figures for panel in figure.panels] == ["by-part"]
    assert section.tables == ()
