"""What the charts of causes and misses plot is what the tables say."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import vl_convert

from sgzone.benchmarks import benchmark
from sgzone.report.charts.why import PIECES, cause_bars, miss_map, why_chart
from sgzone.review.why.misses import miss_contours, miss_points
from sgzone.review.why.split import why_table
from sgzone.terms import CAUSE_WORDS, FRINGE
from sgzone.words.notes import as_gains, met
from tests.review.shots import Truth, play

TOUR = benchmark("tour")


@pytest.fixture(scope="module")
def strokes() -> pd.DataFrame:
    rng = np.random.default_rng(8)
    near = play(Truth(depth_bias=0.8, low_ft=15, high_ft=89, lies=("rough",)), TOUR, 90, 10, rng)
    far = play(Truth(depth_bias=-0.8, penalty=0.05), TOUR, 120, 10, rng)
    return pd.concat([far, near], ignore_index=True)


def _plotted(spec: dict) -> pd.DataFrame:
    (rows,) = spec["datasets"].values()
    return pd.DataFrame(rows)


def test_causes_are_drawn_as_they_stand_with_their_intervals(strokes: pd.DataFrame) -> None:
    table = why_table(strokes, TOUR, 180)
    spec = why_chart(table, against="tour").to_dict()
    rows = _plotted(spec)
    shown = as_gains(met(table))
    for column in ("gained_per_shot", "low", "high"):
        assert rows[column].to_numpy() == pytest.approx(shown[column].to_numpy())
    left_out = table.drop(index=shown.index)
    assert set(left_out["factor"]) == {FRINGE, "direction_unknown", "penalty"}  # there are none
    assert (rows["gained_per_shot"] > 0).any()  # what gains is drawn, not clipped
    zero, bars, whiskers, dots = spec["spec"]["layer"]
    assert bars["transform"][0]["filter"] == "datum.column != 'total'"
    assert bars["encoding"]["x"].get("stack", True) not in ("normalize", False)
    assert (whiskers["encoding"]["x"]["field"], whiskers["encoding"]["x2"]["field"]) == (
        "low",
        "high",
    )
    assert dots["encoding"]["x"]["field"] == "gained_per_shot"
    assert bars["encoding"]["x"]["title"] == "strokes a shot, − loses"
    assert bars["encoding"]["y"]["sort"] == list(CAUSE_WORDS.values())
    assert bars["encoding"]["color"]["scale"]["range"] == PIECES
    assert "domain" not in bars["encoding"]["x"].get("scale", {})
    assert zero["encoding"]["x"]["datum"] == 0
    assert spec["title"]["text"] == "Why strokes go against tour"


@pytest.mark.parametrize(
    ("low", "high", "ticks", "said"),
    [
        (-0.024, 0.186, [-0.15, -0.1, -0.05, 0.0], "+.2f"),
        (-0.038, 0.157, [-0.15, -0.1, -0.05, 0.0], "+.2f"),
        (-0.05, 0.31, [-0.3, -0.2, -0.1, 0.0], "+.1f"),
        (-0.007, 0.0, [0.0, 0.002, 0.004, 0.006], "+.3f"),
        (-0.3, 2.9, [-2.0, -1.0, 0.0], "+.0f"),
        (float("nan"), float("nan"), [-0.04, -0.02, 0.0], "+.2f"),
    ],
)
def test_the_axis_of_causes_names_0_and_whole_steps(
    low: float, high: float, ticks: list[float], said: str
) -> None:
    """``low`` and ``high`` are of the loss; ``ticks`` worked out by hand: at most five labels."""
    pieces = {"proximity": 0.03, "missed_green": 0.02, "total": 0.05}
    if high == 0.0:
        pieces = dict.fromkeys(pieces, 0.0)
    table = pd.DataFrame(
        {
            "part": "chip_0_30",
            "factor": "penalty",
            "column": list(pieces),
            "loss_per_shot": list(pieces.values()),
            "low": [float("nan"), float("nan"), low],
            "high": [float("nan"), float("nan"), high],
            "loss_per_round": 0.1,
            "shots": 40,
            "note": "",
        }
    )
    axis = cause_bars(table).to_dict()["layer"][1]["encoding"]["x"]["axis"]
    assert axis["values"] == ticks
    assert axis["labelExpr"] == f"datum.value === 0 ? '0' : format(datum.value, '{said}')"
    assert axis["labelOverlap"] is False


def test_misses_are_drawn_at_one_scale_around_the_hole(strokes: pd.DataFrame) -> None:
    points = miss_points(strokes)
    spec = miss_map(points, miss_contours(points)).to_dict()
    assert [one["title"]["text"] for one in spec["concat"]] == [
        "approach 100-150 yd",
        "chip 0-30 yd",
    ]
    for one in spec["concat"]:
        dots, lines, hole = one["layer"]
        x, y = dots["encoding"]["x"], dots["encoding"]["y"]
        assert (x["field"], y["field"]) == ("side_ft", "depth_ft")
        assert x["scale"]["domain"] == y["scale"]["domain"]
        assert one["width"] == one["height"]
        drawn = pd.DataFrame(spec["datasets"][dots["data"]["name"]])
        reach = x["scale"]["domain"][1]
        assert drawn[["depth_ft", "side_ft"]].abs().max().max() < reach
        assert spec["datasets"][hole["data"]["name"]] == [{"side_ft": 0.0, "depth_ft": 0.0}]
        assert lines["encoding"]["order"]["field"] == "step"
    first = pd.DataFrame(spec["datasets"][spec["concat"][0]["layer"][0]["data"]["name"]])
    assert len(first) == 120
    assert first["depth_ft"].to_numpy() == pytest.approx(strokes["depth_ft"][:120].to_numpy())


def test_both_render(strokes: pd.DataFrame) -> None:
    points = miss_points(strokes)
    for chart in (
        why_chart(why_table(strokes, TOUR, 180)),
        miss_map(points, miss_contours(points)),
    ):
        svg = vl_convert.vegalite_to_svg(chart.to_json())
        assert "NaN" not in svg
        assert svg.startswith("<svg")
