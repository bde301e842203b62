"""Every text card in the docs is read without a question, and every line of it is a hole."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.season.reading import find_problems, read_card
from sgzone.words.cards.echo import card_in_words
from tests.docs.pages import PAGES, ROOT, fences

CARDS = [
    (page.name, card)
    for page in PAGES
    for card in fences(page.read_text(encoding="utf-8"), "text")
    if card.startswith("Ned Farrow,") and "Hole 1:" not in card
]


def test_the_pages_that_show_one() -> None:
    assert {name for name, _ in CARDS} >= {"README.md", "guide.md", "text-card.md"}


@pytest.mark.repeats
@pytest.mark.parametrize(("name", "card"), CARDS, ids=[name for name, _ in CARDS])
def test_a_card_of_the_docs_is_read(name: str, card: str, tmp_path: Path) -> None:
    path = tmp_path / "round.txt"
    path.write_text(card, encoding="utf-8")
    assert find_problems(path) == []
    holes = [line for line in card.splitlines() if line[:1].isdigit()]
    assert read_card(path)["hole"].nunique() == len(holes)


def test_what_the_page_says_is_read_back_is(tmp_path: Path) -> None:
    page = (ROOT / "docs" / "text-card.md").read_text(encoding="utf-8")
    card, told = fences(page, "text")[:2]
    path = tmp_path / "round.txt"
    path.write_text(card, encoding="utf-8")
    rows = [{str(k): v for k, v in r.items()} for r in read_card(path).to_dict("records")]
    assert card_in_words(rows)[:3] == told.splitlines()
