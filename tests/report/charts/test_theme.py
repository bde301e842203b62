"""The numbers at the ends of bars: where they stand, and the room they have."""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.report.charts.theme import NUMBER_ROOM, ended, number_room, signed_scale

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
