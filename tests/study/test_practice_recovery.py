"""Plans for players whose truth is known: what they win, what they cover, what does worse.

Each player has a loss per shot, a recoverable share and a rate; the plan sees twenty rounds and
the stated beliefs. Everything is judged by the truth.
"""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.demo.courses import CHAMPIONSHIP
from sgzone.demo.presets import tour_level
from sgzone.demo.rounds import play_rounds
from sgzone.practice.plan import plan_from
from sgzone.practice.settings import Settings
from sgzone.review.why.reference import reference_model
from sgzone.stats.response import best_split, returns
from tests.practice.players import PARTS, SHOTS_PER_ROUND, known_player

pytestmark = pytest.mark.study

PLAYERS = 200
HOURS, WEEKS = 10, 6
BUDGET = HOURS * WEEKS
EQUAL = np.full(len(PARTS), 1 / len(PARTS))


@pytest.fixture(scope="module")
def found():
    """Strokes per round each split truly wins, whether intervals cover, whether sets hold."""
    rng = np.random.default_rng(1)
    won: dict[str, list[float]] = {}
    covers, held, named = [], [], []
    for _ in range(PLAYERS):
        player = known_player(rng)
        plan = plan_from(player.seen, HOURS, WEEKS, Settings())
        gain = player.recoverable * player.loss
        best = best_split(gain, player.rate_hours, BUDGET, 1.0)
        table = plan.table
        per_shot = np.maximum(player.seen.mean / SHOTS_PER_ROUND, 0)
        splits = {
            "plan": table["share"],
            "by loss": table["share_by_loss"],
            "equal": EQUAL,
            "by loss per shot": per_shot / per_shot.sum() if per_shot.any() else EQUAL,
            "oracle": best / BUDGET,
        }
        for name, share in splits.items():
            hours = np.asarray(share) * BUDGET
            won.setdefault(name, []).append(returns(gain, player.rate_hours, hours).sum())
        share = best / BUDGET
        covers.append((share >= table["share_low"] - 1e-9) & (share <= table["share_high"] + 1e-9))
        first = int(np.argmax(best))
        held.append(table["p_first"][first] >= 0.10)
        named.append(int(np.argmax(table["share"])) == first)
    return {name: np.array(values) for name, values in won.items()} | {
        "covers": np.array(covers),
        "held": np.array(held),
        "named": np.array(named),
    }


def test_the_plan_wins_what_proportional_wins_and_more_than_equal(found):
    assert found["plan"].mean() >= found["by loss"].mean() - 0.005
    assert found["plan"].mean() > found["equal"].mean() + 0.05
    assert found["plan"].mean() <= found["oracle"].mean()
    assert (found["oracle"] >= found["plan"] - 1e-9).all()


def test_loss_per_shot_instead_of_per_round_does_worse(found):
    """Negative control: what one shot loses is not what practice of it is worth."""
    assert found["by loss per shot"].mean() < found["plan"].mean() - 0.03
    assert found["by loss per shot"].mean() < found["by loss"].mean() - 0.03


def test_share_intervals_cover_the_true_optimum(found):
    assert 0.85 <= found["covers"].mean() <= 0.97


def test_the_set_too_close_to_separate_holds_the_true_first(found):
    assert found["held"].mean() >= 0.85
    assert found["named"].mean() < found["held"].mean()


def test_the_pass_mark_against_a_simulated_player():
    """Shots with the level's own scatter, drawn one by one: half of them end inside the mark."""
    model = reference_model(benchmark("tour"))
    rng = np.random.default_rng(6)
    a = model.assumptions
    for lie, feet in (("fairway", 180.0), ("fairway", 390.0), ("rough", 240.0), ("sand", 60.0)):
        mark = float(model.median_ft(lie, feet))
        n = 200_000
        share = float(np.interp(feet, np.arange(30.0, 481.0, 15.0), model.shares[lie]))
        ratio = float(np.interp(feet, a.ratio_at_ft, a.ratio))
        mishit = rng.random(n) < a.mishit_share
        depth = np.where(
            mishit,
            a.mishit_depth + a.mishit_depth_sd * rng.normal(size=n),
            share * rng.normal(size=n),
        )
        side = share * ratio * np.where(mishit, a.mishit_side, 1.0) * rng.normal(size=n)
        radius = feet * np.hypot(depth, side)
        assert np.median(radius) == pytest.approx(mark, rel=0.02), (lie, feet)
        inside = float(model.share_inside(lie, feet, 1.3 * mark))
        assert np.mean(radius <= 1.3 * mark) == pytest.approx(inside, abs=0.01)


@pytest.mark.parametrize(("lie", "low_yd", "high_yd"), [("fairway", 50, 150), ("rough", 30, 150)])
def test_a_simulated_tour_player_leaves_half_inside_the_pass_mark(lie, low_yd, high_yd):
    """The season simulator was calibrated on expected strokes, never on this median."""
    rounds = 1000
    strokes = play_rounds(
        np.random.default_rng(9), tour_level(), CHAMPIONSHIP, np.arange(rounds) % len(CHAMPIONSHIP)
    )
    chosen = strokes[
        (strokes["lie"] == lie) & strokes["distance_ft"].between(3 * low_yd, 3 * high_yd)
    ]
    chosen = chosen[chosen["penalty"] == 0]
    marks = reference_model(benchmark("tour")).median_ft(
        chosen["lie"].to_numpy(object), chosen["distance_ft"].to_numpy()
    )
    inside = (chosen["end_distance_ft"].to_numpy() <= marks).mean()
    assert len(chosen) > 1500
    assert 0.42 <= inside <= 0.58
