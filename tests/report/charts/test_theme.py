"""The numbers at the ends of bars: where they stand, and the room they have."""

from __future__ import annotations

import altair as alt
import pandas as pd
import pytest

from sgzone.report.charts.theme import NUMBER_ROOM, Chart, ended, layered, number_room, signed_scale

NONE = float("nan")


def test_a_number_stands_clear_of_its_bar_and_its_range() -> None:
    """By hand: left of both where the bar loses, right of both where it gains."""
    table = pd.DataFrame(
        {
            "value": [-0.5, -0.5, 0.3, -0.2],
            "low": [-0.7, -0.4, -0.1, NONE],
            "high": [-0.2, -0.1, 0.6, NONE],
        }
    )
    assert ended(table, "value", "low", "high")["end"].tolist() == [-0.7, -0.5, 0.6, -0.2]


def test_the_scale_has_room_only_where_numbers_are() -> None:
    losing = signed_scale(pd.Series([-1.0, -0.4])).to_dict()
    assert losing["domainMax"] == 0
    assert losing["domainMin"]["expr"] == f"-1.0 - {number_room(1.0, 1)}"
    both = signed_scale(pd.Series([-1.0, 0.5])).to_dict()
    assert both["domainMin"]["expr"] == f"-1.0 - {number_room(1.5, 2)}"
    assert both["domainMax"]["expr"] == f"0.5 + {number_room(1.5, 2)}"
    assert signed_scale(pd.Series([0.0, 0.0])).to_dict()["domain"] == [-1, 1]


def test_the_room_is_that_many_pixels_whatever_the_width() -> None:
    """By hand: 44 of 244 pixels are the 44 / 200 of a span drawn on the other 200."""
    words = number_room(1.0, 1)
    assert words == f"1.0 * (width > 0 ? {NUMBER_ROOM} / max(width - {NUMBER_ROOM}, 1) : 0.0965)"
    assert pytest.approx(0.0965, abs=5e-5) == 44 / (500 - 44)


def test_layers_share_what_they_say_and_draw_what_altair_would() -> None:
    rows, other = pd.DataFrame({"a": [1.0, 2.0]}), pd.DataFrame({"a": [3.0]})
    x = alt.X("a:Q", axis=alt.Axis(title="a"), scale=alt.Scale(domain=[0, 3]))
    drawn, usual = (
        layered(
            kind(rows).mark_bar(color="red").encode(x=x),
            layered(kind(other).mark_point().encode(x=x), kind(rows).mark_rule().encode(x=x)),
        ).properties(width=300, height=20)
        for kind in (Chart, alt.Chart)
    )
    assert drawn.to_dict() == usual.to_dict()
    assert drawn.layer[0].encoding.x is drawn.layer[1].layer[1].encoding.x is x
    assert usual.layer[0].encoding.x is not x


def test_what_is_asked_of_a_copy_leaves_the_chart_alone() -> None:
    chart = Chart(pd.DataFrame({"a": [1.0]})).mark_bar().encode(x=alt.X("a:Q"))
    before = chart.to_dict()
    other = chart.copy().mark_point().encode(y=alt.Y("a:Q")).properties(width=20)
    layered(chart, chart.mark_rule()).properties(height=9)
    assert chart.to_dict() == before
    assert other.to_dict() != before
