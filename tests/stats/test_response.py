"""The closed form against scipy's SLSQP, its limits, and what an hour more brings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from sgzone.stats.response import best_on_average, best_split, marginal, returns


def by_slsqp(gain, scale, budget, floor, ceiling):
    found = minimize(
        lambda h: -returns(gain, scale, h).sum(),
        np.clip(np.full(len(gain), budget / len(gain)), floor, ceiling),
        jac=lambda h: -marginal(gain, scale, h),
        bounds=list(zip(floor, np.minimum(ceiling, budget), strict=True)),
        constraints={"type": "eq", "fun": lambda h: h.sum() - budget, "jac": np.ones_like},
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 500},
    )
    return found.x


@pytest.mark.parametrize("seed", range(12))
def test_equals_slsqp(seed):
    rng = np.random.default_rng(seed)
    gain, scale = rng.uniform(0.02, 0.5, 7), rng.uniform(10, 40, 7)
    floor, ceiling = rng.uniform(0, 2, 7), rng.uniform(12, 30, 7)
    ours = best_split(gain, scale, 60.0, floor, ceiling)
    theirs = by_slsqp(gain, scale, 60.0, floor, ceiling)
    assert returns(gain, scale, ours).sum() >= returns(gain, scale, theirs).sum() - 1e-12
    assert returns(gain, scale, ours).sum() == pytest.approx(
        returns(gain, scale, theirs).sum(), abs=1e-6
    )
    assert ours == pytest.approx(theirs, abs=5e-3)


def test_hours_of_free_activities_have_one_price():
    """The condition of the optimum itself, to 1e-6: no hour is worth more elsewhere."""
    gain, scale = np.array([0.4, 0.3, 0.2]), np.array([20.0, 15.0, 25.0])
    hours = best_split(gain, scale, 45.0)
    slopes = marginal(gain, scale, hours)
    assert slopes == pytest.approx([slopes[0]] * 3, rel=1e-9)


def test_two_activities_by_hand():
    # equal scales: hours differ by scale ln(gain ratio); 20 ln 2 = 13.863
    hours = best_split([0.4, 0.2], 20.0, 40.0)
    assert hours == pytest.approx([20 + 10 * np.log(2), 20 - 10 * np.log(2)], abs=1e-9)


gains = st.lists(st.floats(0, 2), min_size=2, max_size=9)


@given(gains, st.floats(0.5, 200), st.floats(0, 3))
def test_budget_floors_and_ceilings_hold(gain, budget, floor):
    ceiling = max(budget / 2 + 1e-6, floor)
    hours = best_split(gain, 20.0, budget, floor, ceiling)
    lowest = min(floor, budget / len(gain))
    assert hours.sum() == pytest.approx(budget, rel=1e-9)
    assert (hours >= lowest - 1e-9).all()
    assert (hours <= ceiling + 1e-9).all()


@given(gains, st.integers(0, 8), st.floats(1.01, 3))
def test_more_loss_never_means_fewer_hours(gain, which, factor):
    which %= len(gain)
    before = best_split(gain, 20.0, 60.0, 1.0)
    more = list(gain)
    more[which] = more[which] * factor + 0.01
    after = best_split(more, 20.0, 60.0, 1.0)
    if max(gain) > 0:
        assert after[which] >= before[which] - 1e-7


def test_no_gain_gets_the_floor_only():
    hours = best_split([0.3, 0.0, 0.2], 20.0, 30.0, 1.0)
    assert hours[1] == pytest.approx(1.0, abs=1e-9)


def test_all_gains_zero_split_equally():
    assert best_split([0.0, 0.0, 0.0, 0.0], 20.0, 10.0) == pytest.approx([2.5] * 4)


def test_a_tiny_budget_scales_the_floors():
    assert best_split([0.3, 0.1], 20.0, 1.0, [3.0, 1.0]) == pytest.approx([0.75, 0.25])


def test_ceilings_below_the_budget_are_refused():
    with pytest.raises(ValueError, match="ceilings"):
        best_split([0.3, 0.1], 20.0, 10.0, 0.0, 4.0)


def test_draws_are_solved_together_as_one_by_one():
    rng = np.random.default_rng(3)
    gain = rng.uniform(0, 0.5, (40, 6))
    scale = rng.uniform(10, 30, (40, 1))
    together = best_split(gain, scale, 50.0, 1.0)
    for row, one, own in zip(together, gain, scale, strict=True):
        assert row == pytest.approx(best_split(one, own, 50.0, 1.0), abs=1e-9)


def test_allocating_by_gain_per_hour_alone_returns_less():
    """Negative control: everything to the largest gain is not the optimum."""
    gain = np.array([0.4, 0.35, 0.3])
    best = returns(gain, 20.0, best_split(gain, 20.0, 60.0)).sum()
    assert best > returns(gain, 20.0, np.array([60.0, 0.0, 0.0])).sum() + 0.05


@pytest.mark.parametrize("seed", range(6))
def test_the_best_on_average_equals_slsqp(seed):
    rng = np.random.default_rng(seed)
    gain = np.maximum(rng.normal(0.1, 0.3, (60, 7)), 0)
    scale = 20 * np.exp(0.5 * rng.normal(size=(60, 1)))
    floor, ceiling = rng.uniform(0, 2, 7), rng.uniform(12, 30, 7)
    ours = best_on_average(gain, scale, 60.0, floor, ceiling)
    found = minimize(
        lambda h: -returns(gain, scale, h).sum(axis=1).mean(),
        np.clip(np.full(7, 60 / 7), floor, ceiling),
        jac=lambda h: -marginal(gain, scale, h).mean(axis=0),
        bounds=list(zip(floor, ceiling, strict=True)),
        constraints={"type": "eq", "fun": lambda h: h.sum() - 60, "jac": np.ones_like},
        method="SLSQP",
        options={"ftol": 1e-15, "maxiter": 500},
    )
    won, theirs = (returns(gain, scale, h).sum(axis=1).mean() for h in (ours, found.x))
    assert won >= theirs - 1e-12
    assert ours == pytest.approx(found.x, abs=5e-3)


@pytest.mark.long
@given(gains, st.floats(0.5, 200), st.floats(0, 3))
def test_the_best_on_average_of_one_draw_is_its_best(gain, budget, floor):
    ceiling = max(budget / 2 + 1e-6, floor)
    one = best_split(gain, 20.0, budget, floor, ceiling)
    assert best_on_average([gain], 20.0, budget, floor, ceiling) == pytest.approx(one, abs=1e-6)


@pytest.mark.long
@given(st.integers(0, 2**32 - 1), st.floats(0.5, 500), st.floats(0, 3))
def test_the_best_on_average_keeps_its_limits_and_one_price(seed, budget, floor):
    rng = np.random.default_rng(seed)
    gain = np.maximum(rng.normal(0.0, 0.3, (30, 5)), 0)
    scale = 20 * np.exp(rng.normal(size=(30, 1)))
    ceiling = max(0.6 * budget, floor)
    hours = best_on_average(gain, scale, budget, floor, ceiling)
    lowest = min(floor, budget / 5)
    assert hours.sum() == pytest.approx(budget, rel=1e-9)
    assert (hours >= lowest - 1e-9).all()
    assert (hours <= ceiling + 1e-9).all()
    free = (hours > lowest + 1e-6) & (hours < ceiling - 1e-6)
    slopes = marginal(gain, scale, hours).mean(axis=0)[free]
    if len(slopes):
        assert slopes == pytest.approx(np.full(len(slopes), slopes[0]), rel=1e-5)


def test_the_best_on_average_without_gain_is_equal_and_impossible_ceilings_are_refused():
    assert best_on_average(np.zeros((4, 5)), 20.0, 10.0) == pytest.approx([2.0] * 5)
    assert best_on_average([[0.3, 0.0]], 20.0, 10.0, 1.0) == pytest.approx([9.0, 1.0])
    with pytest.raises(ValueError, match="ceilings"):
        best_on_average([[0.3, 0.1]], 20.0, 10.0, 0.0, 4.0)
