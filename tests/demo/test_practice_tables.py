"""Test blocks, log and bag: known truth, seen again."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.demo.practice import (
    DAY_SD,
    RANGE_BALL_CARRY,
    STOCK_DAY_SD,
    bag,
    simulate_practice_log,
    simulate_test_blocks,
    true_stock,
)
from sgzone.demo.presets import demo_player
from sgzone.terms import PART_NAMES

DAYS = [str(day.date()) for day in pd.date_range("2026-01-01", periods=800, freq="D")]


@pytest.fixture(scope="module")
def blocks():
    return simulate_test_blocks(demo_player(), DAYS, seed=3)


def stock(blocks, ball):
    rows = blocks[blocks["block"].str.startswith("stock") & (blocks["ball"] == ball)]
    return rows.groupby(["club", "swing"])["carry_yd"]


def test_stock_carries_come_back(blocks):
    truth = true_stock(demo_player()).set_index(["club", "swing"])
    seen = stock(blocks, "own").agg(["mean", "std", "size"])
    truth = truth.loc[seen.index]
    se = seen["std"] / np.sqrt(seen["size"])
    assert len(seen) == len(demo_player().bag)
    assert (np.abs(seen["mean"] - truth["carry_yd"]) < 4.5 * se).all()
    # a day's factor widens the spread by its mean square, exp(2 s^2), and shifts all its carries
    widened = np.exp(2 * DAY_SD**2) * truth["sd_yd"] ** 2
    wanted = np.sqrt(widened + (STOCK_DAY_SD * truth["carry_yd"]) ** 2)
    assert (seen["std"] / wanted).mean() == pytest.approx(1, abs=0.03)
    meant = truth["meant_yd"]
    assert (np.abs(seen["mean"] - meant) > 4.5 * se).sum() > 5  # what the player believes is wrong


def test_number_blocks_have_twenty_random_numbers(blocks):
    numbers = blocks[blocks["block"].str.startswith("numbers")]
    sizes = numbers.groupby("block").size()
    assert (sizes == 20).all()
    assert numbers.groupby("block")["target_yd"].nunique().min() > 10
    np.testing.assert_allclose(
        numbers["depth_ft"], 3 * (numbers["carry_yd"] - numbers["target_yd"]), atol=0.26
    )


def test_range_balls_fly_shorter_and_are_told_apart(blocks):
    rows = blocks.assign(share=blocks["carry_yd"] / blocks["target_yd"])
    rows = rows[rows["swing"] == "full"]
    share = rows.groupby("ball")["share"].mean()
    assert share["range"] / share["own"] == pytest.approx(RANGE_BALL_CARRY, abs=0.01)
    assert set(rows.loc[rows["ball"] == "range", "surface"]) == {"mat"}
    assert set(rows.loc[rows["ball"] == "own", "surface"]) == {"grass"}


def test_a_new_wedge_spins_more():
    days = ["2026-07-01", "2026-07-02", "2026-08-01", "2026-08-02"] * 1
    rows = simulate_test_blocks(demo_player(), days, seed=1)
    full = rows[(rows["club"] == "54") & (rows["swing"] == "full")].groupby("date")["spin_rpm"]
    assert full.mean().loc["2026-08-01":].min() > full.mean().loc[:"2026-07-02"].max()


def test_bag_replaces_one_wedge_on_one_day():
    table = bag(demo_player())
    wedge = table[table["club"] == "54"]
    assert wedge["in_play_to"].tolist()[0] == "2026-07-19"
    assert wedge["in_play_from"].tolist() == ["2025-03-01", "2026-07-20"]
    assert not table.duplicated(["club", "in_play_from"]).any()


def test_log_has_one_row_per_part_and_day():
    log = simulate_practice_log(demo_player(), DAYS, seed=1)
    assert not log.duplicated(["date", "part"]).any()
    assert set(log["part"]) == set(PART_NAMES) - {"recovery"}
    minutes = log.groupby("part")["minutes"].sum()
    assert minutes.idxmax() == "approach_100_150"
    assert (log["minutes"] % 5 == 0).all()
