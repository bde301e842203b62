"""What a round's observations have in common: known shares, few couples, the pull."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.alike import USUAL, USUAL_SD, Alike, Places, alike, lift

VARIANCE = 0.33**2


def _found(seed, rounds, each, own=0.0, across=0.0, cells=1) -> Alike:
    """Return the shares of two groups with ``each`` observations in every round, in cells."""
    rng = np.random.default_rng(seed)
    cluster = np.repeat(np.arange(rounds), 2 * each)
    group = np.arange(len(cluster)) % 2
    shared = rng.normal(0, np.sqrt(across), rounds)[cluster]
    alone = rng.normal(0, np.sqrt(own - across), (rounds, 2))[cluster, group]
    y = shared + alone + rng.normal(0, np.sqrt(1 - own), len(cluster))
    cell = group * cells + rng.integers(cells, size=len(cluster))
    places = Places(cell, group, cluster)
    return alike(0.33 * y + 0.5 * cell, places, VARIANCE)


@pytest.mark.parametrize(("own", "across"), [(0.3, 0.3), (0.3, 0.0), (0.3, 0.1), (0.0, 0.0)])
def test_many_rounds_tell_both_shares(own, across):
    got = _found(1, 1500, 8, own, across)
    assert got.own == pytest.approx(own, abs=0.03)
    assert got.across == pytest.approx(across, abs=0.03)


def test_few_rounds_and_many_cells_are_no_less_right_on_average():
    """Means over four rounds take a quarter of what their days do out of the residuals."""
    found = [_found(seed, 4, 30, 0.3, 0.3, cells=5).own for seed in range(150)]
    assert np.mean(found) == pytest.approx(0.3, abs=0.05)


def test_one_observation_a_round_says_nothing_and_the_usual_share_stands():
    rng = np.random.default_rng(2)
    places = Places(np.zeros(50, int), np.zeros(50, int), np.arange(50))
    assert alike(rng.normal(0, 0.33, 50), places, VARIANCE) == Alike(USUAL, USUAL)


def test_the_pull_is_that_of_the_two_precisions_by_hand():
    """One group, two rounds of two: residuals 1, 1, -1, -1, so four ordered couples of product 1.

    Each is unlike by 1/4 and keeps half of the round: 4 + 1 over 4 / 2 = 2 couples.
    """
    y = np.array([1.0, 1.0, -1.0, -1.0])
    got = alike(y, Places(np.zeros(4, int), np.zeros(4, int), np.array([0, 0, 1, 1])), 1.0)
    weight = USUAL_SD**2 / (USUAL_SD**2 + 2 / 2)
    assert got.own == pytest.approx(USUAL + weight * (5 / 2 - USUAL))


def test_the_share_across_groups_is_no_larger_than_the_own():
    found = [_found(seed, 10, 4, 0.1, 0.1) for seed in range(30)]
    assert all(0 <= one.across <= one.own for one in found)


def test_lift_by_hand():
    """Two rounds, one observation of each group in both: weights -1/2, -1/2, 1/2, 1/2."""
    half = np.array([0.5, 0.5])
    assert lift(Alike(0.2, 0.2), 1.0, -half, half) == pytest.approx(0.8)
    assert lift(Alike(0.2, 0.0), 1.0, -half, half) == pytest.approx(1.0)
