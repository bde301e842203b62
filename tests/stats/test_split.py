"""The additive split: it adds up, it is symmetric, and simpler formulas do not do the same."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.stats.split import (
    FIRST_BIAS,
    FIRST_SPREAD,
    SECOND_BIAS,
    SECOND_SPREAD,
    Misses,
    RadialTable,
    Reference,
    debias,
    reference_scale,
    set_means,
    shapley_matrix,
    split,
)

GRID = np.arange(0, 400, 0.1)
VALUE = RadialTable(0.1, np.stack([np.log1p(GRID), 1 / (1 + np.exp(-(GRID - 30) / 5))]))
ONE = np.ones((1, 1))


def _reference(n: int, first: float = 10.0, second: float = 8.0) -> Reference:
    return Reference(np.zeros(n), np.full(n, first), np.zeros(n), np.full(n, second))


def _misses(n: int, seed: int, bias: tuple[float, float], sd: tuple[float, float]) -> Misses:
    rng = np.random.default_rng(seed)
    first, second = (b + s * rng.standard_normal(n) for b, s in zip(bias, sd, strict=True))
    return Misses(first, second, np.zeros(n, int))


samples = st.builds(
    _misses,
    st.integers(2, 60),
    st.integers(0, 10**6),
    st.tuples(st.floats(-30, 30), st.floats(-30, 30)),
    st.tuples(st.floats(0, 30), st.floats(0, 30)),
)


@given(samples)
def test_factors_add_up_to_all_on_less_all_off(misses: Misses) -> None:
    reference = _reference(len(misses.first))
    parts = split(misses, reference, VALUE, ONE)[0]
    means = set_means(misses, reference, VALUE, ONE)[0]
    assert parts.sum(axis=0) == pytest.approx(means[15] - means[0], abs=1e-9)


@pytest.mark.long
@given(samples)
def test_turning_the_second_axis_round_changes_nothing(misses: Misses) -> None:
    reference = _reference(len(misses.first))
    turned = Misses(misses.first, -misses.second, misses.group)
    assert split(turned, reference, VALUE, ONE) == pytest.approx(
        split(misses, reference, VALUE, ONE), abs=1e-12
    )


@pytest.mark.long
@given(samples)
def test_swapping_the_axes_swaps_their_factors(misses: Misses) -> None:
    n = len(misses.first)
    swapped = Misses(misses.second, misses.first, misses.group)
    parts = split(misses, _reference(n), VALUE, ONE)[0]
    other = split(swapped, _reference(n, 8.0, 10.0), VALUE, ONE)[0]
    order = [SECOND_BIAS, SECOND_SPREAD, FIRST_BIAS, FIRST_SPREAD]
    assert other[order] == pytest.approx(parts, abs=1e-12)


def test_shapley_is_the_mean_over_all_orders_of_switching() -> None:
    means = np.random.default_rng(1).normal(size=16)
    gained = np.zeros(4)
    for order in permutations(range(4)):
        on = 0
        for factor in order:
            bit = 1 << (3 - factor)  # the first factor is the highest digit
            gained[factor] += (means[on | bit] - means[on]) / 24
            on |= bit
    assert shapley_matrix() @ means == pytest.approx(gained, abs=1e-12)


def test_removing_one_factor_at_a_time_does_not_add_up() -> None:
    misses = _misses(5000, 2, (-15, 12), (14, 12))
    means = set_means(misses, _reference(5000), VALUE, ONE)[0].sum(axis=1)
    one_at_a_time = sum(means[15] - means[15 & ~(1 << k)] for k in range(4))
    whole = means[15] - means[0]
    assert abs(one_at_a_time - whole) > 0.05 * whole


def test_a_quadratic_value_splits_by_hand() -> None:
    """With worth r^2 every factor stands alone: bias^2, and sd^2 less the reference's."""
    n = 40
    first = np.tile([-4.0, 0.0], n // 2)  # mean -2, sd 2
    second = np.tile([1.0, 1.0, 7.0, 7.0], n // 4)  # mean 4, sd 3
    misses = Misses(first, second, np.zeros(n, int))

    def square(radius: np.ndarray) -> np.ndarray:
        return radius[None] ** 2

    reference = Reference(np.zeros(n), np.full(n, 1.0), np.zeros(n), np.full(n, 2.0))
    parts = split(misses, reference, square, ONE)[0, :, 0]
    noise = np.array([4.0, 9.0]) / (n - 1)  # the squared standard error of either mean
    bias = np.array([4.0, 16.0]) - noise
    spread = np.array([4.0, 9.0]) + noise - np.array([1.0, 4.0])
    assert parts == pytest.approx([bias[0], spread[0], bias[1], spread[1]], abs=1e-9)


def test_noise_does_not_read_as_bias() -> None:
    """Without taking the mean's noise out of its square, no bias would cost some every time."""
    kept, raw = [], []
    for seed in range(200):
        u = np.random.default_rng(seed).standard_normal(30)
        mean, var = np.array([u.mean()]), np.array([u.var()])
        kept.append(float(debias(mean, var, np.array([30.0]))[0][0]) ** 2)
        raw.append(float(mean[0]) ** 2)
    assert np.mean(raw) > 0.025
    assert np.mean(kept) < 0.6 * np.mean(raw)


@pytest.mark.long
@given(st.floats(-5, 5), st.floats(0, 20), st.integers(2, 500))
def test_debias_keeps_the_mean_square_and_the_sign(mean: float, var: float, n: int) -> None:
    m, s = debias(np.array([mean]), np.array([var]), np.array([float(n)]))
    assert m[0] ** 2 + s[0] ** 2 == pytest.approx(mean**2 + var, abs=1e-9)
    assert abs(m[0]) <= abs(mean) + 1e-12
    assert m[0] * mean >= 0


def test_weights_count_groups_as_often_as_drawn() -> None:
    misses = _misses(60, 4, (-5, 3), (12, 9))
    misses = Misses(misses.first, misses.second, np.repeat(np.arange(6), 10))
    drawn = np.array([2.0, 0.0, 1.0, 3.0, 0.0, 0.0])
    rows = np.repeat(np.arange(60), drawn[misses.group].astype(int))
    repeated = Misses(misses.first[rows], misses.second[rows], np.zeros(60, int))
    by_weight = split(misses, _reference(60), VALUE, drawn[None, :])
    by_hand = split(repeated, _reference(60), VALUE, ONE)
    assert by_weight == pytest.approx(by_hand, abs=1e-12)
    nothing = split(misses, _reference(60), VALUE, np.zeros((1, 6)))
    assert np.isnan(nothing).all()


def test_blocks_of_draws_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    misses = _misses(50, 5, (3, 3), (9, 9))
    misses = Misses(misses.first, misses.second, np.arange(50) % 5)
    weights = np.random.default_rng(0).integers(0, 3, (30, 5)).astype(float)
    whole = split(misses, _reference(50), VALUE, weights)
    monkeypatch.setattr("sgzone.stats.split._CELLS_AT_A_TIME", 1)
    assert split(misses, _reference(50), VALUE, weights) == pytest.approx(whole, abs=1e-12)


def test_radial_table_is_straight_between_its_points_and_level_beyond() -> None:
    table = RadialTable(2.0, np.array([[0.0, 1.0, 5.0]]))
    assert table(np.array([[0.0, 1.0], [3.0, 99.0]]))[0].tolist() == [[0.0, 0.5], [3.0, 5.0]]


def _rounds(n: int, seed: int, df: float = np.inf) -> Misses:
    """Return misses of 20 rounds, with tails of Student's t where ``df`` says so."""
    rng = np.random.default_rng(seed)
    tails = np.sqrt(df / rng.chisquare(df, n)) if np.isfinite(df) else 1.0
    first, second = np.array([[10.0], [8.0]]) * rng.standard_normal((2, n)) * tails
    return Misses(first, second, np.sort(rng.integers(20, size=n)))


@pytest.mark.long
@given(st.integers(0, 10**6), st.sampled_from([np.inf, 3.0]), st.sampled_from([0.7, 1.0, 1.4]))
def test_the_scaled_reference_is_worth_what_was_asked_in_every_draw(
    seed: int, df: float, times: float
) -> None:
    misses, reference = _rounds(60, seed, df), _reference(60)
    weights = np.random.default_rng(seed).multinomial(20, np.full(20, 0.05), size=30).astype(float)
    own = reference_scale(misses, reference, VALUE, weights, np.full(30, 3.0))
    means = set_means(misses, reference, VALUE, weights, own)
    worth = means[:, 0].sum(axis=1)
    reached = own < 2.6 - 1e-9
    assert worth[reached] == pytest.approx(3.0, abs=1e-4)
    assert (worth[~reached] < 3.0).all()  # out of reach: a draw of very few long misses
    wanted = set_means(misses, reference, VALUE, weights, times * own)[:, 0].sum(axis=1)
    found = reference_scale(misses, reference, VALUE, weights, wanted)
    inside = (times * own > 0.3) & (times * own < 2.6) & reached
    assert found[inside] == pytest.approx((times * own)[inside], rel=1e-3)


def test_one_scale_for_all_draws_does_not_do() -> None:
    """The tempting shortcut: solved once for the season, drawn seasons are not worth the same."""
    misses, reference = _rounds(60, 1), _reference(60)
    weights = np.random.default_rng(1).multinomial(20, np.full(20, 0.05), size=30).astype(float)
    once = reference_scale(misses, reference, VALUE, np.ones((1, 20)), np.full(1, 3.0))
    means = set_means(misses, reference, VALUE, weights, np.repeat(once, 30))
    assert np.abs(means[:, 0].sum(axis=1) - 3.0).max() > 0.02


def test_a_player_of_the_references_own_worth_loses_nothing_whatever_the_tails() -> None:
    """With the normal reference heavy tails would be a spread that costs."""
    misses = _rounds(4000, 5, df=3.0)
    reference = _reference(4000)
    weights = np.ones((1, 20))
    worth = set_means(misses, reference, VALUE, weights)[0, 15].sum(keepdims=True)
    scale = reference_scale(misses, reference, VALUE, weights, worth)
    parts = split(misses, reference, VALUE, weights, scale)[0].sum(axis=1)
    assert parts.sum() == pytest.approx(0, abs=1e-3)
    assert split(misses, reference, VALUE, weights)[0].sum() > 0.05  # the reference as it is


def test_what_is_out_of_reach_gets_the_end_of_the_search_and_no_misses_get_one() -> None:
    misses, reference = _rounds(60, 2), _reference(60)
    ones = np.ones((3, 20))
    assert (reference_scale(misses, reference, VALUE, ones, np.full(3, 0.01)) == 0.3).all()
    assert (reference_scale(misses, reference, VALUE, ones, np.full(3, 99.0)) == 2.6).all()
    some = np.stack([np.ones(20), np.zeros(20)])
    found = reference_scale(misses, reference, VALUE, some, np.array([3.0, np.nan]))
    assert found[1] == 1.0
    assert found[0] == pytest.approx(
        reference_scale(misses, reference, VALUE, some[:1], np.full(1, 3.0))[0]
    )
    assert (reference_scale(misses, reference, VALUE, 0 * ones, np.full(3, np.nan)) == 1.0).all()
