"""The four misses, short-sided misses and the points of the miss map, by hand."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.review.why.misses import (
    MISSES,
    SHORT_SIDED,
    WIDE_SIDED,
    miss_contours,
    miss_points,
    misses,
    short_sided,
)
from tests.review.shots import Truth, play

TOUR = benchmark("tour")


def _strokes(rows: list[tuple[float, float, float, str]], **more: object) -> pd.DataFrame:
    """Return strokes of (depth, side, gained, end lie), feet and strokes, two to a round."""
    frame = pd.DataFrame(rows, columns=["depth_ft", "side_ft", "gained", "end_lie"])
    frame["end_distance_ft"] = np.hypot(frame["depth_ft"], frame["side_ft"])
    frame["round_key"] = np.arange(len(frame)) // 2
    return frame.assign(part="wedge_50_100", status="scored", **more)


def test_share_and_cost_by_hand() -> None:
    table = misses(
        _strokes(
            [
                (10, -5, -0.2, "green"),
                (12, -8, -0.4, "green"),
                (-9, -3, 0.1, "green"),
                (-30, 4, -0.7, "sand"),
                (0, 0, 1.0, "holed"),
                (-12, -6, -0.3, "green"),
            ]
        )
    ).set_index("miss")
    assert list(table.index) == list(MISSES)
    assert table["shots"].to_dict() == dict(zip(MISSES, (2, 0, 2, 1), strict=True))
    assert table["share"].to_list() == pytest.approx([0.4, 0.0, 0.4, 0.2])
    assert table.loc["long-left", "loss_per_shot"] == pytest.approx(0.3)
    assert table.loc["short-left", "loss_per_shot"] == pytest.approx(0.1)
    assert table.loc["short-right", "loss_per_shot"] == pytest.approx(0.7)
    assert np.isnan(table.loc["long-right", "loss_per_shot"])
    assert table["rounds"].to_list() == [1, 0, 2, 1]
    assert table[["low", "high"]].isna().all(axis=None)
    assert set(table["note"]) == {"not enough shots"}


def test_an_interval_needs_ten_shots_in_five_rounds() -> None:
    rows = [(-10.0, -5.0, -0.1 * (k % 3), "green") for k in range(10)]
    long = [(10.0, -5.0, -0.2 * (k % 3), "green") for k in range(9)]
    table = misses(_strokes(rows + long)).set_index("miss")
    ready, short = table.loc["short-left"], table.loc["long-left"]
    assert (ready["shots"], ready["rounds"], ready["note"]) == (10, 5, "")
    # rounds of two: losses .1, .2, .3, .1, .2; mean .09, sum of squared departures .028
    half = 1.5332062740589438 * 5 / 4 * np.sqrt(0.028) / 10
    assert ready[["low", "high"]].to_list() == pytest.approx([0.09 - half, 0.09 + half])
    assert (short["shots"], short["rounds"], short["note"]) == (9, 5, "not enough shots")
    assert short[["low", "high"]].isna().all()


def test_shares_add_up_and_turning_round_swaps_left_and_right() -> None:
    strokes = play(Truth(side_bias=0.5, unseen=0.2), TOUR, 400, 20, np.random.default_rng(1))
    table = misses(strokes).set_index("miss")
    turned = misses(strokes.assign(side_ft=-strokes["side_ft"])).set_index("miss")
    assert table["share"].sum() == pytest.approx(1)
    missed = strokes["side_ft"].notna() & (strokes["end_lie"] != "holed")
    assert table["shots"].sum() == missed.sum()
    swapped = turned.rename(
        index=lambda miss: miss.replace("left", "x").replace("right", "left").replace("x", "right")
    )
    pd.testing.assert_frame_equal(swapped.loc[list(MISSES)], table)


SHEET = {"pin_on_yd": 4.0, "green_deep_yd": 30.0, "pin_left_yd": 10.0, "green_wide_yd": 20.0}


@pytest.mark.parametrize(
    ("depth", "side", "close"),
    [
        (-20, 0, True),  # short of a front pin
        (85, 0, False),  # long: the whole green between ball and pin
        (0, 40, False),  # right: the pin stands in the middle third across
        (-14, 50, False),  # short and right: farthest beyond the right edge
        (-40, 35, True),  # short and right: farthest beyond the front edge
    ],
)
def test_short_sided_is_over_the_edge_the_pin_is_close_to(
    depth: float, side: float, close: bool
) -> None:
    table = short_sided(_strokes([(depth, side, -0.5, "rough")], **SHEET)).set_index("miss")
    assert table.loc[SHORT_SIDED, "shots"] == int(close)
    assert table.loc[WIDE_SIDED, "shots"] == int(not close)


def test_short_sided_needs_a_missed_green_and_the_sheet() -> None:
    assert short_sided(_strokes([(-20, 0, -0.5, "green")], **SHEET)).empty
    bare = {**SHEET, "pin_left_yd": np.nan}
    assert short_sided(_strokes([(-20, 0, -0.5, "rough")], **bare)).empty


def test_points_and_contours_of_a_known_pattern() -> None:
    rng = np.random.default_rng(4)
    depth, side = rng.normal(-10, 20, 20_000), rng.normal(5, 8, 20_000)
    strokes = _strokes([(d, s, 0.0, "green") for d, s in zip(depth, side, strict=True)])
    points = miss_points(strokes)
    assert set(points["end"]) == {"green"}
    contours = miss_contours(points)
    for share, corners in contours.groupby("share"):
        ring = corners[["depth_ft", "side_ft"]]
        assert ring.mean().to_numpy() == pytest.approx([-10, 5], abs=1.0)
        radius = np.hypot((depth + 10) / 20, (side - 5) / 8)
        reach = np.hypot((ring["depth_ft"] + 10) / 20, (ring["side_ft"] - 5) / 8)
        assert np.mean(radius <= reach.mean()) == pytest.approx(share, abs=0.02)
    assert miss_contours(points.head(9)).empty
