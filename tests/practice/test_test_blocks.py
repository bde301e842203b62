"""Test blocks: what is pooled and what never, the change by hand, what so few days can see."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from sgzone.benchmarks import benchmark
from sgzone.practice.series import block_series
from sgzone.practice.settings import Settings
from sgzone.practice.test_blocks import (
    _change,
    block_change,
    mixed_blocks,
    rounds_to_show,
    updated_recoverable,
)
from sgzone.resources import data_path
from sgzone.review.why.reference import reference_finish
from sgzone.season.selection import EVERYTHING
from sgzone.season.store import open_store

BALL_SD, DAY_SD = 0.66, 0.10
NUMBERS = (55, 63, 71, 78, 84, 90, 96)


def ball_rows(day: int, miss_ft, *, block="b", ball="own", surface="grass", numbers=NUMBERS):
    """Balls at these numbers, all of one miss or one each, straight long."""
    miss = np.broadcast_to(miss_ft, (len(numbers),))
    return [
        {
            "player": "Ada",
            "date": f"2026-05-{day:02d}",
            "block": f"{block}{day}",
            "target_yd": number,
            "club": "54",
            "depth_ft": round(float(feet), 3),
            "side_ft": 0,
            "ball": ball,
            "surface": surface,
        }
        for number, feet in zip(numbers, miss, strict=True)
    ]


def store_of(folder, rows, log=()):
    store = open_store()
    pd.DataFrame(rows).to_csv(folder / "blocks.csv", index=False)
    store.load(folder / "blocks.csv")
    if log:
        pd.DataFrame(log).to_csv(folder / "log.csv", index=False)
        store.load(folder / "log.csv")
    return store


def marks() -> np.ndarray:
    feet = np.array(NUMBERS) * 3.0
    return reference_finish(benchmark("tour"), np.full(len(feet), "fairway"), feet).median_ft


DAYS_BEFORE, DAYS_AFTER = {1: 1.3, 4: 1.5, 8: 1.4}, {12: 1.1, 16: 1.2, 20: 1.0}


def test_the_change_by_hand(tmp_path):
    """Each day all misses are a multiple of the mark: Welch's t on the logs of six multiples."""
    rows = [r for day, k in (DAYS_BEFORE | DAYS_AFTER).items() for r in ball_rows(day, k * marks())]
    log = [
        {"player": "Ada", "date": f"2026-05-{day:02d}", "minutes": 60, "part": part}
        for day in (2, 6, 9, 14, 22)
        for part in ("wedge_50_100", "putt_0_10")
    ]
    with store_of(tmp_path, rows, log) as store:
        (row,) = block_change(store, "tour", level=0.80).to_dict("records")
    before, after = np.log(list(DAYS_BEFORE.values())), np.log(list(DAYS_AFTER.values()))
    welch = stats.ttest_ind(after, before, equal_var=False)
    low, high = welch.confidence_interval(0.80)
    assert (row["part"], row["days_before"], row["days_after"], row["balls"]) == (
        *("wedge_50_100", 3, 3),
        42,
    )
    assert row["change"] == pytest.approx(np.exp(after.mean() - before.mean()) - 1, abs=1e-4)
    assert row["low"] == pytest.approx(np.exp(low) - 1, abs=1e-3)
    assert row["high"] == pytest.approx(np.exp(high) - 1, abs=1e-3)
    # middles of the halves: 4 1/3 May and 16 May; log days 6, 9, 14 lie between
    assert row["hours_between"] == pytest.approx(3.0)


def test_kinds_of_ball_and_surface_are_never_pooled(tmp_path):
    kinds = [("own", "grass"), ("range", "grass"), ("own", "mat"), ("range", "mat")]
    rows = []
    for place, (ball, surface) in enumerate(kinds):
        for day in range(1, 13, 2):
            miss = (1 + place) * marks()
            rows += ball_rows(day, miss, block=f"{ball}{surface}", ball=ball, surface=surface)
    with store_of(tmp_path, rows) as store:
        table = block_change(store, "tour")
        series = block_series(mixed_blocks(store, "tour"))
    assert sorted(zip(table["ball"], table["surface"], strict=True)) == sorted(kinds)
    assert (table["balls"] == 6 * len(NUMBERS)).all()
    ratio = series.groupby(["ball", "surface"])["median_ratio"].agg(["min", "max"])
    for place, kind in enumerate(kinds):
        assert ratio.loc[kind].tolist() == pytest.approx([1 + place] * 2, rel=1e-3)


def test_blocks_of_one_number_are_no_test_of_the_part(tmp_path):
    rows = [r for day in range(1, 9) for r in ball_rows(day, 10.0, numbers=(80,) * 7)]
    with store_of(tmp_path, rows) as store:
        assert mixed_blocks(store, "tour").empty
        assert block_change(store, "tour").empty


def test_under_three_days_a_half_nothing_is_said(tmp_path):
    rows = [r for day in (1, 3, 5, 7) for r in ball_rows(day, 10.0)]
    with store_of(tmp_path, rows) as store:
        (row,) = block_change(store, "tour").to_dict("records")
    assert row["days_before"] == row["days_after"] == 2
    assert np.isnan(row["change"])
    assert np.isnan(row["recoverable"])


def _changes(rng, days, drop, reps, *, by_ball=False):
    """Simulated changes by the verb's own arithmetic: rows of low, high, smallest seen."""
    log = pd.DataFrame({"date": [], "part": [], "minutes": []})
    dates = np.repeat(pd.date_range("2026-01-01", periods=2 * days, freq="7D"), 20)
    keys = {"part": "wedge_50_100", "ball": "own", "surface": "grass"}
    shift = np.repeat([0.0, np.log(1 - drop)], days)
    found = []
    for _ in range(reps):
        day = np.repeat(shift + DAY_SD * rng.normal(size=2 * days), 20)
        miss = day + BALL_SD * rng.normal(size=len(dates))
        if by_ball:  # the wrong way: every ball a day of its own
            half = len(miss) // 2
            low, high = stats.ttest_ind(miss[half:], miss[:half]).confidence_interval(0.80)
            found.append((np.expm1(low), np.expm1(high), np.nan))
        else:
            frame = pd.DataFrame({"date": dates, "log_miss": miss})
            row = _change(frame, keys, log, Settings(), 0.80)
            found.append((row["low"], row["high"], row["smallest_seen"]))
    return np.array(found)


@pytest.mark.long
def test_intervals_cover_and_balls_as_the_sample_do_not():
    rng = np.random.default_rng(11)
    found = _changes(rng, 6, 0.20, 300)
    covered = np.mean((found[:, 0] <= -0.20) & (found[:, 1] >= -0.20))
    assert 0.73 <= covered <= 0.87  # 0.80 and three standard errors
    wrong = _changes(rng, 6, 0.20, 300, by_ball=True)
    assert np.mean((wrong[:, 0] <= -0.20) & (wrong[:, 1] >= -0.20)) < 0.73


@pytest.mark.parametrize(("days", "percent"), [(8, 20), (12, 17)])
def test_what_so_many_blocks_can_see(days, percent):
    """8 + 8 blocks of 20 balls show a fifth, 12 + 12 about a sixth."""
    rng = np.random.default_rng(12)
    found = _changes(rng, days, 0.0, 60)
    assert 100 * found[:, 2].mean() == pytest.approx(percent, abs=1.5)


def test_the_update_without_practice_or_loss_is_the_belief_before():
    prior = updated_recoverable((-0.3, 0.1, 8.0), 0.4, 0.0, 0.40, Settings(), 0.80)
    assert prior[1] == pytest.approx(0.40, abs=0.005)
    assert prior[0] == pytest.approx(0.40 * np.exp(-1.2816 * 0.35), abs=0.01)
    assert updated_recoverable(
        (-0.3, 0.1, 8.0), -0.2, 10.0, 0.40, Settings(), 0.80
    ) == pytest.approx(prior)


def test_misses_that_shrink_raise_the_recoverable_share_and_others_lower_it():
    better = updated_recoverable((-0.30, 0.08, 12.0), 0.5, 20.0, 0.40, Settings(), 0.80)
    same = updated_recoverable((0.10, 0.08, 12.0), 0.5, 20.0, 0.40, Settings(), 0.80)
    assert better[1] > 0.45
    assert same[1] < 0.35
    assert better[0] < better[1] < better[2] <= 1.0


def test_the_update_by_direct_draws():
    """The same posterior by weighting random draws of both unknowns."""
    rng = np.random.default_rng(4)
    c, tau = (
        0.4 * np.exp(0.35 * rng.normal(size=400_000)),
        20 * np.exp(0.5 * rng.normal(size=400_000)),
    )
    weight = stats.t.pdf((-0.2 + 0.5 * c * (1 - np.exp(-15 / tau))) / 0.1, 9)
    order = np.argsort(c)
    reached = np.cumsum(weight[order]) / weight.sum()
    expected = np.interp([0.1, 0.5, 0.9], reached, c[order])
    found = updated_recoverable((-0.2, 0.1, 9.0), 0.5, 15.0, 0.40, Settings(), 0.80)
    assert found == pytest.approx(expected, abs=0.01)


def test_the_median_interval_of_a_day_covers():
    rng = np.random.default_rng(8)
    frame = pd.DataFrame(
        {
            **{"part": "wedge_50_100", "ball": "own", "surface": "grass", "mark_ft": 1.0},
            "date": np.repeat(np.arange(400), 11),
            "miss_ft": rng.rayleigh(1 / np.sqrt(2 * np.log(2)), 4400),  # median 1
        }
    )
    series = block_series(frame, 0.80)
    assert series["balls"].eq(11).all()
    assert np.mean((series["low"] <= 1) & (series["high"] >= 1)) >= 0.80 - 0.06
    assert series["inside_share"].mean() == pytest.approx(0.5, abs=0.03)


def test_a_day_of_two_balls_has_no_interval():
    frame = pd.DataFrame(
        {
            **{"part": "chip_0_30", "ball": None, "surface": "mat", "mark_ft": 5.0, "date": 1},
            "miss_ft": [4.0, 6.0],
        }
    )
    (row,) = block_series(frame, 0.95).to_dict("records")
    assert row["median_ratio"] == 1.0
    assert np.isnan(row["low"])
    assert row["inside"] == 1


def test_rounds_the_course_would_need():
    with open_store() as store:
        store.load(data_path("demo/season.csv"))
        rounds = rounds_to_show(store, "tour", EVERYTHING, 0.5)
        assert 200 < rounds < 800
        assert rounds_to_show(store, "tour", EVERYTHING, 0.25) == pytest.approx(4 * rounds)
