"""Putts by distance against published shares, and the player's curve."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy.special import expit

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.sources import read_published
from sgzone.review.why.putting import (
    CURVES,
    FIT_TO_FT,
    YOU,
    holed_share,
    putting,
    putting_curve,
    putting_points,
    putts_beside,
)

TOUR = benchmark("tour")


def _putts(rows: list[tuple[float, str, float, str]]) -> pd.DataFrame:
    frame = pd.DataFrame(rows, columns=["distance_ft", "end_lie", "end_distance_ft", "band"])
    return frame.assign(lie="green", round_key=np.arange(len(frame)) % 3, status="scored")


def test_by_hand() -> None:
    rows = [(8, "holed", 0, "5-10 ft"), (8, "green", 2, "5-10 ft"), (8, "green", 1, "5-10 ft")]
    rows += [(20, "green", 3, "20-30 ft"), (20, "green", 2, "20-30 ft")]
    table = putting(_putts(rows), TOUR).set_index("band")
    assert list(table.index) == ["5-10 ft", "20-30 ft"]
    near = table.loc["5-10 ft"]
    assert (near["putts"], near["missed"], near["rounds"]) == (3, 2, 3)
    assert near["holed_share"] == pytest.approx(1 / 3)
    assert near["low"] < 1 / 3 < near["high"]
    assert near["benchmark_share"] == pytest.approx(0.50)
    assert near["next_putt_ft"] == pytest.approx(1.5)
    assert np.isnan(near["benchmark_next_ft"])
    far = table.loc["20-30 ft"]
    assert (far["low"], far["holed_share"]) == (pytest.approx(0, abs=1e-12), 0)
    assert far["high"] > 0.1
    # 20 ft: 1.87 putts, 15% holed: the next putt takes 0.87 / 0.85 = 1.0235, as from 2 to 3 ft
    assert 2 < far["benchmark_next_ft"] < 3
    assert TOUR.expected("green", far["benchmark_next_ft"]) == pytest.approx(0.87 / 0.85, abs=0.002)


@pytest.mark.parametrize("name", ["tour", "scratch", "amateur-90"])
def test_shares_pass_through_the_printed_rows(name: str) -> None:
    rows = read_published("putt_outcomes.csv")
    rows = rows[rows["population"] == name]
    share, status = holed_share(name, rows["distance_ft"].astype(float))
    assert 100 * share == pytest.approx(rows["percent"].astype(float).to_numpy())
    assert list(status) == list(rows["status"])


def test_shares_between_and_beyond() -> None:
    share, status = holed_share("tour", [6.5, 12.0, 61.0, 1.0])
    assert 0.58 < share[0] < 0.66
    assert status[0] == "memory"  # one of its two neighbours is
    assert status[1] == "reproduced"
    assert np.isnan(share[2])
    assert status[2] == ""
    assert share[3] == pytest.approx(0.99)
    assert np.isnan(holed_share("amateur-80", [5.0])[0]).all()


def test_a_known_curve_comes_back() -> None:
    rng = np.random.default_rng(5)
    feet = rng.uniform(2, 40, 6000)
    holed = rng.random(6000) < expit(2.5 - 0.3 * feet)
    strokes = pd.DataFrame(
        {
            "lie": "green",
            "distance_ft": feet,
            "end_lie": np.where(holed, "holed", "green"),
            "round_key": rng.integers(60, size=6000),
        }
    )
    at = np.array([3.0, 8.0, 15.0, 30.0])
    table = putting_curve(strokes, at)
    own = table[table["who"] == YOU]
    assert own["distance_ft"].max() <= FIT_TO_FT
    assert own["holed_share"].to_numpy() == pytest.approx(expit(2.5 - 0.3 * at[:3]), abs=0.03)
    assert ((own["low"] < own["holed_share"]) & (own["holed_share"] < own["high"])).all()
    assert own["putts"].eq((feet <= FIT_TO_FT).sum()).all()
    assert set(table["who"]) == {YOU, *CURVES}
    one_golfer = table[table["who"] == "one golfer, 3-7 ft"]
    assert one_golfer["distance_ft"].to_list() == [3.0]
    assert one_golfer["source"].to_list() == ["stat2"]


def test_tap_ins_do_not_tilt_the_curve() -> None:
    far = [(8, "holed", k % 9, "5-10 ft") for k in range(50)]
    far += [(8, "green", k % 9, "5-10 ft") for k in range(50)]
    far += [(16, "holed", k % 9, "10-20 ft") for k in range(20)]
    far += [(16, "green", k % 9, "10-20 ft") for k in range(80)]
    near = [(1, "holed", k % 9, "0-5 ft") for k in range(300)]
    own = putting_curve(_putts(far + near), np.array([1.0, 8.0, 16.0]))
    own = own[own["who"] == YOU]
    assert own["distance_ft"].to_list() == [8.0, 16.0]
    assert own["holed_share"].to_list() == pytest.approx([0.5, 0.2], abs=1e-6)  # two points, exact
    assert own["putts"].eq(200).all()


def test_points_are_what_was_holed_in_steps_of_two_feet() -> None:
    rows = [(1.5, "holed", 0, "0-5 ft"), (2.0, "holed", 0, "0-5 ft"), (3.5, "green", 0, "0-5 ft")]
    rows += [(4.0, "holed", 1, "0-5 ft"), (18.0, "green", 1, "10-20 ft")]
    rows += [(20.0, "holed", 1, "20-30 ft"), (20.5, "holed", 1, "20-30 ft")]
    points = putting_points(_putts(rows))
    assert points["distance_ft"].to_list() == [2.75, 4.0, 19.0]
    assert points["holed_share"].to_list() == [0.5, 1.0, 0.5]
    assert points["putts"].to_list() == [2, 1, 2]
    # Wilson by hand, one of two at 80%: centre .5, half z sqrt(1/8 + z^2/16) / (1 + z^2/2)
    z2 = 1.2815515655446004**2
    half = (z2 / 8 + z2**2 / 16) ** 0.5 / (1 + z2 / 2)
    assert points["low"].iloc[0] == pytest.approx(0.5 - half)
    assert points["high"].iloc[0] == pytest.approx(0.5 + half)


def test_the_standard_is_asked_at_every_putt_of_a_step() -> None:
    """Tour: 99% from 2 ft, 96% from 3; 66% from 6, and 58% from 7 by memory alone."""
    rows = [(feet, "holed", 0, "0-5 ft") for feet in (2, 2, 3, 6, 7)]
    curve, points = putts_beside(_putts(rows).assign(round_key=range(5)), "tour")
    assert points["putts"].to_list() == [3, 2]
    assert points["benchmark_share"].to_list() == pytest.approx([(99 + 99 + 96) / 300, 0.62])
    assert points["status"].to_list() == ["reproduced", "memory"]
    at_the_mean = curve.set_index("distance_ft").loc[7 / 3, "holed_share"]
    assert abs(at_the_mean - 0.98) > 1e-4  # the curve is bent


def test_too_few_putts_leave_the_published_curves_alone() -> None:
    few = _putts([(5, "holed", 0, "5-10 ft")] * 4 + [(6, "green", 1, "5-10 ft")] * 9)
    assert set(putting_curve(few, np.arange(2.0, 21.0))["who"]) == set(CURVES)
