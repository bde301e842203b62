"""Rows chosen by their lie with the style sheet alone: which lies there are, which rules."""

from __future__ import annotations

import pandas as pd

from sgzone.report.page import Section
from sgzone.report.screen.sieve import lies, lies_of, sieve_rules
from sgzone.terms import LIES
from sgzone.words.tables import Table


def _table(*of: str) -> Table:
    rows = tuple((lie,) for lie in of)
    return Table("Strokes", ("from",), rows, ("word",), (True,), data=pd.DataFrame({"lie": of}))


def test_each_row_has_its_lie_and_each_lie_is_offered_once() -> None:
    section = Section(folded=(("a", _table("sand", "tee")), ("b", _table("sand", "rough"))))
    assert lies_of(section.folded[0][1]) == ["sand", "tee"]
    assert lies(section) == ["tee", "rough", "sand"]
    assert lies_of(Table("Words", (), (), (), ())) == []


def test_a_chosen_lie_hides_rows_of_the_others() -> None:
    rules = sieve_rules()
    assert rules.count("{ display: none; }") == len(LIES)
    for lie in LIES:
        assert f'[value="{lie}"]:checked) .rows tbody tr:not(.from-{lie})' in rules
        assert f'[value="{lie}"]:checked) .rows:not(:has(.from-{lie}))' in rules
