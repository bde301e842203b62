"""`--chart` with names of any signs: drawn whole, or spelt out."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

import sgzone as sg
from sgzone.season.store import open_store
from tests.hard.calls import FINE
from tests.verbs.test_chart import ask


def test_names_of_signs_of_two_units_are_drawn_whole(tmp_path: Path) -> None:
    name = "\U0001d510\U0001d51e\U0001d530\U0001d525\U0001d526\U0001d522" * 12
    card = sg.simulate_season(rounds=6).card.assign(player=name, club=name, swing="full")
    card.to_csv(tmp_path / "card.csv", index=False)
    with open_store(tmp_path / "sgzone.duckdb") as store:
        store.load(tmp_path / "card.csv")
    assert ask(tmp_path, "clubs", "--chart", "a.svg").code == FINE
    drawn = (tmp_path / "a.svg").read_text(encoding="utf-8")
    assert f"{(name * 2)[:28]}…" in drawn
    assert "\ufffd" not in drawn
    assert not re.search(r"[\ud800-\udfff]", drawn)


@pytest.mark.long
@pytest.mark.parametrize("sign", ["\x1b", "\x01", "\uffff", "\u202e"], ids=ascii)
def test_a_name_that_no_picture_can_hold_is_spelt_out(sign: str, tmp_path: Path) -> None:
    """The library that draws ends the whole program at a character that XML does not know."""
    name = f"a{sign}<b>&" + "x" * 40
    card = sg.simulate_season(rounds=6).card.assign(player="Ada", club=name, swing="full")
    card.to_csv(tmp_path / "card.csv", index=False)
    with open_store(tmp_path / "sgzone.duckdb") as store:
        store.load(tmp_path / "card.csv")
    for words in (("clubs", "--chart", "a.svg"), ("report", "a.html")):
        assert ask(tmp_path, *words).code == FINE
    shown = "".join(ET.parse(tmp_path / "a.svg").getroot().itertext())
    assert sign not in shown
    assert f"a\\{'x' if sign < ' ' else 'u'}" in shown
    assert "<b>&xxx" in shown
