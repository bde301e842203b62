"""From known swings to shots, from shots to a plan: is it better than the closest stock carry?"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import GreenValue, green_of
from sgzone.clubs.number import MISHIT, expected, number_table, plays_of
from sgzone.clubs.options import Swings, swings_of
from sgzone.clubs.spreads import swing_spreads
from sgzone.clubs.stock import stock_table
from sgzone.stats.quadrature import miss_points
from tests.clubs.balls import shots_of
from tests.clubs.swings import known_swings

pytestmark = pytest.mark.study

TOUR = benchmark("tour")
MEANT = np.array([70.0, 78.0, 85.0, 92.0, 99.0, 106.0, 113.0, 120.0])
AROUND = ("rough", "sand", "water", "fairway")
POINTS = miss_points(MISHIT, 2048, 9)


def _player(rng, bias_sd) -> Swings:
    """Draw a player: spreads about 6%, a seventh apart from swing to swing, leans."""
    n = len(MEANT)
    depth = 0.062 * np.exp(rng.normal(0, 0.15, n))
    return known_swings(
        MEANT * (1 + rng.normal(0, bias_sd, n)),
        depth_sd=depth,
        side_sd=0.8 * depth,
        side_lean=rng.normal(0, bias_sd, n),
    )


def _shots(rng, true: Swings, n: int) -> pd.DataFrame:
    frames = []
    for k, meant in enumerate(MEANT):
        mishit = rng.random(n) < MISHIT.share
        usual = true.depth_sd[k] * rng.standard_normal(n)
        bad = MISHIT.depth + MISHIT.depth_sd * rng.standard_normal(n)
        carry = true.carry_yd[k] + meant * np.where(mishit, bad, usual)
        side = true.side_lean[k] + true.side_sd[k] * rng.standard_normal(n) * np.where(
            mishit, MISHIT.side, 1.0
        )
        frames.append(
            shots_of(str(true.club[k]), "full", carry, meant=meant, side_ft=3 * meant * side)
        )
    return pd.concat(frames, ignore_index=True)


def _greens(rng, n):
    for _ in range(n):
        on, left = rng.uniform(6, 24), rng.uniform(5, 19)
        yield green_of(on, 30, left, 24, tuple(rng.choice(AROUND, 4))), rng.uniform(72, 118)


def _true_cost(true: Swings, club: str, yards: float, plan_carry: float, row, worth) -> float:
    """What a choice really costs: the swing is moved by what the plan thinks is needed."""
    k = int(np.flatnonzero(true.club == club)[0])
    moved = row["moved_yd"]
    finish = (true.carry_yd[k] + moved - yards) * 3
    distance = yards * 3 + finish
    depth = np.hypot(true.depth_sd[k] * distance, 0.75 * abs(moved))
    along = finish + distance * POINTS.fixed + depth * POINTS.usual
    side = true.side_lean[k] * distance + row["side_aim_ft"]
    across = side + true.side_sd[k] * distance * POINTS.side
    return float(1 + worth(along, across) @ POINTS.weight)


def _regrets(seed, n, bias_sd, players=12, numbers=12):
    """Return mean regret of the plan and of the closest stock carry aimed at the hole."""
    rng = np.random.default_rng(seed)
    plan_regret, closest_regret = [], []
    for _ in range(players):
        true = _player(rng, bias_sd)
        shots = _shots(rng, true, n)
        seen = swings_of(shots, shots.iloc[:0], TOUR)
        for green, yards in _greens(rng, numbers):
            worth = GreenValue(green, TOUR)
            best = number_table(true, yards, green, TOUR)["expected_strokes"].iloc[0]
            row = number_table(seen, yards, green, TOUR).iloc[0]
            plan_regret.append(
                _true_cost(true, row["club"], yards, row["carry_yd"], row, worth) - best
            )
            medians = shots.groupby("club")["carry_yd"].median()
            club = str((medians - yards).abs().idxmin())
            still = {"moved_yd": 0.0, "side_aim_ft": 0.0}
            closest_regret.append(_true_cost(true, club, yards, 0.0, still, worth) - best)
    return float(np.mean(plan_regret)), float(np.mean(closest_regret))


@pytest.mark.parametrize("bias_sd", [0.01, 0.04])
@pytest.mark.parametrize("n", [5, 10, 40])
def test_the_plan_beats_the_closest_stock_carry(n, bias_sd):
    plan, closest = _regrets(n, n, bias_sd)
    assert plan < closest
    assert plan > -0.01  # the truth cannot be beaten but for the points it is taken with


def test_more_shots_less_regret():
    few, many = (_regrets(3, n, 0.02)[0] for n in (5, 80))
    assert many < few


def test_raw_spreads_of_few_shots_are_worse_than_adjusted_ones():
    """The control: the same plan on raw sds of five shots."""
    rng = np.random.default_rng(8)
    errors = {"raw": [], "adjusted": []}
    for _ in range(60):
        true = _player(rng, 0.01)
        shots = _shots(rng, true, 6)
        seen = swings_of(shots, shots.iloc[:0], TOUR)
        own = shots.assign(share=shots["depth_ft"] / shots["target_yd"] / 3)
        raw = own.groupby("club")["share"].std().reindex(list(seen.club)).to_numpy()
        order = [int(np.flatnonzero(true.club == club)[0]) for club in seen.club]
        errors["raw"].append(np.log(raw / true.depth_sd[order]))
        errors["adjusted"].append(np.log(seen.depth_sd / true.depth_sd[order]))
    raw, adjusted = (np.sqrt(np.mean(np.square(errors[k]))) for k in ("raw", "adjusted"))
    assert adjusted < 0.6 * raw


def test_intervals_of_carries_and_spreads_cover():
    """80% intervals: carries about 80%; spreads 72-76%, as mishits too small to see widen them."""
    rng = np.random.default_rng(9)
    carries, spreads = [], []
    for _ in range(150):
        true = _player(rng, 0.02)
        got = stock_table(*(2 * [_shots(rng, true, 20)]), TOUR, 0.80).set_index("club")
        got = got.loc[list(true.club)]
        carries.append((got["low"] <= true.carry_yd) & (true.carry_yd <= got["high"]))
        sd = true.depth_sd * got["carry_yd"] * 3
        spreads.append((got["depth_sd_low_ft"] <= sd) & (sd <= got["depth_sd_high_ft"]))
    assert np.mean(carries) == pytest.approx(0.80, abs=0.06)
    assert 0.68 < np.mean(spreads) < 0.86


def test_the_wrong_unit_is_far_worse_than_any_sampling():
    """Depths in yards read as feet: spreads a third of their size."""
    rng = np.random.default_rng(10)
    true = _player(rng, 0.01)
    shots = _shots(rng, true, 40)
    wrong = shots.assign(depth_ft=shots["depth_ft"] / 3, side_ft=shots["side_ft"] / 3)
    swings = pd.MultiIndex.from_arrays([true.club, true.swing], names=["club", "swing"])
    right, off = (
        swing_spreads(rows, swings, true.carry_yd, "fairway", TOUR).depth_sd / true.depth_sd
        for rows in (shots, wrong)
    )
    assert np.abs(np.log(right)).max() < 0.35
    assert np.log(off).mean() < -0.7


def test_points_agree_on_random_greens():
    rng = np.random.default_rng(11)
    worst = {"dry": 0.0, "water": 0.0}
    for green, yards in _greens(rng, 12):
        plays = plays_of(_player(rng, 0.02), yards)
        worth = GreenValue(green, TOUR)
        few, many = (
            expected(plays, np.array([-6.0, 0.0, 6.0]), worth, miss_points(MISHIT, n))
            for n in (1024, 2**15)
        )
        kind = "water" if "water" in green.lies else "dry"
        worst[kind] = max(worst[kind], float(np.abs(few - many).max()))
    assert worst["dry"] < 0.006
    assert worst["water"] < 0.010
