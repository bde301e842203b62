"""On paper a sign without a font is a star, never an empty box; what has a font stays."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.report.paper import signs
from sgzone.report.paper.pdf import to_pdf
from sgzone.report.player import player_report
from sgzone.report.screen.html import to_html
from tests.report.paper.test_pdf import needs_poppler, printed
from tests.report.seasons import ONE_HOLE, ask, card, season

NOWHERE = "\u2fe0"
"""A code that stands for no sign, so that no machine has a font with it."""


def test_a_run_of_signs_without_a_font_is_one_star() -> None:
    assert signs.printable(f"Zoë {NOWHERE}\u200d{NOWHERE}\ufe0f O'Hara {NOWHERE}") == (
        "Zoë * O'Hara *"
    )


@pytest.mark.parametrize("text", ["", "Zoë O'Hara", "−1 † ← →", "Łukasz Dvořák", "Ωμέγα Жуков"])
def test_what_has_a_font_stays(text: str) -> None:
    assert signs.printable(text) == text


def test_only_the_signs_without_a_font_are_found() -> None:
    assert signs.unprintable("†−Ω") == set()
    assert signs.unprintable(f"†{NOWHERE}Ω") == {NOWHERE}


def test_another_fault_of_the_typesetter_is_not_taken_for_a_missing_sign(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(signs, "_SHEET", b"#no-such-command")
    assert signs.printable(f"† {NOWHERE}") == f"† {NOWHERE}"


@pytest.mark.long
@needs_poppler
def test_a_picture_in_a_name_is_a_star_on_paper_and_itself_on_a_screen(tmp_path: Path) -> None:
    name = f"Zoë {NOWHERE} O'Hara"
    with season(card(tmp_path, ONE_HOLE, name)) as store:
        page = player_report(ask(store)).page
    assert f"{name}: the strokes" in to_html(page).replace("&#39;", "'")
    (first, *_) = printed(to_pdf(page), tmp_path)
    assert first.startswith("Zoë * O'Hara: the strokes from 150 yards in")
    assert NOWHERE not in first
