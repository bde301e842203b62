"""A number: symmetry, water, spread, points, seeds; the same by brute force; units."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import GreenValue, green_of
from sgzone.clubs.number import (
    EQUAL_WITHIN,
    MISHIT,
    NUMBER_COLUMNS,
    SIDE_AIMS_FT,
    expected,
    number_table,
    plays_of,
)
from sgzone.errors import CallError
from sgzone.stats.quadrature import miss_points
from sgzone.stats.verdict import BEST, EQUAL
from sgzone.words.notes import POOLED, options
from sgzone.words.number import lead
from sgzone.words.say import Say
from tests.clubs.swings import known_swings

TOUR = benchmark("tour")
MIDDLE = green_of()
WATER_SHORT = green_of(lies=("water", "rough", "rough", "rough"))


def plan(swings=None, yards=97.0, green=MIDDLE, **options):
    return number_table(swings or known_swings(), yards, green, TOUR, **options)


def told(table: pd.DataFrame, yards: float) -> str:
    """Return the sentences about a number, one after the other."""
    return " ".join(lead(table, yards, Say()))


def test_columns_and_order():
    got = plan()
    assert got.columns.tolist() == list(NUMBER_COLUMNS)
    assert got["expected_strokes"].is_monotonic_increasing
    assert got["verdict"].iloc[0] == BEST
    assert got["difference"].to_numpy() == pytest.approx(
        got["expected_strokes"].to_numpy() - got["expected_strokes"].iloc[0]
    )
    assert got["low"].isna().tolist() == [True] + [False] * (len(got) - 1)


def test_a_symmetric_green_and_swing_are_aimed_at_the_hole():
    assert (plan()["side_aim_ft"] == 0).all()


def test_a_lean_is_aimed_off_and_water_is_shunned():
    left = plan(known_swings(side_lean=-0.02))
    assert left["side_aim_ft"].iloc[0] == pytest.approx(0.02 * 97 * 3, abs=1.5)
    water = plan(green=green_of(left=6, lies=("rough", "rough", "water", "rough")))
    assert water["side_aim_ft"].iloc[0] > 0


def test_the_expected_strokes_are_those_of_a_million_shots():
    """Against plain random shots from the same mixture, in feet, around the same green."""
    swings = known_swings(release=2.0)
    green = green_of(12, 31, 8, 24, ("sand", "rough", "water", "rough"))
    row = plan(swings, green=green).iloc[0]
    rng = np.random.default_rng(1)
    n = 1_000_000
    distance = 97 * 3 + row["finish_ft"]
    mishit = rng.random(n) < MISHIT.share
    usual = rng.normal(0, row["depth_sd_ft"], n)
    depth = np.where(mishit, distance * rng.normal(MISHIT.depth, MISHIT.depth_sd, n), usual)
    side = rng.normal(0, row["side_sd_ft"], n) * np.where(mishit, MISHIT.side, 1.0)
    value = GreenValue(green, TOUR)(row["finish_ft"] + depth, row["side_aim_ft"] + side)
    assert row["expected_strokes"] == pytest.approx(1 + value.mean(), abs=0.006)


@pytest.mark.parametrize(("green", "within"), [(MIDDLE, 0.006), (WATER_SHORT, 0.01)])
def test_1024_points_agree_with_32768(green, within):
    plays = plays_of(known_swings(), 97.0)
    worth = GreenValue(green, TOUR)
    few, many = (
        expected(plays, SIDE_AIMS_FT, worth, miss_points(MISHIT, n)) for n in (1024, 2**15)
    )
    assert np.abs(few - many).max() < within


def test_the_same_seed_gives_the_same_answer():
    one, same, other = (plan(seed=seed) for seed in (3, 3, 4))
    assert one.equals(same)
    assert not one.equals(other)
    assert other["expected_strokes"].to_numpy() == pytest.approx(
        one["expected_strokes"].to_numpy(), abs=0.01
    )


def test_doubling_the_spread_costs_strokes():
    one, twice = plan(), plan(known_swings(depth_sd=0.12, side_sd=0.10))
    assert twice["expected_strokes"].min() > one["expected_strokes"].min() + 0.1


def test_water_short_moves_the_best_finish_long_as_the_spread_grows():
    front = green_of(8, 30, lies=("water", "rough", "rough", "rough"))
    finish = []
    for sd in (0.02, 0.05, 0.09):
        swings = known_swings(carry=(97.0,), depth_sd=sd)
        finish.append(plan(swings, green=front, full_more=20.0)["finish_ft"].iloc[0])
    assert finish == sorted(finish)
    assert finish[-1] >= finish[0] + 9


def test_the_best_is_no_worse_than_the_closest_stock_carry_at_the_hole():
    green = green_of(9, 28, 7, 22, ("sand", "rough", "rough", "water"))
    for yards in (88.0, 92.0, 99.0, 103.0):
        swings = known_swings(depth_sd=(0.05, 0.09, 0.06))
        plays = plays_of(swings, yards)
        stock = plays.moved_yd == 0
        closest = int(np.argmin(np.abs(plays.finish_ft[stock])))
        cost = expected(plays, np.zeros(1), GreenValue(green, TOUR), miss_points(MISHIT))[stock]
        assert plan(swings, yards, green)["expected_strokes"].iloc[0] <= cost[closest, 0] + 1e-12


def test_moving_a_swing_widens_it_by_a_quarter_of_the_yards():
    """97 stock, moved 6 ft for the pin at 99 yd: 2 yd x 3 ft x .25 = 1.5 ft beside 17.82."""
    got = plan(known_swings(carry=(97.0,)), 99.0)
    got = options(got)
    moved = got[np.isclose(got["moved_yd"], 2.0)].iloc[0]
    sd = 0.06 * 99 * 3
    assert moved["depth_sd_ft"] == pytest.approx(np.hypot(sd, 1.5))
    assert moved["spread_cost_ft"] == pytest.approx(np.hypot(sd, 1.5) - sd)
    assert moved["played"] == "2 yd extra"
    assert got[got["moved_yd"] == 0]["played"].tolist() == ["stock"]


def test_a_shorter_swing_with_more_and_a_longer_with_less_are_both_options():
    got = plan(known_swings(carry=(90.0, 104.0), swing="half"), 97.0)
    ways = set(zip(got["club"], np.sign(got["moved_yd"]), strict=True))
    assert {("A", 1.0), ("B", -1.0)} <= ways


def test_landing_is_the_finish_less_the_release():
    """In yards: a finish 0 ft from a hole at 97 with 4 yd of release lands at 93."""
    got = plan(known_swings(carry=(93.0,), release=4.0), 97.0)
    stock = got[got["moved_yd"] == 0].iloc[0]
    assert stock["finish_ft"] == pytest.approx(0)
    assert stock["landing_yd"] == pytest.approx(93)


def test_feet_read_as_yards_give_another_answer():
    """The wrong-unit control: spreads three times too wide cost more than any tolerance here."""
    wrong = plan(known_swings(depth_sd=0.06 * 3, side_sd=0.05 * 3))
    assert wrong["expected_strokes"].iloc[0] > plan()["expected_strokes"].iloc[0] + 0.2


def test_equal_options_are_called_so_and_worse_ones_cost():
    got = plan(known_swings(carry=(97.0, 97.2, 104.0), depth_sd=(0.05, 0.05, 0.12)))
    twin = got[(got["club"] == "B") & (got["moved_yd"] == 0)].iloc[0]
    assert abs(twin["difference"]) <= EQUAL_WITHIN
    assert twin["verdict"] in (EQUAL, BEST)
    far = got[(got["club"] == "C") & (got["moved_yd"] == 0)].iloc[0]
    assert far["verdict"] == "costs more"
    assert far["low"] > EQUAL_WITHIN


def test_little_known_swings_are_too_close_to_separate():
    sure = known_swings(carry=(97.0, 100.0), depth_sd=(0.06, 0.07))
    unsure = replace(sure, df=np.full(2, 20.0), carry_sd=np.full(2, 0.03))
    wide, narrow = plan(unsure).iloc[1:], plan(sure).iloc[1:]
    assert (wide["high"] - wide["low"]).max() > 5 * (narrow["high"] - narrow["low"]).max()
    assert "too close to separate" in set(wide["verdict"])


def test_a_higher_level_is_wider():
    unsure = replace(known_swings(), df=np.full(3, 20.0), carry_sd=np.full(3, 0.02))
    narrow, wide = plan(unsure, level=0.8).iloc[1:], plan(unsure, level=0.95).iloc[1:]
    assert (wide["high"] - wide["low"] > narrow["high"] - narrow["low"]).all()


def test_few_shots_are_marked():
    """A, three yards shorter with 4 shots, is offered where B, full, does not get there."""
    bag = known_swings(carry=(90.0, 97.0), shots=(5, 4))
    assert set(options(plan(bag, 95.0)).groupby("club")["note"].first().items()) == {
        ("A", ""),
        ("B", POOLED),
    }
    assert "Few shots: its spread is that of your other swings." in told(plan(bag, 97.0), 97.0)
    assert "Few shots" not in told(plan(yards=97.0), 97.0)


@pytest.mark.parametrize("yards", [105.0, 110.0, 120.0])
def test_a_full_swing_is_moved_up_by_no_more_than_the_setting(yards):
    bag = known_swings(carry=(101.0, 125.0))
    for percent in (0.0, 3.0, 8.0):
        got = plan(bag, yards, full_more=percent)
        assert (got["moved_yd"] <= got["carry_yd"] * percent / 100).all()
    assert plan(bag, 105.0, full_more=3.0)["moved_yd"].max() == pytest.approx(1.0)  # 9 ft short
    assert plan(bag, 105.0, full_more=8.0)["moved_yd"].max() > 3.0


def test_where_no_swing_reaches_it_says_how_far_short_the_longest_is():
    found = plan(known_swings(carry=(97.0,)), 107.0)
    assert options(found)["note"].tolist() == ["no swing of yours reaches: 10 yd short"]
    said = told(found, 107.0)
    assert "No swing of yours reaches 107 yd: this one is 10 yd short of the hole." in said
    assert "reaches" not in told(plan(known_swings(carry=(97.0, 111.0)), 107.0), 107.0)
    assert "9 m short" in options(found, Say("metric"))["note"].iloc[0]


def test_no_swing_near_is_an_empty_table_and_a_plain_sentence():
    got = plan(known_swings(carry=(97.0,)), 150.0)
    assert len(got) == 0
    assert got.columns.tolist() == list(NUMBER_COLUMNS)
    assert "No stock swing of yours finishes near 150 yd" in told(got, 150.0)


@pytest.mark.parametrize("yards", [5.0, 500.0, float("nan")])
def test_numbers_out_of_reach_are_refused(yards):
    with pytest.raises(CallError, match="from 20 to 180, such as 97"):
        plan(yards=yards)


def test_the_sentence_says_what_where_and_on_how_many_shots():
    said = told(plan(known_swings(carry=(97.0, 97.5), side_lean=-0.02)), 97.0)
    for words in ("97 yd: ", "Land it 97 yd.", " ft right.", "(40 shots)"):
        assert words in said
    assert "Just as good: " in said
