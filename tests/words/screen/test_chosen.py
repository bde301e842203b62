"""What the page's script says: short sentences, and no brace that it does not fill."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from sgzone.scoring.only import Only
from sgzone.words.screen import chosen

FILLED = {
    "told": {"shots", "rounds", "round", "shot"},
    "listed": {"what", "shots"},
    "some": {"what", "shots", "shown"},
    "of": {"n", "rounds"},
    **{name: {"n"} for name in ("stroke", "strokes", "round", "rounds", "unvalued")},
    **{name: {"value"} for name in ("since", "until")},
}


@pytest.mark.parametrize("name", chosen.TEXT)
def test_a_sentence_has_the_braces_that_are_filled(name: str) -> None:
    assert set(re.findall(r"\{(\w+)\}", chosen.TEXT[name])) == FILLED.get(name, set())


def test_the_script_asks_for_these_words_and_no_others() -> None:
    script = files("sgzone.report.screen").joinpath("choosing.js").read_text("utf-8")
    asked = set(re.findall(r"\btext\.(\w+)", script))
    asked |= set(re.findall(r'\bfill\("(\w+)"', script)) | {"since", "until", "some", "listed"}
    asked |= {"stroke", "strokes", "round", "rounds"}  # by number
    assert asked == set(chosen.TEXT)


def test_what_can_be_chosen_is_named_as_the_options_are() -> None:
    assert set(chosen.LABELS) == {"event", *Only.__dataclass_fields__}


@pytest.mark.parametrize("sentence", [chosen.WHOLE, chosen.FOLLOWS, *chosen.TEXT.values()])
def test_no_sentence_is_long(sentence: str) -> None:
    assert all(len(one.split()) <= 20 for one in sentence.split(". "))


def test_no_verdict_is_promised() -> None:
    for sentence in (chosen.TEXT["told"], chosen.BY_PART):
        assert "as played" in sentence.lower()
        assert "no verdict" in sentence
