"""Test blocks, a practice log and a bag for the demo's player, with known truth."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.random import Generator

from sgzone.demo.clubs import choose
from sgzone.demo.flight import LOFT, NEW_FROM, WORN_CLUB, launch_and_spin
from sgzone.demo.player import Player, total_pattern
from sgzone.terms import LIE_CODE
from sgzone.units import FT_PER_YD

BALLS = 20
DAY_SD = 0.10
"""A day's common factor on both spreads of a block: exp(N(0, s))."""
STOCK_DAY_SD = 0.008  # a day's common factor on carries
RANGE_BALL_CARRY = 0.96  # a range ball's carry as a share of the own ball's
RANGE_BALL_SPREAD = 1.15
TARGETS_YD = (35, 130)  # random numbers are drawn from here


def _balls(rng: Generator, player: Player, plan: pd.DataFrame) -> pd.DataFrame:
    """Strike one ball per row of ``plan``: target_yd, club, swing, block, ball.

    A stock swing is aimed at its own target; bias and spread are the player's from a good lie.
    """
    n = len(plan)
    target = plan["target_yd"].to_numpy(dtype=float)
    lies = ["fairway"] * n
    seen = total_pattern(
        player, lies, target.tolist(), plan["club"].tolist(), plan["swing"].tolist()
    )
    number = plan.groupby("block", sort=False).ngroup().to_numpy()
    day = np.exp(rng.normal(0, DAY_SD, number.max() + 1))[number]
    shift = np.exp(rng.normal(0, STOCK_DAY_SD, number.max() + 1))[number]
    borrowed = (plan["ball"] == "range").to_numpy()
    spread = day * np.where(borrowed, RANGE_BALL_SPREAD, 1.0)
    shift = shift * np.where(borrowed, RANGE_BALL_CARRY, 1.0)
    carry = target * shift * (1 + seen.depth_bias + seen.depth_sd * spread * rng.standard_normal(n))
    side = target * (seen.side_bias + seen.side_sd * spread * rng.standard_normal(n))
    out = plan.copy()
    out["carry_yd"] = carry.round(1)
    out["depth_ft"] = ((carry - target) * FT_PER_YD).round(1)
    out["side_ft"] = (side * FT_PER_YD).round(1)
    return out


def number_block(rng: Generator, player: Player, block: str, day: str) -> pd.DataFrame:
    """Plan 20 balls at random whole-yard numbers, each with the nearest stock swing."""
    target = rng.integers(*TARGETS_YD, BALLS).astype(float)
    fairway = np.full(BALLS, LIE_CODE["fairway"])
    club, swing = choose(rng, player, fairway, target, target)
    return pd.DataFrame(
        {"date": day, "block": block, "target_yd": target, "club": club, "swing": swing}
    )


def stock_block(player: Player, block: str, day: str, swing: str) -> pd.DataFrame:
    """Plan balls at the stock carry of every club that has this swing, 20 or a few more in all."""
    stocks = [stock for stock in player.bag if stock.swing == swing]
    each = -(-BALLS // len(stocks))
    return pd.DataFrame(
        {
            "date": day,
            "block": block,
            "target_yd": np.repeat([stock.carry_yd for stock in stocks], each),
            "club": np.repeat(np.array([stock.club for stock in stocks], dtype=object), each),
            "swing": swing,
        }
    )


def simulate_test_blocks(player: Player, days: Sequence[str], seed: int) -> pd.DataFrame:
    """Return test blocks in the columns of the test table, one block or two per day.

    Every day has a block at random numbers; every other day one of stock swings too. Each fourth
    day is on mats with range balls.
    """
    rng = np.random.default_rng(seed)
    plans = []
    swings = ("full", "three-quarter", "half")
    for k, day in enumerate(days):
        mats = k % 4 == 3
        today = [number_block(rng, player, f"numbers {k + 1}", day)]
        if k % 2 == 0:
            swing = swings[k // 2 % len(swings)]
            today.append(stock_block(player, f"stock {swing} {k + 1}", day, swing))
        for plan in today:
            kind = ("range", "mat") if mats else ("own", "grass")
            plans.append(plan.assign(ball=kind[0], surface=kind[1]))
    out = _balls(rng, player, pd.concat(plans, ignore_index=True))
    days_at = pd.to_datetime(out["date"])
    launch, spin = launch_and_spin(rng, out["club"].to_numpy(), out["swing"].to_numpy(), days_at)
    out["launch_deg"], out["spin_rpm"] = launch.round(1), (spin / 10).round() * 10
    out["face"] = "clean"
    out["device"] = "launch monitor"
    out["player"] = player.name
    columns = ["player", "date", "block", "target_yd", "club", "swing", "carry_yd", "depth_ft"]
    columns += ["side_ft", "launch_deg", "spin_rpm", "face", "ball", "surface", "device"]
    return out[columns]


def true_stock(player: Player) -> pd.DataFrame:
    """Return the true stock carries: club, swing, meant_yd, carry_yd (mean) and sd_yd, own ball."""
    stocks = player.bag
    carry = [stock.carry_yd for stock in stocks]
    clubs, swings = [stock.club for stock in stocks], [stock.swing for stock in stocks]
    seen = total_pattern(player, ["fairway"] * len(stocks), carry, clubs, swings)
    return pd.DataFrame(
        {
            "club": clubs,
            "swing": swings,
            "meant_yd": carry,
            "carry_yd": np.array(carry) * (1 + seen.depth_bias),
            "sd_yd": np.array(carry) * seen.depth_sd,
        }
    )


_LOG_PLAN = (
    # part, chance of being practised in a session, minutes, balls per minute
    ("approach_100_150", 0.70, (20, 45), 1.2),
    ("wedge_50_100", 0.35, (10, 30), 1.2),
    ("pitch_30_50", 0.15, (10, 20), 1.5),
    ("chip_0_30", 0.40, (10, 25), 1.8),
    ("sand_0_50", 0.12, (10, 15), 1.5),
    ("putt_0_10", 0.55, (10, 25), 2.5),
    ("putt_10_30", 0.30, (10, 15), 2.0),
    ("putt_30_up", 0.15, (5, 10), 1.5),
)


def simulate_practice_log(player: Player, days: Sequence[str], seed: int) -> pd.DataFrame:
    """Return a practice log in the columns of its table: a session per day, mostly long clubs."""
    rng = np.random.default_rng(seed)
    parts = []
    for part, chance, minutes, rate in _LOG_PLAN:
        on = rng.random(len(days)) < chance
        spent = rng.integers(minutes[0] // 5, minutes[1] // 5 + 1, len(days)) * 5
        rows = pd.DataFrame({"date": np.array(days, dtype=object), "minutes": spent})
        rows["part"] = part
        rows["balls"] = (spent * rate).round().astype(int)
        parts.append(rows[on])
    out = pd.concat(parts).sort_values(["date", "part"], ignore_index=True)
    out["player"] = player.name
    return out[["player", "date", "minutes", "part", "balls"]]


def bag(player: Player) -> pd.DataFrame:
    """Return the bag in the columns of its table; one wedge is replaced in mid-season."""
    clubs = list(dict.fromkeys(stock.club for stock in player.bag))
    out = pd.DataFrame({"player": player.name, "club": clubs})
    out["loft_deg"] = out["club"].map(LOFT)
    out["bounce_deg"] = out["club"].map({"58": 8.0, "54": 12.0, "50": 10.0, "46": 8.0})
    out["in_play_from"], out["in_play_to"] = "2025-03-01", None
    new = out[out["club"] == WORN_CLUB].assign(in_play_from=str(NEW_FROM.date()))
    last = str((NEW_FROM - pd.Timedelta(days=1)).date())
    out.loc[out["club"] == WORN_CLUB, "in_play_to"] = last
    putter = pd.DataFrame(
        {"player": [player.name], "club": ["putter"], "in_play_from": ["2024-03-01"]}
    )
    return pd.concat([out, new, putter], ignore_index=True)
