"""The plan by value, its bounds, its words, and the same plan by a general optimiser."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from sgzone.errors import CallError
from sgzone.practice.plan import (
    NOW,
    PLAN_COLUMNS,
    plan_from,
    practice_plan,
)
from sgzone.practice.settings import Settings
from sgzone.practice.shares import drawn
from sgzone.resources import data_path
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from sgzone.stats.resample import SEED
from sgzone.stats.response import best_split
from sgzone.words.practice import split_words, too_thin
from sgzone.words.say import Say
from tests.practice.players import PARTS, SHOTS_PER_ROUND, certain, losses

LOSS = np.array([1.2, 0.6, 0.1, 0.5, 0.2, 0.7, 0.3, -0.1])


@pytest.fixture(scope="module")
def demo():
    with open_store() as store:
        for name in ("season", "practice_log"):
            store.load(data_path(f"demo/{name}.csv"))
        yield store


def share(plan) -> np.ndarray:
    return plan.table["share"].to_numpy()


def test_without_doubt_the_plan_is_the_optimum():
    """Fixed losses, recoverable shares and rates: the split scipy finds, to 1e-6 of strokes."""
    plan = plan_from(losses(LOSS), 10, 6, certain())
    gain = 0.4 * np.maximum(LOSS, 0)

    def won(hours):
        return float(np.sum(gain * (1 - np.exp(-hours / 20))))

    found = minimize(
        lambda h: -won(h),
        np.full(8, 7.5),
        jac=lambda h: -gain / 20 * np.exp(-h / 20),
        bounds=[(1, 60)] * 8,
        constraints={"type": "eq", "fun": lambda h: h.sum() - 60, "jac": np.ones_like},
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 500},
    )
    ours = share(plan) * 60
    assert won(ours) == pytest.approx(won(found.x), abs=1e-6)
    assert ours == pytest.approx(found.x, abs=5e-3)
    row = plan.alternatives.set_index("split").loc["plan"]
    assert row["strokes_per_round"] == pytest.approx(won(ours))


def test_two_parts_by_hand():
    """Rates of 20 h: hours differ by 20 ln 2; won = c L (1 - e^(-h/20)) of each."""
    plan = plan_from(losses([0.8, 0.4]), 8, 5, certain(2))
    hours = np.array([20 + 10 * np.log(2), 20 - 10 * np.log(2)])
    assert share(plan) == pytest.approx(hours / 40)
    assert plan.table["hours_per_week"].to_numpy() == pytest.approx(hours / 5)
    won = 0.4 * 0.8 * (1 - np.exp(-hours[0] / 20)) + 0.4 * 0.4 * (1 - np.exp(-hours[1] / 20))
    alternatives = plan.alternatives.set_index("split")
    assert alternatives.loc["plan", "strokes_per_round"] == pytest.approx(won)
    equal = 0.4 * 1.2 * (1 - np.exp(-1.0))
    assert alternatives.loc["equal", "strokes_per_round"] == pytest.approx(equal)
    assert alternatives.loc["equal", "plan_lead"] == pytest.approx(won - equal)
    assert plan.table["share_by_loss"].to_numpy() == pytest.approx([2 / 3, 1 / 3])


def test_the_table_is_the_contract_in_order_and_shares_add_up():
    plan = plan_from(losses(LOSS, 0.2), 10, 6, Settings())
    assert tuple(plan.table.columns) == PLAN_COLUMNS
    named = "part shots_per_round loss_per_round low high share share_low share_high hours_per_week"
    more = "p_first tied share_by_loss share_equal share_now need_per_round hours_to_goal"
    assert " ".join(PLAN_COLUMNS) == f"{named} {more}"
    for name in ("share", "share_by_loss", "share_equal", "p_first"):
        assert plan.table[name].sum() == pytest.approx(1.0)
    assert plan.table["hours_per_week"].sum() == pytest.approx(10)
    for name in ("share_now", "need_per_round", "hours_to_goal"):
        assert plan.table[name].isna().all()
    assert (plan.table["share_low"] <= plan.table["share"]).all()
    assert (plan.table["share"] <= plan.table["share_high"]).all()


def test_a_part_that_gains_strokes_gets_its_floor():
    plan = plan_from(losses(LOSS), 10, 6, certain())
    assert share(plan)[7] == pytest.approx(1 / 60)


def test_more_loss_never_means_fewer_hours():
    before = share(plan_from(losses(LOSS, 0.2), 10, 6, Settings()))
    more = LOSS + np.array([0, 0, 0.3, 0, 0, 0, 0, 0])
    after = share(plan_from(losses(more, 0.2), 10, 6, Settings()))
    assert after[2] > before[2]


def test_a_tiny_budget_scales_the_floors():
    plan = plan_from(losses(LOSS), 1, 2, certain(floor_hours=1.0))
    assert share(plan) == pytest.approx(np.full(8, 1 / 8))


def test_floors_and_ceilings_of_single_parts_hold():
    settings = Settings(floor_by_part={"sand_0_50": 6.0}, ceiling_by_part={"approach_100_150": 9.0})
    hours = share(plan_from(losses(LOSS, 0.2), 10, 6, settings)) * 60
    assert hours[4] >= 6 - 1e-9
    assert hours[0] <= 9 + 1e-9
    assert hours.min() >= 1 - 1e-9


def test_no_loss_anywhere_is_an_equal_split_and_says_so():
    plan = plan_from(losses(-np.abs(LOSS)), 10, 6, certain())
    assert plan.no_loss
    assert share(plan) == pytest.approx(np.full(8, 1 / 8))
    assert set(plan.roles) == {"keep up"}


def test_it_does_not_say_equal_where_a_loss_is_still_possible():
    """All means are gains, but unequally sure: the split is not equal and must not be called so."""
    plan = plan_from(losses(np.full(8, -0.05), np.linspace(0.02, 0.4, 8)), 10, 6, Settings())
    assert share(plan).max() > 1.3 * share(plan).min()
    assert plan.none_shown
    assert not plan.no_loss


def test_at_most_three_priorities():
    plan = plan_from(losses(np.full(8, 0.4), 0.1), 10, 6, Settings())
    assert plan.roles.count("priority") == 3
    plan = plan_from(losses([0.4, *[-0.1] * 7]), 10, 6, certain())
    assert plan.roles == ("priority", *["keep up"] * 7)


def test_equal_parts_are_too_close_to_separate():
    plan = plan_from(losses([0.6, 0.6, *[0.0] * 6], 0.1), 10, 6, Settings())
    assert plan.table["tied"].tolist()[:2] == [True, True]
    assert plan.table["p_first"].to_numpy()[:2] == pytest.approx(0.5, abs=0.1)


def test_a_plan_that_is_the_proportional_one_says_so():
    assert plan_from(losses(np.full(8, 0.4)), 10, 6, certain()).no_better
    lopsided = losses([2.0, *[0.15] * 7])
    assert not plan_from(lopsided, 2, 6, certain(floor_hours=0.0)).no_better


def test_what_the_users_own_limits_cost_is_said():
    """By hand: half an hour in each of seven parts is not in the one that loses most."""
    lopsided = losses([2.0, *[0.0] * 7])
    plan = plan_from(lopsided, 2, 6, certain(floor_hours=0.5))
    usual = 12 - 7 * 0.025 * 12
    lost = 0.8 * (np.exp(-8.5 / 20) - np.exp(-usual / 20))
    assert plan.limits_cost == pytest.approx(lost)
    assert f"cost {lost:.2f} strokes a round" in split_words(plan, Say())[-1]
    free = plan_from(lopsided, 2, 6, certain())
    assert free.limits_cost == 0
    assert not any("limits" in said for said in split_words(free, Say()))


def test_the_usual_floor_is_an_hour_or_a_fortieth_of_the_block():
    lopsided = losses([2.0, *[0.0] * 7])
    for weeks, floor in ((1, 0.25), (6, 1.0)):
        hours = share(plan_from(lopsided, 10, weeks, certain())) * 10 * weeks
        assert hours[1:] == pytest.approx([floor] * 7)


def test_the_plan_is_never_behind_the_hours_now():
    """Hours now that are the optimum itself: the usual floors give way, a user's own do not."""
    lopsided, now = losses([2.0, *[0.0] * 7]), np.array([1.0, *[0.0] * 7])

    def lead(settings):
        plan = plan_from(lopsided, 2, 6, settings, now=now)
        return plan.alternatives.set_index("split").loc[NOW, "plan_lead"]

    assert lead(certain(floor_hours=0.3)) < -0.03
    assert -0.005 <= lead(certain()) <= 0


@pytest.mark.long
@given(st.lists(st.floats(-0.5, 1.5), min_size=8, max_size=8), st.floats(0.5, 12), st.data())
@settings(max_examples=25)
def test_no_split_beside_it_beats_the_plan_on_average(loss, hours, data):
    now = np.array(data.draw(st.lists(st.floats(0, 5), min_size=8, max_size=8)))
    now[0] += 0.1
    plan = plan_from(losses(loss, 0.2, draws=200), hours, 6, Settings(floor_hours=0.0), now=now)
    assert plan.alternatives["plan_lead"].min() >= -1e-9
    usual = plan_from(losses(loss, 0.2, draws=200), hours, 6, Settings(), now=now)
    assert usual.alternatives.set_index("split").loc[NOW, "plan_lead"] >= -0.005


def test_the_mean_of_the_best_splits_wins_less():
    """The rule before: a mean over draws of each draw's best split, within the same floors."""
    seen = losses(LOSS, 0.5)
    plan = plan_from(seen, 2, 6, Settings(floor_hours=0.0))
    draws = drawn(seen, Settings(floor_hours=0.0), SEED)
    mean = best_split(draws.gain, draws.scale, 12.0).mean(axis=0)
    won = plan.alternatives.set_index("split").loc["plan", "strokes_per_round"]
    assert draws.won(mean).mean() < won - 0.001


@pytest.mark.parametrize(("shots", "rounds", "few"), [(9, 5, True), (10, 4, True), (10, 5, False)])
def test_no_plan_from_few_strokes_or_rounds(shots, rounds, few):
    seen = replace(losses(LOSS), shots=np.full(8, 9), rounds=np.full(8, rounds))
    seen.shots[3] = shots
    plan = plan_from(seen, 10, 6, certain())
    assert plan.thin == few
    if few:
        assert share(plan) == pytest.approx(np.full(8, 1 / 8))
        assert not plan.no_loss
        assert f"{sum(seen.shots)} shots, {rounds} rounds" in too_thin(plan)


def test_a_part_with_few_shots_has_its_floor_and_says_so():
    seen = losses([0.5, 0.5, 3.0, *[0.2] * 5], 0.1)
    seen.shots[2] = 9
    plan = plan_from(seen, 10, 6, Settings())
    assert share(plan)[2] == pytest.approx(1 / 60)
    assert plan.roles[2] == "not enough shots"
    seen.shots[2] = 10
    assert share(plan_from(seen, 10, 6, Settings()))[2] > 0.3


def test_a_typed_split_and_the_hours_now_stand_beside_it():
    now = np.array([10.0, 0, 0, 5, 0, 5, 0, 0])
    plan = plan_from(losses(LOSS), 10, 6, certain(), now=now, split={"putt_0_10": 1.0})
    table = plan.alternatives.set_index("split")["strokes_per_round"]
    assert table["your split"] == pytest.approx(0.4 * 0.7 * (1 - np.exp(-3.0)))
    spent = np.array([30, 0, 0, 15, 0, 15, 0, 0])
    won = 0.4 * np.maximum(LOSS, 0) * (1 - np.exp(-spent / 20))
    assert table["hours now"] == pytest.approx(won.sum())
    assert plan.table["share_now"].to_numpy() == pytest.approx(now / 20)


def test_the_largest_change_holds_and_gives_way_to_floors():
    now = np.array([5, 3, 1, 2, 0, 3, 1, 0.2])
    change = 0.05
    plan = plan_from(losses(LOSS), 10, 6, certain(largest_change=change), now=now)
    moved = np.abs(share(plan) - now / now.sum())
    assert moved.max() <= change + 1e-9
    tight = plan_from(losses(LOSS), 10, 6, certain(largest_change=0.01), now=now)
    assert share(tight)[4] == pytest.approx(1 / 60)  # nothing today, and a floor of an hour


def test_settings_that_cannot_hold_are_refused():
    both = Settings(floor_by_part={"sand_0_50": 6.0}, ceiling_by_part={"sand_0_50": 2.0})
    with pytest.raises(CallError, match="sand_0_50"):
        plan_from(losses(LOSS), 10, 6, both)
    low = Settings(ceiling_by_part=dict.fromkeys(PARTS, 2.0))
    with pytest.raises(CallError, match="ceilings add up to 16"):
        plan_from(losses(LOSS), 10, 6, low)
    with pytest.raises(CallError, match="practice log"):
        plan_from(losses(LOSS), 10, 6, Settings(largest_change=0.1))


def test_own_rates_are_mixed_half_with_proportional():
    own = certain(rate_by_part={"wedge_50_100": 60.0}, floor_hours=0.0)
    plan = plan_from(losses([0.8, 0.4], 0.0), 8, 5, Settings(**{**vars(own), "parts": PARTS[:2]}))
    # at one price: 20 ln(.32/20/p) + 60 ln(.16/60/p) = 40
    log_price = (20 * np.log(0.016) + 60 * np.log(0.16 / 60) - 40) / 80
    best = np.clip(20 * (np.log(0.016) - log_price), 0, 40)
    assert share(plan)[0] == pytest.approx(0.5 * best / 40 + 0.5 * 2 / 3, abs=1e-6)


def test_detail_by_value():
    plan = plan_from(losses([0.8, 0.4]), 8, 5, certain(2))
    hours = share(plan) * 40
    slope = 0.4 * np.array([0.8, 0.4]) / 20 * np.exp(-hours / 20)
    assert plan.detail["marginal"].to_numpy() == pytest.approx(slope)
    # half the rate: hours differ by 10 ln 2, double: by 40 ln 2
    assert plan.detail["share_half_rate"][0] == pytest.approx((20 + 5 * np.log(2)) / 40)
    assert plan.detail["share_double_rate"][0] == pytest.approx((20 + 20 * np.log(2)) / 40)


def test_curves_pass_through_the_plan_and_today():
    now = np.array([8.0, 4.0])
    plan = plan_from(losses([0.8, 0.4]), 8, 5, certain(2), now=now)
    points = plan.curves[plan.curves["part"] == PARTS[0]].set_index("point")
    assert points.loc["now", "hours"] == 8
    assert points.loc["now", "strokes_per_round"] == pytest.approx(0.32 * (1 - np.exp(-0.4)))
    assert points.loc["plan", "hours"] == pytest.approx(share(plan)[0] * 40)
    line = plan.curves[plan.curves["point"] == ""]
    assert (
        line["observed"] == (line["hours"] <= line["part"].map({PARTS[0]: 8, PARTS[1]: 4}))
    ).all()


@pytest.mark.parametrize(("hours", "weeks"), [(0, 6), (10, 0), (-1, 6), (float("nan"), 6)])
def test_no_hours_no_plan(demo, hours, weeks):
    with pytest.raises(CallError, match=r"must be from (0\.25 to 168|1 to 104)"):
        practice_plan(demo, hours, weeks)


def test_the_demo_season(demo):
    plan = practice_plan(demo, 10, 6)
    table = plan.table.set_index("part")
    assert list(table.index) == list(PARTS)
    assert table["share"].sum() == pytest.approx(1)
    log = demo.frame(
        "SELECT part, sum(minutes) / 60 AS hours FROM practice_log "
        "WHERE date > (SELECT max(date) FROM practice_log) - INTERVAL 42 DAY GROUP BY part"
    ).set_index("part")["hours"]
    assert table["share_now"].to_dict() == pytest.approx(
        (log / log.sum()).reindex(PARTS).fillna(0).to_dict()
    )
    assert NOW in set(plan.alternatives["split"])
    # losses against a nearer level are smaller, part by part
    near = practice_plan(demo, 10, 6, "amateur-90").table.set_index("part")
    assert (near["loss_per_round"] < table["loss_per_round"]).all()


def test_the_same_seed_is_the_same_plan(demo):
    first, again, other = (practice_plan(demo, 10, 6, seed=s).table["share"] for s in (1, 1, 2))
    assert first.equals(again)
    assert np.abs(first - other).max() < 0.01


def test_a_player_without_rounds_has_an_equal_split(demo):
    plan = practice_plan(demo, 10, 6, selection=Selection(player="Nobody"))
    assert plan.thin
    assert share(plan) == pytest.approx(np.full(8, 1 / 8))


def test_loss_per_round_not_per_shot():
    """Two parts of one loss per shot, one with four times the shots, deserve different hours."""
    rate = SHOTS_PER_ROUND[:2] * 0 + np.array([8.0, 2.0])
    plan = plan_from(losses(0.05 * rate, shots_per_round=rate), 8, 5, certain(2))
    assert share(plan)[0] == pytest.approx((20 + 10 * np.log(4)) / 40)
