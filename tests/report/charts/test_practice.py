"""Charts of practice: the numbers they plot, which piece is dashed, and that they can be drawn."""

from __future__ import annotations

import json

import numpy as np
import pandas as pd
import pytest
import vl_convert

from sgzone.practice.plan import plan_from
from sgzone.report.charts.practice import block_chart, return_curves
from tests.practice.players import PARTS, certain, losses

NOW = np.array([8.0, 30.0])

SERIES = pd.DataFrame(
    {
        "part": ["wedge_50_100", "wedge_50_100", "chip_0_30"],
        "ball": ["own", "range", None],
        "surface": ["grass", "mat", "mat"],
        "date": pd.to_datetime(["2026-05-01", "2026-05-08", "2026-05-08"]),
        "balls": [20, 20, 2],
        "median_ratio": [1.4, 0.9, 1.0],
        "low": [1.1, 0.7, np.nan],
        "high": [1.8, 1.2, np.nan],
        "inside": [7, 12, 1],
        "inside_share": [0.35, 0.6, 0.5],
    }
)


@pytest.fixture(scope="module")
def curves():
    return plan_from(losses([0.8, 0.4]), 8, 5, certain(2), now=NOW).curves


def rows_of(spec: dict) -> pd.DataFrame:
    return pd.DataFrame([row for rows in spec["datasets"].values() for row in rows])


def test_a_curve_plots_what_its_hours_bring(curves):
    spec = return_curves(curves).to_dict()
    plotted = rows_of(spec)
    assert len(plotted) == len(curves)
    loss = plotted["part"].map({PARTS[0]: 0.8, PARTS[1]: 0.4})
    expected = 0.4 * loss * (1 - np.exp(-plotted["hours"] / 20))
    assert plotted["strokes_per_round"].to_numpy() == pytest.approx(expected.to_numpy())
    assert [panel["title"] for panel in spec["concat"]] == [
        "approach 100-150 yd",
        "wedge 50-100 yd",
    ]


def test_panels_share_one_scale(curves):
    spec = return_curves(curves).to_dict()
    for panel in spec["concat"]:
        scales = {json.dumps(layer["encoding"]["x"].get("scale")) for layer in panel["layer"]}
        assert len(scales) == 1
    domains = {
        json.dumps(layer["encoding"]["y"]["scale"])
        for panel in spec["concat"]
        for layer in panel["layer"]
        if "scale" in layer["encoding"]["y"]
    }
    assert len(domains) == 1


def test_the_line_is_dashed_where_the_log_has_not_been(curves):
    """Solid as far as the hours of the log, dashed beyond; both reach the point of today."""
    spec = return_curves(curves).to_dict()
    for panel, now in zip(spec["concat"], NOW, strict=True):
        rows = pd.DataFrame(spec["datasets"][panel["data"]["name"]])
        assert rows.loc[rows["observed"], "hours"].max() == now
        assert rows.loc[~rows["observed"], "hours"].min() > now
        lines = {
            bool(layer["mark"].get("strokeDash")): layer["transform"][0]["filter"]
            for layer in panel["layer"]
            if layer["mark"]["type"] == "line"
        }
        assert lines[False] == "datum.observed"
        assert lines[True].startswith("!datum.observed")


def test_today_and_the_plan_are_marked(curves):
    spec = return_curves(curves).to_dict()
    marked = rows_of(spec)
    marked = marked[marked["point"] != ""]
    assert sorted(marked["marks"].unique()) == ["hours now, by the log", "the plan"]
    now = marked[marked["point"] == "now"].set_index("part")["hours"]
    assert now[PARTS[0]] == 8.0
    assert now[PARTS[1]] == 30.0


def test_without_a_log_all_is_dashed():
    curves = plan_from(losses([0.8, 0.4]), 8, 5, certain(2)).curves
    assert curves.loc[curves["hours"] > 0, "observed"].eq(False).all()
    assert set(curves["point"]) == {"", "plan"}


def test_blocks_have_a_panel_a_kind_and_the_pass_mark_at_one():
    spec = block_chart(SERIES).to_dict()
    plotted = rows_of(spec)
    assert plotted["panel"].tolist() == [
        "wedge 50-100 yd|own balls on grass, 20 balls",
        "wedge 50-100 yd|range balls on mat, 20 balls",
        "chip 0-30 yd|mat, 2 balls",
    ]
    assert plotted["median_ratio"].tolist() == [1.4, 0.9, 1.0]
    layers = spec["spec"]["layer"]
    assert layers[0]["encoding"]["y"]["datum"] == 1.0
    assert layers[2]["encoding"]["y"]["scale"]["type"] == "log"
    assert layers[1]["transform"][0]["filter"] == "isValid(datum.low)"


@pytest.mark.parametrize("kind", ["curves", "blocks"])
def test_they_can_be_drawn(curves, kind):
    chart = return_curves(curves) if kind == "curves" else block_chart(SERIES)
    picture = vl_convert.vegalite_to_svg(chart.to_dict())
    assert picture.count("<path") > 5
