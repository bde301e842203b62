"""The brush along the season's line: days alone, nothing of it in a picture."""

from __future__ import annotations

import pandas as pd

from sgzone.report.charts.chosen.days import brushed
from sgzone.report.charts.theme import LIGHT, config
from sgzone.report.charts.trend import season_curve
from sgzone.report.fonts import to_svg

SEASON = pd.DataFrame(
    {
        "date": ["2026-05-01", "2026-06-01", "2026-07-01"],
        **{"gained_per_round": [-2.0, -1.0, -3.0], "smoothed": [-1.9, -1.8, -2.2]},
        **{"low": [-2.5] * 3, "high": [-1.5] * 3, "holes": [18] * 3, "shots": [40] * 3},
    }
)


def test_days_are_brushed_and_nothing_else() -> None:
    chart = season_curve(SEASON)
    spec = brushed(chart).to_dict()
    [brush] = spec["params"]
    assert brush["name"] == "days"
    assert brush["select"]["type"] == "interval"
    assert brush["select"]["encodings"] == ["x"]
    assert brush["select"]["zoom"] is False  # the wheel is the page's
    assert brush["select"]["mark"]["fill"] == LIGHT.gain
    assert brush["views"] == [spec["layer"][0]["name"]]
    assert brushed(chart).to_dict() == spec
    assert "params" not in chart.to_dict()  # the chart that was given stays as it was


def test_a_picture_is_the_same_with_and_without_it() -> None:
    usual, with_brush = (
        to_svg({**chart.to_dict(), "width": 640, "config": config()})
        for chart in (season_curve(SEASON), brushed(season_curve(SEASON)))
    )
    named = with_brush.replace("days_line_marks", "layer_0_marks")
    assert named == usual
