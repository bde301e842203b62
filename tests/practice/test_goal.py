"""The way to a goal against closed forms, a simulation by hand, and the demo season."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.tables import share_of_score
from sgzone.errors import CallError
from sgzone.practice.goal import MOST_HOURS, gap_per_round, goal, read_target
from sgzone.practice.plan import practice_plan
from sgzone.practice.settings import Settings
from sgzone.resources import data_path
from sgzone.scoring import scored
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import open_store
from sgzone.stats.resample import SEED
from sgzone.terms import BENCHMARK_NAMES
from tests.practice.players import PARTS, certain, losses

LOSS = np.array([1.2, 0.6, 0.1, 0.5, 0.2, 0.7, 0.3, -0.1])
GAP = np.array([3.5, 1.7, 0.2, 1.3, 0.2, 2.2, 0.8, 0.3])


@pytest.fixture(scope="module")
def demo():
    with open_store() as store:
        store.load(data_path("demo/season.csv"))
        yield store


def way(seen, gap, target, settings, hours=0.0, level=0.8):
    spent = np.broadcast_to(np.asarray(hours, float), seen.mean.shape)
    return goal(
        seen, np.asarray(gap, float), read_target(target), settings, spent, level=level, seed=SEED
    )


def test_one_part_by_hand():
    """h = tau ln(a / (a - N)) with a = c L, N = L - k B."""
    need = 1.0 - share_of_score(75) * 2.5  # k = .30
    found = way(losses([1.0]), [2.5], "scratch", certain(1), hours=20 * np.log(0.4 / 0.1) + 0.01)
    assert found.need == pytest.approx(need) == pytest.approx(0.25)
    assert found.most == pytest.approx(0.4)
    assert found.least_hours == pytest.approx(20 * np.log(0.4 / 0.15), rel=2e-3)
    assert found.table["hours_to_goal"].sum() == pytest.approx(found.least_hours)
    assert (found.chance, found.there, found.out_of_reach) == (1.0, False, False)
    # k = 1.0 / 2.5 is the level now
    assert share_of_score(found.score_now) == pytest.approx(0.4)
    assert found.target.score == pytest.approx(75)


def test_a_share_of_the_distance_to_the_level_itself_never_arrives():
    """The wrong formula: V = c (L - k B) (1 - e^(-h/tau)) stays under N = L - k B, as c < 1."""
    found = way(losses([1.0]), [2.5], "scratch", certain(1))
    most_hours = 1e9
    wrong = 0.4 * found.need * -np.expm1(-most_hours / 20)
    assert wrong < found.need
    assert found.most > found.need
    assert np.isfinite(found.least_hours)


@pytest.mark.parametrize("score", [73, 74, 75, 75.5])
def test_several_parts_of_one_rate_by_the_closed_form(score):
    """The m largest a = c L share one price (sum a - N) / (m tau); h = tau ln(a / (tau price))."""
    gain = 0.4 * np.maximum(LOSS, 0)
    found = way(losses(LOSS), GAP, score, certain(floor_hours=0.0))
    need = LOSS.sum() - share_of_score(score) * GAP.sum()
    assert found.need == pytest.approx(need)
    order = np.sort(gain)[::-1]
    for m in range(1, 8):
        price = (order[:m].sum() - need) / (m * 20)
        if price > 0 and order[m - 1] / 20 > price >= (order[m] / 20 if m < 8 else 0):
            break
    else:
        raise AssertionError("no number of parts fits")
    hours = np.where(gain / 20 > price, 20 * np.log(np.maximum(gain, 1e-9) / (20 * price)), 0.0)
    assert found.least_hours == pytest.approx(hours.sum(), rel=2e-3)
    assert found.table["hours_to_goal"].to_numpy() == pytest.approx(hours, rel=5e-3, abs=5e-3)
    assert gain @ -np.expm1(-hours / 20) == pytest.approx(need)


def test_the_usual_floors_make_it_dearer():
    free = way(losses(LOSS), GAP, 75.5, certain(floor_hours=0.0))
    usual = way(losses(LOSS), GAP, 75.5, certain())
    least = 0.025 * usual.least_hours if usual.least_hours < 40 else 1
    assert usual.table["hours_to_goal"].min() == pytest.approx(least)
    assert usual.least_hours > free.least_hours + 0.1


def test_ceilings_and_the_largest_change_are_of_one_block():
    own = certain(largest_change=0.05, ceiling_by_part=dict.fromkeys(PARTS, 0.5))
    assert way(losses(LOSS), GAP, 75.5, own).least_hours == pytest.approx(
        way(losses(LOSS), GAP, 75.5, certain()).least_hours
    )


def test_out_of_reach_where_practice_without_end_wins_less():
    """sum c L = .4 on one part: a need just under it takes hours, one just over has none."""
    seen, just = losses([1.0]), (1 - 0.399) / 0.3
    gaps = (just, (1 - 0.4 - 1e-9) / 0.3, (1 - 0.401) / 0.3)
    near, edge, beyond = (way(seen, [gap], "scratch", certain(1)) for gap in gaps)
    assert near.least_hours == pytest.approx(20 * np.log(0.4 / 0.001), rel=2e-3)
    for far in (edge, beyond):
        assert far.out_of_reach
        assert far.table["hours_to_goal"].isna().all()
        assert far.chance == 0
    slow = way(seen, [just], "scratch", certain(1, rate_hours=1000, floor_hours=0))
    assert slow.least_hours == pytest.approx(1000 * np.log(400), rel=2e-3)
    assert slow.least_hours < MOST_HOURS


def test_hours_beyond_the_longest_block_are_out_of_reach():
    slow = certain(1, rate_hours=1000, floor_hours=0)
    need = 0.4 * -np.expm1(-MOST_HOURS / 1000)
    for off, reached in ((1e-9, True), (-1e-9, False)):
        found = way(losses([1.0]), [(1 - need + off) / 0.3], "scratch", slow)
        assert found.most > found.need
        assert found.out_of_reach != reached


def test_who_is_there_already_needs_no_hours():
    found = way(losses(LOSS), GAP, "amateur-90", certain())
    assert found.need == pytest.approx(LOSS.sum() - GAP.sum())
    assert found.there
    assert found.least_hours == 0
    assert (found.table["hours_to_goal"] == 0).all()
    assert found.chance == 1


def test_the_need_of_each_part_is_to_the_target_and_adds_up():
    found = way(losses(LOSS, 0.2), GAP, "amateur-80", Settings())
    k = 0.3 + 0.7 * 5 / 15
    assert found.table["need_per_round"].to_numpy() == pytest.approx(LOSS - k * GAP)
    assert found.table["need_per_round"].sum() == pytest.approx(found.need)
    assert found.table["loss_per_round"].to_numpy() == pytest.approx(LOSS)
    assert found.table["gap_per_round"].to_numpy() == pytest.approx(GAP)


def test_further_targets_ask_more_hours_and_have_less_chance():
    seen = losses(LOSS, 0.2, draws=1000)
    found = [way(seen, GAP, score, Settings(), hours=4) for score in np.arange(78, 71, -0.5)]
    reached = [one.least_hours for one in found if not one.out_of_reach]
    assert 4 < len(reached) < len(found)
    assert reached == sorted(reached)
    assert len({*reached}) > 4
    # once out of reach, out of reach
    assert [one.out_of_reach for one in found] == sorted(one.out_of_reach for one in found)
    chances = [one.chance for one in found]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] > 0.9 > 0.1 > chances[-1]


def test_chance_and_ranges_against_a_simulation_by_hand():
    """Losses, shares and rates drawn anew, one player after the other."""
    sd, hours = 0.12, np.array([12.0, 5, 1, 6, 2, 7, 2, 1])
    seen = losses(LOSS, sd, draws=20_000)
    found = way(seen, GAP, 75.5, Settings(), hours)
    rng = np.random.default_rng(11)
    k = share_of_score(75.5)
    won, needs = [], []
    for _ in range(20_000):
        loss = LOSS + sd * rng.normal(size=8)
        share = np.minimum(0.4 * np.exp(0.35 * rng.normal(size=8)), 1)
        tau = 20 * np.exp(0.5 * rng.normal())
        won.append(float(np.sum(share * np.maximum(loss, 0) * (1 - np.exp(-hours / tau)))))
        needs.append(float(loss.sum() - k * GAP.sum()))
    by_hand = np.mean(np.array(won) >= np.array(needs))
    assert 0.2 < by_hand < 0.8
    assert found.chance == pytest.approx(by_hand, abs=0.015)
    assert (found.need_low, found.need_high) == pytest.approx(
        np.quantile(needs, [0.1, 0.9]), abs=0.015
    )
    ends = share_of_score(found.score_low), share_of_score(found.score_high)
    assert np.array(ends) == pytest.approx(
        np.quantile((np.array(needs) + k * GAP.sum()) / GAP.sum(), [0.1, 0.9]), abs=0.003
    )


def test_the_cheapest_hours_win_the_need_on_average():
    seen = losses(LOSS, 0.2, draws=2000)
    found = way(seen, GAP, 74, Settings())
    at = way(seen, GAP, 74, Settings(), found.table["hours_to_goal"])
    assert at.chance == pytest.approx(0.5, abs=0.1)
    less = way(seen, GAP, 74, Settings(), 0.5 * found.table["hours_to_goal"])
    assert less.chance < at.chance - 0.1


def test_parts_on_which_levels_do_not_differ_have_no_score():
    found = way(losses([0.5]), [0.0], "scratch", certain(1))
    assert np.isnan([found.score_now, found.score_low, found.score_high]).all()
    assert found.need == pytest.approx(0.5)


@pytest.mark.parametrize("name", BENCHMARK_NAMES)
def test_a_name_is_the_score_of_its_level(name):
    score = {"tour": 75 - 0.3 * 15 / 0.7, "scratch": 75}.get(name) or float(name.split("-")[1])
    found = read_target(name)
    assert (found.name, found.score) == (name, pytest.approx(score))
    if name != "tour":  # its score has more digits than the lowest that may be typed
        same = read_target(f"{score:g}")
        assert (same.name, same.k) == ("", pytest.approx(found.k))
        assert read_target(score).k == same.k


@pytest.mark.parametrize("given", ["nowhere", "", "68.5", "101", "nan", 60, 101.0, True, [78]])
def test_what_is_no_target_is_told_what_to_type(given):
    with pytest.raises(CallError, match=r"from 68.6 to 100, such as 78; or a level: tour, scratch"):
        read_target(given)


def test_the_gap_is_what_the_two_ends_differ_by_stroke_after_stroke(demo):
    strokes = scored(demo, "tour", EVERYTHING)
    strokes = strokes[strokes["gained"].notna()]
    tour, last = benchmark("tour"), benchmark("amateur-90")
    start, end = (
        last.expected(lie.to_numpy(object), feet.to_numpy(float))
        - tour.expected(lie.to_numpy(object), feet.to_numpy(float))
        for lie, feet in (
            (strokes["lie"], strokes["distance_ft"]),
            (strokes["end_lie"], strokes["end_distance_ft"]),
        )
    )
    whole = demo.frame("SELECT count(*) AS n FROM holes")["n"][0] / 18
    sums = strokes.assign(gap=start - end).groupby("part")["gap"].sum() / whole
    found = gap_per_round(demo, EVERYTHING, PARTS)
    assert found == pytest.approx(sums.reindex(PARTS).to_numpy())
    assert (gap_per_round(demo, Selection(player="Nobody"), PARTS) == 0).all()


@pytest.mark.long
def test_the_demo_season_a_stroke_at_a_time(demo):
    """Average score 76.4, gap 10.35: one, two, three strokes lower ask ever more hours."""
    plans = [practice_plan(demo, 6, 6, target=score) for score in (75.45, 74.45, 73.45, 72.45)]
    goals = [plan.goal for plan in plans]
    assert np.diff([one.need for one in goals]) == pytest.approx(10.35 * 0.7 / 15, abs=0.002)
    assert goals[0].need == pytest.approx(0.42, abs=0.02)
    assert goals[0].most == pytest.approx(1.58, abs=0.05)
    hours = [one.least_hours for one in goals]
    assert hours[:3] == pytest.approx([29, 102, 335], rel=0.08)
    assert np.isnan(hours[3])
    at = goals[0].table.set_index("part")["hours_to_goal"].nlargest(4)
    assert list(at.index) == ["approach_100_150", "putt_0_10", "wedge_50_100", "chip_0_30"]
    again = practice_plan(demo, hours[0] / 6, 6, target=75.45)
    assert again.goal.chance == pytest.approx(0.5, abs=0.05)
    for name in ("need_per_round", "hours_to_goal"):
        assert plans[0].table[name].equals(goals[0].table[name])
    # the hours of the block are the same with a target and without
    plain = practice_plan(demo, 6, 6)
    kept = plain.table.columns.drop(["need_per_round", "hours_to_goal"])
    assert plain.table[kept].equals(plans[0].table[kept])
    assert plain.goal is None


def test_a_target_stands_on_losses_to_the_tour_alone(demo):
    with pytest.raises(CallError, match="leave the benchmark out"):
        practice_plan(demo, 6, 6, "scratch", target=78)
    assert practice_plan(demo, 6, 6, benchmark("tour"), target=78).goal.there
    assert practice_plan(demo, 6, 6, target=78, selection=Selection(player="Nobody")).goal is None
