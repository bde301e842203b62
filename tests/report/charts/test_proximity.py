"""Proximity draws each stroke, each middle ball and break-even where the tables have them."""

from __future__ import annotations

import json
from typing import Any

import pandas as pd
import pytest
import vl_convert

from sgzone.report.asked import Asked
from sgzone.report.charts import proximity, proximity_panel
from sgzone.report.charts.proximity import MIDDLE_COLOURS
from sgzone.report.charts.theme import LIGHT
from sgzone.review.where.proximity import BREAK_EVEN_COLUMNS
from sgzone.units import M_PER_FT, M_PER_YD
from tests.report.charts.drawn import layers, of_mark, rows, tooltips

NONE = float("nan")
UNITS = [("yards", 1.0, 1.0, ("yd", "ft")), ("metric", M_PER_YD, M_PER_FT, ("m", "m"))]


def _strokes(spec: dict[str, Any]) -> pd.DataFrame:
    """Return the strokes of a panel, those within the scale and those beyond it."""
    return pd.concat([rows(spec, one) for one in of_mark(spec, "point")], ignore_index=True)


@pytest.mark.parametrize(("units", "yd", "ft", "names"), UNITS)
def test_a_panel_has_every_stroke_median_and_line(
    asked: Asked, units: Any, yd: float, ft: float, names: tuple[str, str]
) -> None:
    tables = (asked.points, asked.medians, asked.break_even)
    spec = proximity_panel(*tables, "rough", units=units).to_dict()
    points = asked.points[asked.points["lie"] == "rough"]
    drawn = _strokes(spec)
    ends = ["distance_yd", "finish_ft"]
    want = pd.DataFrame({ends[0]: points[ends[0]] * yd, ends[1]: points[ends[1]] * ft})
    assert drawn[ends].sort_values(ends).to_numpy() == pytest.approx(
        want.sort_values(ends).to_numpy()
    )
    assert (drawn["ended"] == "on the green").sum() == (points["end"] == "green").sum()
    top = of_mark(spec, "rect")[0]["encoding"]["x"]["scale"]["domain"][1]
    dots, arrows = (rows(spec, one) for one in of_mark(spec, "point"))
    assert dots["finish_ft"].max() <= top < arrows["finish_ft"].min()
    assert set(arrows["edge"]) == {top}
    known = asked.medians[(asked.medians["lie"] == "rough") & asked.medians["low"].notna()][::-1]
    (middles,) = of_mark(spec, "rule")
    for column in ("finish_ft", "low", "high", "break_even_ft"):
        assert rows(spec, middles)[column].to_numpy() == pytest.approx(known[column] * ft)
    assert middles["encoding"]["x"]["field"] == "finish_ft"
    (area,) = of_mark(spec, "rect")
    assert (area["encoding"]["x"]["field"], area["encoding"]["x2"]["field"]) == ("low", "high")
    assert {"shots (n)", f"finish, {names[1]}", f"from, {names[0]}"} <= tooltips(spec)
    assert of_mark(spec, "point")[0]["encoding"]["x"]["title"].endswith(f", {names[1]}")
    shapes = of_mark(spec, "point")[0]["encoding"]["shape"]["scale"]["range"]
    assert shapes == ["circle", "triangle-up"]


@pytest.mark.parametrize(("units", "yd", "ft", "names"), UNITS)
def test_break_even_is_the_tables_and_only_where_balls_are(
    asked: Asked, units: Any, yd: float, ft: float, names: tuple[str, str]
) -> None:
    tables = (asked.points, asked.medians, asked.break_even)
    spec = proximity_panel(*tables, "sand", units=units).to_dict()
    line = rows(spec, of_mark(spec, "line")[0])
    want = asked.break_even[asked.break_even["lie"] == "sand"].set_index("distance_yd")
    start = (line["distance_yd"] / yd).round(6)
    assert line["break_even_ft"].to_numpy() == pytest.approx(
        want["break_even_ft"].reindex(start).to_numpy() * ft
    )
    balls = asked.points[asked.points["lie"] == "sand"].groupby("band")["distance_yd"]
    ends = zip(balls.min().sort_values(), balls.max().sort_values(), strict=True)
    pieces = sorted((own.min(), own.max()) for _, own in start.groupby(line["row"]))
    for (near, far), (first, last) in zip(ends, pieces, strict=True):
        assert near - 1 < first <= last < far + 1
    assert not start.between(51, 74).any()  # nobody was there
    assert want.index.to_series().between(51, 74).any()


@pytest.mark.long
def test_one_panel_per_lie_on_one_scale_and_all_of_them_compile(asked: Asked) -> None:
    spec = proximity(asked.points, asked.medians, asked.break_even).to_dict()
    shots = asked.points.groupby("lie").size()
    assert [panel["title"] for panel in spec["concat"]] == [
        f"{lie}, {shots[lie]} strokes" for lie in ("tee", "fairway", "rough", "sand", "fringe")
    ]
    scales = {
        json.dumps(layer["encoding"]["x"]["scale"])
        for panel in spec["concat"]
        for layer in layers(panel)
        if "scale" in layer["encoding"]["x"]
    }
    assert len(scales) == 1
    assert vl_convert.vegalite_to_svg(spec).startswith("<svg")


MEDIANS = pd.DataFrame(
    {
        "lie": "fairway",
        "band": ["50-75 yd", "75-100 yd", "100-125 yd", "125-150 yd"],
        "from_yd": [50.0, 75.0, 100.0, 125.0],
        "to_yd": [75.0, 100.0, 125.0, 150.0],
        "distance_yd": [60.0, 90.0, 110.0, 140.0],
        "finish_ft": [9.0, 25.0, 20.0, NONE],
        "low": [7.0, 22.0, 16.0, NONE],
        "high": [11.0, 28.0, 24.0, NONE],
        "break_even_ft": [12.0, 15.0, 18.0, 22.0],
        "inside": 0.4,
        "shots": [40, 50, 30, 3],
        "rounds": 12,
    }
)
NO_LINE = pd.DataFrame(columns=BREAK_EVEN_COLUMNS)
POINTS = pd.DataFrame(
    {
        "lie": "fairway",
        "band": "75-100 yd",
        "distance_yd": [*[80.0] * 98, 87.5, 99.0],
        "finish_ft": [*[30.0] * 98, 90.0, 310.0],
        "end": "green",
    }
)


def test_a_table_alone_is_drawn_with_break_even_as_a_mark() -> None:
    """By hand: the first range is inside break-even, the second outside, the third holds it."""
    spec = proximity(MEDIANS).to_dict()["concat"][0]
    data = proximity(MEDIANS).to_dict()["datasets"]
    marks, middles = of_mark(spec, "rule")
    drawn = pd.DataFrame(data[middles["data"]["name"]])
    assert list(drawn["band"]) == ["100-125 yd", "75-100 yd", "50-75 yd"]  # the farthest first
    assert list(drawn["side"]) == [
        *("cannot tell yet", "middle ball outside break-even", "inside break-even"),
    ]
    colours = middles["encoding"]["color"]["scale"]
    assert dict(zip(colours["domain"], colours["range"], strict=True)) == {
        "middle ball outside break-even": LIGHT.loss,
        "inside break-even": LIGHT.gain,
        "cannot tell yet": LIGHT.ink,
    }
    assert set(colours["range"]) == set(MIDDLE_COLOURS.values())
    assert list(pd.DataFrame(data[marks["data"]["name"]])["break_even_ft"]) == [18.0, 15.0, 12.0]
    assert not of_mark(spec, "point")
    label = middles["encoding"]["y"]["axis"]["labelExpr"]
    assert '"0.25": "125-150 yd, n 3"' in label  # half a row, for it has no middle ball
    assert '["75-100 yd", "25, even 15 ft"]' in label
    assert '["50-75 yd", "9.0, even 12 ft"]' in label


def test_what_is_beyond_the_scale_is_an_arrow_and_the_farthest_is_named() -> None:
    """By hand: 98% of a hundred strokes end at 31.2 ft, so the scale ends at the mark of 35."""
    spec = proximity_panel(POINTS, MEDIANS, NO_LINE, "fairway").to_dict()
    dots, arrows = of_mark(spec, "point")
    assert dots["encoding"]["x"]["scale"]["domain"] == [0, 35.0]
    assert len(rows(spec, dots)) == 98
    beyond = rows(spec, arrows)
    assert list(beyond["finish_ft"]) == [90.0, 310.0]
    assert list(beyond["said"]) == ["", "310"]
    assert arrows["mark"]["shape"] == "triangle-right"
    # after half a row and a whole one; 87.5 yd is half way through its band
    assert beyond["at"].iloc[0] == pytest.approx(2.0)
    assert 1.5 < beyond["at"].iloc[1] < 2.0  # farther is higher
