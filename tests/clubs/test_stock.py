"""The ladder: medians, intervals, gaps, what is set aside; known carries found again."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from sgzone.benchmarks import benchmark
from sgzone.clubs.options import swings_of
from sgzone.clubs.shots import stock_balls, stock_swings, with_carry
from sgzone.clubs.stock import (
    NOT_APART,
    OVERLAP,
    STOCK_COLUMNS,
    WIDE_GAP,
    stock_table,
    stocks,
)
from sgzone.terms import NOT_ENOUGH
from sgzone.words.notes import INFERRED, POOLED, noted
from tests.clubs.balls import shots_of

TOUR = benchmark("tour")


def ladder(shots, **options):
    return stock_table(shots, shots, TOUR, **options)


def normal(rng, mean, sd, n):
    return mean + sd * rng.standard_normal(n)


def test_median_and_intervals_by_hand():
    rng = np.random.default_rng(7)
    carry = normal(rng, 90, 5, 31)
    side = normal(rng, 0, 12, 31)
    row = ladder(shots_of("54", "full", carry, meant=92.0, side_ft=side)).iloc[0]
    assert row["carry_yd"] == pytest.approx(np.median(carry))
    assert (row["shots"], row["meant_yd"]) == (31, 92.0)
    df = 19 + 31
    sd_yd = row["depth_sd_ft"] / 3
    half = stats.t.ppf(0.9, df) * np.sqrt(np.pi / 2) * sd_yd / np.sqrt(31)
    assert row["high"] - row["carry_yd"] == pytest.approx(half)
    edges = stats.chi2.interval(0.8, df)
    assert row["depth_sd_high_ft"] == pytest.approx(row["depth_sd_ft"] * np.sqrt(df / edges[0]))
    assert row["depth_sd_low_ft"] == pytest.approx(row["depth_sd_ft"] * np.sqrt(df / edges[1]))
    raw = np.std(3 * (carry - 92) / (3 * 92), ddof=1) * np.median(carry) * 3
    assert row["raw_depth_sd_ft"] == pytest.approx(raw)


def test_columns_and_an_empty_ladder():
    shots = shots_of("54", "full", np.full(12, 90.0), meant=90.0)
    assert ladder(shots).columns.tolist() == list(STOCK_COLUMNS)
    empty = ladder(shots.iloc[:0])
    assert empty.columns.tolist() == list(STOCK_COLUMNS)
    assert len(empty) == 0


def test_gaps_and_overlaps_are_marked():
    rng = np.random.default_rng(2)
    carries = {"58": 70.0, "54": 71.5, "50": 80.0, "46": 96.0}
    shots = pd.concat(
        [shots_of(c, "full", normal(rng, m, 0.5, 40), meant=m) for c, m in carries.items()]
    )
    got = ladder(shots)
    assert got["club"].tolist() == list(carries)
    assert got["step"].tolist() == [OVERLAP, "", WIDE_GAP, ""]
    assert got["gap_yd"].iloc[:3].tolist() == pytest.approx([1.5, 8.5, 16.0], abs=0.6)
    assert ladder(shots, gap_yd=20.0)["step"].tolist() == [OVERLAP, "", "", ""]


def test_a_step_that_luck_may_explain_says_so():
    rng = np.random.default_rng(3)
    shots = pd.concat(
        [
            shots_of(c, "full", normal(rng, m, 9, 4), meant=m)
            for c, m in (("58", 80.0), ("54", 84.0))
        ]
    )
    got = ladder(shots)
    assert got["step"].iloc[0] in (NOT_APART, OVERLAP)
    assert got["gap_low"].iloc[0] < 0 < got["gap_high"].iloc[0]


def test_mishits_are_counted_and_leave_the_spread_alone():
    rng = np.random.default_rng(4)
    good, bad = normal(rng, 100, 4, 95), normal(rng, 60, 4, 5)
    with_bad = ladder(shots_of("50", "full", np.append(good, bad), meant=100.0)).iloc[0]
    without = ladder(shots_of("50", "full", good, meant=100.0)).iloc[0]
    assert with_bad["mishit_share"] == pytest.approx(0.05, abs=0.011)
    assert with_bad["depth_sd_ft"] == pytest.approx(without["depth_sd_ft"], rel=0.1)
    assert with_bad["raw_depth_sd_ft"] > 1.8 * without["raw_depth_sd_ft"]
    assert with_bad["carry_yd"] == pytest.approx(without["carry_yd"], abs=1)


def test_wind_is_taken_out_of_a_carry():
    """138 yd that played 154: a ball that flew 138 carries 154 in calm air."""
    shots = shots_of("7i", "full", np.full(12, 138.0), meant=138.0)
    assert stocks(shots.assign(number_yd=154.0)).carry.tolist() == [154.0]
    assert stocks(shots.assign(number_yd=154.0)).meant.tolist() == [154.0]


def test_other_lies_are_left_out():
    good = shots_of("54", "full", np.full(10, 92.0), meant=92.0)
    rough = shots_of("54", "full", np.full(30, 80.0), meant=92.0, lie="rough")
    row = ladder(pd.concat([good, rough])).iloc[0]
    assert (row["carry_yd"], row["shots"], row["spread_shots"]) == (92.0, 10, 10)


def test_balls_at_one_number_make_the_stock_carry():
    rng = np.random.default_rng(5)
    stock = shots_of("54", "half", normal(rng, 55, 1, 6), meant=57.0, source="test", block="stock")
    mixed = [
        shots_of("54", "half", np.array([m - 2.0]), meant=m, source="test", block="numbers")
        for m in (35.0, 38.0, 40.0, 42.0, 45.0)
    ]
    balls = stock_balls(pd.concat([stock, *mixed], ignore_index=True))
    assert len(balls) == 6
    assert len(stock_balls(pd.concat(mixed, ignore_index=True))) == 5


def test_finishes_stand_for_carries_only_where_none_was_written_down():
    known = shots_of("54", "full", np.array([90.0, np.nan]), meant=92.0)
    known["depth_ft"] = [0.0, 30.0]
    none = shots_of("50", "full", np.full(12, np.nan), meant=105.0)
    none["depth_ft"] = -6.0
    got = with_carry(pd.concat([known, none], ignore_index=True))
    assert got["carry"].tolist()[:1] == [90.0]
    assert np.isnan(got["carry"].iloc[1])
    assert got["carry"].iloc[2:].tolist() == [103.0] * 12
    row = noted(ladder(none), "clubs").iloc[0]
    assert row["note"] == INFERRED


def test_few_shots_are_said():
    found = ladder(shots_of("58", "half", np.array([40.0, 42.0]), meant=42.0))
    row = noted(found, "clubs").iloc[0]
    assert row["note"] == f"{NOT_ENOUGH}; {POOLED}"


def test_a_club_without_a_swing_is_one_only_where_none_is_ever_written():
    chips = shots_of("54", "", np.full(5, 30.0), meant=30.0)
    full = shots_of("54", "full", np.full(5, 92.0), meant=92.0)
    other = shots_of("putter-like", "", np.full(5, 40.0), meant=40.0)
    got = stock_swings(pd.concat([chips, full, other], ignore_index=True))
    assert got.groupby(["club", "swing"]).size().to_dict() == {
        ("54", "full"): 5,
        ("putter-like", ""): 5,
    }


def test_swings_pull_few_shots_towards_what_is_meant():
    """Off by 6%: three shots hardly move the plan, three hundred move it all the way."""
    rng = np.random.default_rng(6)
    sides = normal(rng, 0, 10, 300)
    few, many = (
        swings_of(shots_of("54", "half", c, meant=57.0, side_ft=sides[: len(c)]), run, TOUR)
        for run in [shots_of("54", "half", np.full(0, 0.0), meant=57.0)]
        for c in (normal(rng, 53.6, 5, 3), normal(rng, 53.6, 5, 300))
    )
    assert abs(few.carry_yd[0] - 57) < abs(many.carry_yd[0] - 57)
    assert many.carry_yd[0] == pytest.approx(53.6, abs=0.8)
    assert few.carry_sd[0] > many.carry_sd[0]


def test_release_joins_carry_and_finish():
    shots = shots_of("54", "full", np.full(40, 90.0), meant=90.0, target=93.0, release=3.0)
    got = swings_of(shots, shots, TOUR)
    assert got.release_yd == pytest.approx([3.0])
    assert got.finish_yd == pytest.approx([93.0])
    firm = shots.assign(firmness="firm")
    long = shots_of("54", "full", np.full(40, 90.0), meant=90.0, target=97.0, release=7.0)
    both = pd.concat([shots.assign(firmness="soft"), firm.assign(firmness="soft"), long])
    both.loc[both["firmness"].isna(), "firmness"] = "firm"
    runs = [swings_of(both, both, TOUR, firmness=f).release_yd[0] for f in ("soft", "firm")]
    assert runs[1] > runs[0] + 2


def test_no_shots_no_swings():
    none = shots_of("54", "full", np.array([]), meant=90.0)
    assert len(swings_of(none, none, TOUR).club) == 0
