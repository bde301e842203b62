"""The chart of what was played: grey, two decimals, the worst part first."""

from __future__ import annotations

import re

import pandas as pd
import pytest

from sgzone.report.charts.chosen.sums import as_played
from sgzone.report.charts.theme import LIGHT, config
from sgzone.report.fonts import to_svg
from tests.report.charts.drawn import of_mark, rows

TABLE = pd.DataFrame(
    {
        "part": ["chip_0_30", "putt_0_10", "wedge_50_100"],
        "gained_per_round": [0.004, -1.125, -0.354],
    }
)


def test_each_part_has_its_sum_to_two_decimals() -> None:
    spec = as_played(TABLE).to_dict()
    drawn = rows(spec).set_index("name")
    assert drawn["number"].to_dict() == {
        "chip 0-30 yd": "0.00",
        "putts 0-10 ft": "\u22121.12",
        "wedge 50-100 yd": "\u22120.35",
    }
    assert drawn.loc["putts 0-10 ft", "gained_per_round"] == pytest.approx(-1.125)
    assert spec["height"] == 90
    [bars] = of_mark(spec, "bar")
    assert bars["mark"]["color"] == LIGHT.line  # no side is shown by a plain sum


def test_lengths_are_the_readers() -> None:
    names = rows(as_played(TABLE, units="metric").to_dict())["name"].tolist()
    assert names == ["chip 0-27 m", "putts 0-3 m", "wedge 46-91 m"]


def test_the_worst_part_is_on_top() -> None:
    svg = to_svg({**as_played(TABLE).to_dict(), "width": 640, "config": config()})
    names = re.findall(r">((?:chip|putts|wedge)[^<]*)<", svg)
    heights = re.findall(r"translate\([^,]*,([\d.]+)\)[^>]*>(?:chip|putts|wedge)", svg)
    order = [name for _, name in sorted(zip(map(float, heights), names, strict=True))]
    assert order == ["putts 0-10 ft", "wedge 50-100 yd", "chip 0-30 yd"]


def test_no_part_is_no_bar() -> None:
    spec = as_played(TABLE.head(0)).to_dict()
    assert spec["height"] == 30
    assert rows(spec).empty
