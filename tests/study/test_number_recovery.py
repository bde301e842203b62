"""From known swings to shots, from shots to a plan: is it better than the closest stock carry?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.clubs.green import GreenValue, green_of
from sgzone.clubs.number import MISHIT, expected, number_table, plays_of
from sgzone.clubs.options import Swings, swings_of
from sgzone.clubs.spreads import swing_spreads
from sgzone.clubs.stock import stock_table
from sgzone.stats.quadrature import Kind, miss_points
from sgzone.stats.robust import POOL_DF
from tests.clubs.balls import shots_of
from tests.clubs.swings import known_swings
from tests.study.sizes import SMALL, WHOLE

TOUR = benchmark("tour")
MEANT = np.array([70.0, 78.0, 85.0, 92.0, 99.0, 106.0, 113.0, 120.0])
AROUND = ("rough", "sand", "water", "fairway")
KINDS = {
    "as assumed": Kind(0.03, -0.12, 0.12, 2.0),
    "none": Kind(0.0, -0.12, 0.12, 2.0),
    "fat": Kind(0.06, -0.25, 0.20, 3.0),
}
"""Mishits of the players, numbers of the study's own: the plan assumes the first."""


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


def _shots(rng, true: Swings, n: int, kind: Kind = KINDS["as assumed"]) -> pd.DataFrame:
    frames = []
    for k, meant in enumerate(MEANT):
        mishit = rng.random(n) < kind.share
        usual = true.depth_sd[k] * rng.standard_normal(n)
        bad = kind.depth + kind.depth_sd * rng.standard_normal(n)
        carry = true.carry_yd[k] + meant * np.where(mishit, bad, usual)
        side = true.side_lean[k] + true.side_sd[k] * rng.standard_normal(n) * np.where(
            mishit, kind.side, 1.0
        )
        frames.append(
            shots_of(str(true.club[k]), "full", carry, meant=meant, side_ft=3 * meant * side)
        )
    return pd.concat(frames, ignore_index=True)


def _greens(rng, n):
    for _ in range(n):
        on, left = rng.uniform(6, 24), rng.uniform(5, 19)
        yield green_of(on, 30, left, 24, tuple(rng.choice(AROUND, 4))), rng.uniform(72, 118)


def _true_cost(true: Swings, row, yards: float, worth, kind: Kind) -> float:
    """What a choice really costs: the swing is moved by what the plan thinks is needed."""
    k = int(np.flatnonzero(true.club == row["club"])[0])
    moved, points = row["moved_yd"], miss_points(kind, 2048, 9)
    finish = (true.carry_yd[k] + moved - yards) * 3
    distance = yards * 3 + finish
    depth = np.hypot(true.depth_sd[k] * distance, 0.75 * abs(moved))
    along = finish + distance * points.fixed + depth * points.usual
    side = true.side_lean[k] * distance + row["side_aim_ft"]
    across = side + true.side_sd[k] * distance * points.side
    return float(1 + worth(along, across) @ points.weight)


def _as_they_are(shots: pd.DataFrame) -> pd.DataFrame:
    return shots


def _a_club_longer(shots: pd.DataFrame) -> pd.DataFrame:
    """The planted fault: the plan reads each club's shots under the next club's name."""
    names = sorted(shots["club"].unique())
    return shots.assign(
        club=shots["club"].map(dict(zip(names, [*names[1:], names[0]], strict=True)))
    )


def _regrets(seed, n, bias_sd, size, kind=KINDS["as assumed"], fault=_as_they_are):
    """Return regret of the plan and of the closest stock carry aimed at the hole, by number."""
    rng = np.random.default_rng(seed)
    plan_regret, closest_regret = [], []
    for _ in range(size.of(12, 4)):
        true = _player(rng, bias_sd)
        shots = _shots(rng, true, n, kind)
        read = fault(shots)
        seen = swings_of(read, read.iloc[:0], TOUR)
        for green, yards in _greens(rng, size.of(12, 5)):
            worth = GreenValue(green, TOUR)
            best = number_table(true, yards, green, TOUR).iloc[0]
            row = number_table(seen, yards, green, TOUR).iloc[0]
            medians = shots.groupby("club")["carry_yd"].median()
            club = str((medians - yards).abs().idxmin())
            still = {"club": club, "moved_yd": 0.0, "side_aim_ft": 0.0}
            least, plan, closest = (
                _true_cost(true, choice, yards, worth, kind) for choice in (best, row, still)
            )
            plan_regret.append(plan - least)
            closest_regret.append(closest - least)
    return np.array(plan_regret), np.array(closest_regret)


@pytest.mark.study
@pytest.mark.parametrize("bias_sd", [0.01, 0.04])
@pytest.mark.parametrize("n", [5, 10, 40])
def test_the_plan_beats_the_closest_stock_carry(n, bias_sd):
    plan, closest = _regrets(n, n, bias_sd, WHOLE)
    assert plan.mean() < closest.mean()
    assert plan.mean() > -0.01  # the truth cannot be beaten but for the points it is taken with


@pytest.mark.parametrize("kind", KINDS)
def test_the_plan_beats_it_whatever_the_mishits(size, kind):
    """The plan assumes mishits of one kind; the players' are their own."""
    plan, closest = _regrets(7, 10, 0.02, size, KINDS[kind])
    assert plan.mean() < closest.mean()
    assert plan.mean() > -0.01


@pytest.mark.small_study
def test_a_plan_that_reads_the_next_clubs_shots_fails_the_small_form():
    plan, closest = _regrets(7, 10, 0.02, SMALL, fault=_a_club_longer)
    assert plan.mean() > closest.mean()


@pytest.mark.study
def test_more_shots_less_regret():
    few, many = (_regrets(3, n, 0.02, WHOLE)[0].mean() for n in (5, 80))
    assert many < few


def test_raw_spreads_of_few_shots_are_worse_than_adjusted_ones(size):
    """The control: the same plan on raw sds of five shots."""
    rng = np.random.default_rng(8)
    errors = {"raw": [], "adjusted": []}
    for _ in range(size.of(60, 10)):
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


def _covers(seasons, fault=_as_they_are):
    """Return how often 80% intervals hold the true carry and the true spread."""
    rng = np.random.default_rng(9)
    carries, spreads = [], []
    for _ in range(seasons):
        true = _player(rng, 0.02)
        got = stock_table(*(2 * [fault(_shots(rng, true, 20))]), TOUR, 0.80).set_index("club")
        got = got.loc[list(true.club)]
        carries.append((got["low"] <= true.carry_yd) & (true.carry_yd <= got["high"]))
        sd = true.depth_sd * got["carry_yd"] * 3
        spreads.append((got["depth_sd_low_ft"] <= sd) & (sd <= got["depth_sd_high_ft"]))
    return np.mean(carries), np.mean(spreads)


def test_intervals_of_carries_and_spreads_cover(size):
    """80% intervals: carries about 80%; spreads 72-76%, as mishits too small to see widen them."""
    seasons = size.of(150, 15)
    carries, spreads = _covers(seasons)
    # swings of a season share what their spreads are pulled towards: a season counts once there
    assert carries == pytest.approx(0.80, abs=0.06 + size.room(0.80, seasons * len(MEANT)))
    assert size.least(0.68, seasons) < spreads < size.most(0.86, seasons)


@pytest.mark.small_study
def test_depths_in_yards_fail_the_small_form():
    carries, spreads = _covers(15, lambda shots: shots.assign(depth_ft=shots["depth_ft"] / 3))
    assert spreads < SMALL.least(0.68, 15)
    carries, _ = _covers(15, lambda shots: shots.assign(carry_yd=shots["carry_yd"] + 2))
    assert carries < 0.74 - SMALL.room(0.80, 15 * len(MEANT))


def _as_it_is(swings: Swings) -> Swings:
    return swings


def _surer(swings: Swings) -> Swings:
    """The planted fault: every swing taken as known four times better than it is."""
    known = {name: getattr(swings, name) / 4 for name in ("carry_sd", "side_lean_sd", "curve_sd")}
    return replace(swings, df=POOL_DF + 16 * swings.df, **known)


def _difference_covers(n, bias_sd, players, read=_as_it_is):
    """Return by player how often 80% intervals hold what an option really costs more."""
    rng = np.random.default_rng(100 * n + int(1000 * bias_sd))
    covered = []
    for _ in range(players):
        true = _player(rng, bias_sd)
        shots = _shots(rng, true, n)
        seen = read(swings_of(shots, shots.iloc[:0], TOUR))
        held = []
        for green, yards in _greens(rng, 4):
            plan = number_table(seen, yards, green, TOUR, 0.80)
            worth = GreenValue(green, TOUR)
            rows = [row for _, row in plan.iterrows()]
            cost = [_true_cost(true, row, yards, worth, KINDS["as assumed"]) for row in rows]
            more = np.array(cost[1:]) - cost[0]
            low, high = (plan[end].to_numpy()[1:] for end in ("low", "high"))
            held.extend((low <= more) & (more <= high))
        if held:
            covered.append(np.mean(held))
    return np.array(covered)


def test_the_interval_of_a_difference_covers(size):
    """80%: 73 to 88 by how many shots a swing has and how far off the player's swings are."""
    found = []
    for n in (5, 10, 40):
        for bias_sd in (0.01, 0.02, 0.04):
            covered = _difference_covers(n, bias_sd, size.of(60, 4))
            room = 3 * covered.std() / np.sqrt(len(covered)) if size.small else 0.0
            assert 0.66 - room < covered.mean() < 0.92 + room
            found.extend(covered)
    room = 3 * np.std(found) / np.sqrt(len(found)) if size.small else 0.0
    assert np.mean(found) == pytest.approx(0.80, abs=0.03 + room)


@pytest.mark.small_study
def test_swings_taken_for_known_fail_the_small_form():
    covered = [_difference_covers(n, 0.02, 4, _surer).mean() for n in (5, 10, 40)]
    assert np.mean(covered) < 0.55


@pytest.mark.study
@pytest.mark.small_study
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


@pytest.mark.study
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
