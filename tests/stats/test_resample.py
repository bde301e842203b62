"""Round draws: a multinomial, and intervals that hardly hang on the seed."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.cluster import per_unit
from sgzone.stats.resample import draw_interval, round_weights


def test_weights_are_multinomial_counts():
    got = round_weights(8, 4000, seed=1)
    assert got.shape == (4000, 8)
    assert (got.sum(axis=1) == 8).all()
    assert got.mean(axis=0) == pytest.approx(np.ones(8), abs=0.06)
    assert got.var(axis=0) == pytest.approx(np.full(8, 7 / 8), abs=0.08)  # n p (1 - p)


def test_the_same_seed_gives_the_same_draws_and_another_does_not():
    assert (round_weights(9, 50, 1) == round_weights(9, 50, 1)).all()
    assert (round_weights(9, 50, 1) != round_weights(9, 50, 2)).any()


@pytest.mark.parametrize("rounds", [6, 10, 40])
def test_two_seeds_move_no_interval_end_by_a_tenth_of_its_width(rounds):
    rng = np.random.default_rng(4)
    n = rng.integers(1, 9, (rounds, 30)).astype(float)
    total = rng.normal(0, 0.33 * np.sqrt(n))
    value = total.sum(axis=0) / n.sum(axis=0)

    def ends(seed):
        weights = round_weights(rounds, seed=seed)
        drawn = (weights @ total) / (weights @ n)
        return draw_interval(value, drawn, rounds, 0.8)

    first = ends(1)
    for seed in range(2, 8):
        for one, other in zip(first, ends(seed), strict=True):
            assert (np.abs(one - other) < 0.10 * (first[1] - first[0])).all()


def test_the_interval_is_that_of_the_cluster_robust_t():
    # The bootstrap estimates what the closed form computes: they agree within the draws' noise.
    rng = np.random.default_rng(9)
    rounds = 60
    n = rng.integers(3, 9, rounds).astype(float)
    total = rng.normal(0, 0.33 * np.sqrt(n))
    weights = round_weights(rounds, 4000)
    drawn = (weights @ total) / (weights @ n)
    value = np.array(total.sum() / n.sum())
    low, high = draw_interval(value, drawn, rounds, 0.8)
    closed = per_unit(np.zeros(rounds, int), n, total, 1, 0.8)
    assert high - low == pytest.approx(closed.high[0] - closed.low[0], rel=0.06)


def test_one_round_has_no_interval():
    low, high = draw_interval([0.1], np.zeros((5, 1)), 1, 0.8)
    assert np.isnan(low).all()
    assert np.isnan(high).all()
