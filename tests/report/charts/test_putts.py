"""The chart of putts holed draws the player's curve and the published ones, point by point."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import vl_convert
from scipy.special import expit

from sgzone.benchmarks.sources import read_published
from sgzone.report.charts.putts import DASHES, OWN_DASH, putting_curve_chart
from sgzone.review.why.putting import CURVES, YOU, putting_curve, putting_points

FEET = np.arange(2.0, 21.0)


def _tables(n: int) -> tuple[pd.DataFrame, pd.DataFrame]:
    rng = np.random.default_rng(4)
    feet = rng.uniform(2, 20, n)
    holed = rng.random(n) < expit(2.3 - 0.28 * feet)
    strokes = pd.DataFrame(
        {
            "lie": "green",
            "distance_ft": feet,
            "end_lie": np.where(holed, "holed", "green"),
            "round_key": rng.integers(12, size=n),
        }
    )
    return putting_curve(strokes, FEET, 0.95), putting_points(strokes, 0.95)


def _drawn(spec: dict, layer: int) -> pd.DataFrame:
    return pd.DataFrame(spec["datasets"][spec["layer"][layer]["data"]["name"]])


def test_the_players_curve_stands_with_its_band_beside_the_published_ones() -> None:
    curves, points = _tables(1500)
    spec = putting_curve_chart(curves, points, level=0.95).to_dict()
    band, lines, whiskers, dots = spec["layer"]
    drawn = _drawn(spec, 1)
    assert drawn["holed_share"].to_numpy() == pytest.approx(curves["holed_share"].to_numpy())
    own = curves[curves["who"] == YOU]
    ribbon = _drawn(spec, 0)
    assert ribbon["low"].to_numpy() == pytest.approx(own["low"].to_numpy())
    assert ribbon["high"].to_numpy() == pytest.approx(own["high"].to_numpy())
    assert (band["encoding"]["y"]["field"], band["encoding"]["y2"]["field"]) == ("low", "high")
    for column in ("holed_share", "low", "high"):
        assert _drawn(spec, 3)[column].to_list() == pytest.approx(points[column].to_list())
    ends = whiskers["encoding"]
    assert (ends["y"]["field"], ends["y2"]["field"]) == ("low", "high")
    assert dots["encoding"]["size"]["field"] == "putts"
    names = [f"{YOU}, 1,500 putts", *CURVES]
    dash = lines["encoding"]["strokeDash"]
    assert dash["scale"] == {"domain": names, "range": [OWN_DASH, *DASHES[: len(CURVES)]]}
    assert lines["encoding"]["y"]["scale"]["domain"] == [0, 1]
    assert lines["encoding"]["x"]["title"] == "distance, ft"
    tips = [tip.get("title", tip["field"]) for tip in lines["encoding"]["tooltip"]]
    assert "95% range" in tips
    svg = vl_convert.vegalite_to_svg({**spec, "width": 600})
    assert all(name in svg for name in names)  # the legend tells the curves apart


def test_published_curves_are_drawn_from_their_printed_figures_over_their_own_feet() -> None:
    spec = putting_curve_chart(*_tables(1500)).to_dict()
    rows = read_published("putting_model_estimates.csv")
    berry = rows[rows["model"] == "logistic, Berry data"].set_index("parameter")["value"]
    drawn = _drawn(spec, 1).set_index(["curve", "distance_ft"])
    logit = float(berry["intercept"]) + float(berry["slope"]) * 10
    at_ten = drawn.loc[("professionals, 2-20 ft", 10.0)]
    assert at_ten["holed_share"] == pytest.approx(1 / (1 + np.exp(-logit)), abs=1e-12)
    assert at_ten["interval"] == "not published"
    one_golfer = drawn.loc["one golfer, 3-7 ft"]
    assert list(one_golfer.index) == [3.0, 4.0, 5.0, 6.0, 7.0]


def test_too_few_putts_leave_the_published_curves_alone() -> None:
    spec = putting_curve_chart(*_tables(6)).to_dict()
    assert len(spec["layer"]) == 3
    assert spec["layer"][0]["encoding"]["strokeDash"]["scale"]["domain"] == list(CURVES)
    assert spec["layer"][0]["encoding"]["strokeDash"]["scale"]["range"] == DASHES[: len(CURVES)]
    assert "<svg" in vl_convert.vegalite_to_svg({**spec, "width": 600})


def test_in_metric_the_same_shares_stand_over_metres() -> None:
    curves, points = _tables(1500)
    spec = putting_curve_chart(curves, points, units="metric").to_dict()
    drawn, dots = _drawn(spec, 1), _drawn(spec, 3)
    assert drawn["distance"].to_numpy() == pytest.approx(curves["distance_ft"].to_numpy() * 0.3048)
    assert dots["distance"].to_numpy() == pytest.approx(points["distance_ft"].to_numpy() * 0.3048)
    assert drawn["holed_share"].to_numpy() == pytest.approx(curves["holed_share"].to_numpy())
    titles = {layer["encoding"]["x"]["title"] for layer in spec["layer"]}
    assert titles == {"distance, m"}
    assert set(drawn["curve"]) == {
        *(f"{YOU}, 1,500 putts", "professionals, 0.6-6.1 m", "one golfer, 0.9-2.1 m")
    }
