"""What the charts of comparisons and clubs plot is what the tables say."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import vl_convert

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import green_of
from sgzone.clubs.number import number_table
from sgzone.clubs.picture import SHARES, picture
from sgzone.clubs.stock import NOT_APART, stock_table
from sgzone.clubs.wear import STEP_SHOTS, wear_steps
from sgzone.report.charts.clubs import green_map, number_curve, stock_ladder, wear_curve
from sgzone.report.charts.compare import comparison, differences
from sgzone.review.beside.pairs import finish_shares
from sgzone.words.notes import options
from tests.clubs.balls import shots_of
from tests.clubs.swings import known_swings

TOUR = benchmark("tour")
GREEN = green_of(12, 31, 8, 24, ("sand", "rough", "water", "rough"))


@pytest.fixture(scope="module")
def plan() -> pd.DataFrame:
    return number_table(
        known_swings((90.0, 97.0, 104.0), release=2.0, side_lean=-0.02), 97.0, GREEN, TOUR
    )


@pytest.fixture(scope="module")
def sheet(plan: pd.DataFrame) -> pd.DataFrame:
    best = plan.drop_duplicates("club")
    return pd.concat(
        [best.assign(number_yd=n, rank=range(1, len(best) + 1)) for n in (97.0, 102.0)]
    )


def _drawn(spec: dict, layer: int) -> pd.DataFrame:
    name = spec["layer"][layer].get("data", spec.get("data"))["name"]
    return pd.DataFrame(spec["datasets"][name])


def _renders(chart) -> None:
    spec = chart.to_dict()
    if spec.get("width") == "container":
        chart = chart.properties(width=500)
    svg = vl_convert.vegalite_to_svg(chart.to_json())
    assert svg.startswith("<svg")
    assert "NaN" not in svg


def test_comparison_draws_the_share_within_each_distance():
    rows = pd.DataFrame({"group": ["A"] * 4 + ["B"] * 2, "end_distance_ft": [8.0, 2, 4, 6, 20, 10]})
    shares = finish_shares(rows, ["A", "B"])
    chart = comparison(shares, 14.0)
    spec = chart.to_dict()
    rule, lines, _ = range(3)
    drawn = _drawn(spec, lines)
    assert drawn["finish_ft"].tolist() == [2, 4, 6, 8, 10, 20]
    assert drawn["share"].tolist() == [0.25, 0.5, 0.75, 1.0, 0.5, 1.0]
    assert set(drawn["name"]) == {"A (4 shots)", "B (2 shots)"}
    assert _drawn(spec, rule)["finish_ft"].tolist() == [14.0]
    assert "ft" in spec["layer"][lines]["encoding"]["x"]["title"]
    _renders(chart)
    assert len(_drawn(comparison(shares, np.nan).to_dict(), rule)) == 0


def test_differences_draw_raw_and_adjusted_with_the_interval():
    table = pd.DataFrame(
        {
            "first": ["A"],
            "second": ["B"],
            "difference": [0.2],
            "low": [0.05],
            "high": [0.35],
            "adjusted": [0.09],
            "p_better": [0.93],
            "verdict": ["better here"],
            "better": ["B"],
            "shots_first": [40],
            "shots_second": [50],
            "shots_to_settle": [130],
        }
    )
    chart = differences(table)
    spec = chart.to_dict()
    row = pd.DataFrame(next(iter(spec["datasets"].values()))).iloc[0]
    assert row["pair"] == "B against A|B is better, 50 and 40 shots"
    leaning = differences(table.assign(verdict="leaning", better="A")).to_dict()
    [one] = next(iter(leaning["datasets"].values()))
    assert one["pair"] == "B against A|leans to A, 50 and 40 shots"
    fields = [layer["encoding"]["x"].get("field") for layer in spec["layer"][1:]]
    assert fields == ["low", "difference", "adjusted"]
    _renders(chart)


def test_ladder_draws_carries_intervals_and_gaps():
    rng = np.random.default_rng(1)
    shots = pd.concat(
        [
            shots_of(c, "full", m + rng.normal(0, 3, 30), meant=m, side_ft=rng.normal(0, 9, 30))
            for c, m in (("58", 78.0), ("54", 92.0))
        ]
    )
    ladder = stock_table(shots, shots, TOUR)
    chart = stock_ladder(ladder)
    drawn = pd.DataFrame(next(iter(chart.to_dict()["datasets"].values())))
    for column in ("carry_yd", "low", "high"):
        assert drawn[column].to_numpy() == pytest.approx(ladder[column].to_numpy())
    width = drawn["sd_high"] - drawn["sd_low"]
    assert width.to_numpy() == pytest.approx(2 * ladder["depth_sd_ft"].to_numpy() / 3)
    assert drawn["said"].iloc[0].endswith("yd: wide gap")
    near = stock_ladder(ladder.assign(step=NOT_APART)).to_dict()["datasets"]
    assert {row["said"].split(": ")[1] for row in next(iter(near.values()))} == {"unclear"}
    _renders(chart)


def test_number_curve_draws_the_best_three(sheet):
    chart = number_curve(sheet)
    spec = chart.to_dict()
    marks = _drawn(spec, 1)
    assert marks["expected_strokes"].to_numpy() == pytest.approx(
        sheet["expected_strokes"].to_numpy()
    )
    assert set(marks["place"]) == {"best", "second", "third"}
    assert _drawn(spec, 0)["number_yd"].tolist() == [97.0, 102.0]
    _renders(chart)


def test_the_picture_of_a_number(plan):
    seen = picture(options(plan), 97.0, GREEN)
    best = plan.iloc[0]
    landing, finish = (
        seen.marks[seen.marks["what"] == what].iloc[0] for what in ("landing", "finish")
    )
    assert finish["depth_ft"] == pytest.approx(best["finish_ft"])
    assert landing["depth_ft"] == pytest.approx(best["finish_ft"] - 6.0)  # 2 yd of release
    assert finish["side_ft"] == pytest.approx(
        best["side_aim_ft"] - 0.02 * (291 + best["finish_ft"])
    )
    along = seen.edge[np.isclose(seen.edge["side_ft"], 0, atol=1.5)]["depth_ft"]
    assert (along.min(), along.max()) == pytest.approx((-36, 57), abs=1.0)
    rng = np.random.default_rng(2)
    y = rng.normal(0, best["depth_sd_ft"], 20_000) / best["depth_sd_ft"]
    x = rng.normal(0, best["side_sd_ft"], 20_000) / best["side_sd_ft"]
    one = seen.contours[seen.contours["play"] == finish["play"]]
    for share in SHARES:
        line = one[one["share"] == share]
        reach = (line["depth_ft"].max() - finish["depth_ft"]) / best["depth_sd_ft"]
        assert (x**2 + y**2 <= reach**2).mean() == pytest.approx(share, abs=0.02)


def test_the_green_is_drawn_to_scale(plan):
    chart = green_map(picture(options(plan), 97.0, GREEN))
    spec = chart.to_dict()
    x, y = (spec["layer"][0]["encoding"][axis]["scale"]["domain"] for axis in ("x", "y"))
    assert spec["width"] / (x[1] - x[0]) == pytest.approx(spec["height"] / (y[1] - y[0]))
    assert _drawn(spec, 3)[["side_ft", "depth_ft"]].to_numpy().tolist() == [[0.0, 0.0]]
    _renders(chart)


def test_wear_draws_steps_of_twenty_shots():
    points = pd.DataFrame(
        {
            "player": "A",
            "club": "54",
            "in_play_from": pd.Timestamp("2026-03-01"),
            "since_new": np.arange(1, 46),
            "gained": np.repeat([0.0, -0.1, -0.5], [20, 20, 5]) + np.tile([0.1, -0.1, 0.0], 15),
        }
    )
    steps = wear_steps(points)
    assert steps["shots"].tolist() == [STEP_SHOTS, STEP_SHOTS]  # five more are no step yet
    assert steps["since_new"].tolist() == [10.5, 30.5]
    assert steps["mean"].to_numpy() == pytest.approx(
        [points["gained"][:20].mean(), points["gained"][20:40].mean()]
    )
    chart = wear_curve(steps)
    assert _drawn(chart.to_dict(), 1)["mean"].to_numpy() == pytest.approx(steps["mean"].to_numpy())
    _renders(chart)
