"""The words of the links that take a table or a chart: each says what kind of file it gives."""

from __future__ import annotations

from sgzone.words.screen import taking


def test_each_link_names_its_file_and_a_choice_is_named() -> None:
    assert taking.TAKE_TABLE.endswith("(CSV)")
    assert taking.TAKE_CHART.endswith("(SVG)")
    assert taking.TAKE_CHOSEN.endswith("(SVG)")
    assert "choice" in taking.TAKE_CHOSEN
    assert "choice" not in taking.TAKE_CHART
    assert "PNG" in taking.TAKE_PICTURE
