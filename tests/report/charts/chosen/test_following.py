"""What follows a choice: which strokes a cell opens, and what is seen while a choice is on."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qs

import altair as alt
import pandas as pd
import pytest

from sgzone.report.charts.chosen import following
from sgzone.report.fonts import to_svg


def test_a_cell_says_its_strokes_as_the_address_of_the_page_does() -> None:
    cells = pd.DataFrame({"lie": ["rough", "a&b=c"], "band": ["50-75", "100-150"]})
    first, second = following.opened(cells)
    assert first == "lie=rough&band=50-75"
    assert parse_qs(second) == {"lie": ["a&b=c"], "band": ["100-150"]}


def _drawn(*, choice: bool) -> str:
    rows = pd.DataFrame({"x": [1.0, 2.0], "stroke": [7, 9]})
    middle = alt.Chart(rows).mark_tick(opacity=following.seen_unless_chosen(0.4)).encode(x="x:Q")
    drawn: dict[str, Any] = middle.add_params(following.choice()).to_dict()
    assert drawn["params"] == [{"name": "choice", "value": False}]
    drawn["params"] = [{"name": "choice", "value": choice}]
    return to_svg(drawn)


def test_what_is_of_all_strokes_is_unseen_while_a_choice_is_on() -> None:
    assert _drawn(choice=False).count('opacity="0.4"') == 2
    assert _drawn(choice=True).count('opacity="0.4"') == 0
    assert _drawn(choice=True).count('opacity="0"') == 2


def test_a_chart_that_follows_nothing_has_no_expression() -> None:
    assert following.seen_unless_chosen(0.4, follows=False) == pytest.approx(0.4)
    assert following.unless_chosen("1", "2") == "choice ? 1 : 2"


def test_marks_know_their_stroke_where_the_rows_do() -> None:
    rows = pd.DataFrame({"x": [1.0]})
    assert "encoding" not in following.numbered_strokes(rows).mark_point().to_dict()
    known = following.numbered_strokes(rows.assign(stroke=7)).mark_point().to_dict()
    assert known["encoding"]["key"] == {"field": "stroke", "type": "quantitative"}
