"""Changes over a season of rounds: by hand, against statsmodels, against loops, and by property."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sgzone.stats import change
from sgzone.stats.change import CHANCE, changes, enough, halves


def asked(total, weight, *, shuffles=200, seed=1, cut=None, line=True):
    """Return the changes of series that are all judged together."""
    total, weight = (np.atleast_2d(np.asarray(v, float).T).T for v in (total, weight))
    series = total.shape[1]
    return changes(
        total,
        weight,
        cut or halves(len(total)),
        np.ones(series, bool),
        np.zeros(series, int),
        np.random.default_rng(seed),
        line=line,
        shuffles=shuffles,
    )


def season(rng, rounds, rates, step=0.0, spread=0.33):
    """Return S and n: Poisson strokes, of which the first series steps up half-way."""
    weight = rng.poisson(rates, (rounds, len(rates))).astype(float)
    mean = np.zeros((rounds, len(rates)))
    mean[rounds // 2 :, 0] = step
    return rng.normal(weight * mean, spread * np.sqrt(weight)), weight


def test_halves_by_hand():
    """The odd middle round is left out; means 2 and 5, squared errors 2 and 8."""
    got = asked([1, 3, 70, 6, 14], [1, 1, 9, 2, 2])
    assert got.first.value == pytest.approx([2.0])
    assert got.second.value == pytest.approx([5.0])
    assert (got.first.se**2, got.second.se**2) == (pytest.approx([2.0]), pytest.approx([8.0]))
    assert got.step.value == pytest.approx([3.0])
    assert got.step.se == pytest.approx([np.sqrt(10)])
    assert got.step.df == pytest.approx([100 / 68])
    assert got.step.p == pytest.approx(2 * stats.t.sf(3 / np.sqrt(10), 100 / 68))
    assert got.step.half_width(0.2) == pytest.approx(stats.t.ppf(0.9, 100 / 68) * np.sqrt(10))


def test_the_line_by_hand():
    """The mean is 1.5, the slope 2 a round, its squared error 1 / 1 / 2; two rounds long."""
    got = asked([0, 2, 4], [1, 2, 1])
    assert got.line.value == pytest.approx([4.0])
    assert got.line.se == pytest.approx([2 * np.sqrt(0.5)])
    assert got.line.df == pytest.approx([1.0])


@pytest.mark.parametrize("even", [True, False])
def test_the_line_is_weighted_least_squares(even):
    rng = np.random.default_rng(3)
    total, weight = season(rng, 24, [1.5], 0.2)
    weight = np.full_like(weight, 4.0) if even else weight
    there = weight[:, 0] > 0
    assert even or not there.all()  # a round without such a stroke is no observation
    total *= weight > 0
    got = asked(total, weight)
    y, w = total[there, 0] / weight[there, 0], weight[there, 0]
    fit = sm.WLS(y, sm.add_constant(np.flatnonzero(there).astype(float)), weights=w).fit()
    assert got.line.value == pytest.approx([23 * fit.params[1]])
    assert got.line.se == pytest.approx([23 * fit.bse[1]])
    assert got.line.p == pytest.approx([fit.pvalues[1]])


def _by_loops(total, weight, cut):
    """Return the smaller p-value of one order of the rounds, by the formulas as written."""
    found = []
    for s, n in zip(total.T, weight.T, strict=True):
        sides = []
        for rows in (slice(0, cut[0]), slice(cut[1], None)):
            a, b = s[rows][n[rows] > 0], n[rows][n[rows] > 0]
            m, g = a.sum() / b.sum(), len(b)
            v = (g / (g - 1)) ** 2 * ((a - b * m) ** 2).sum() / b.sum() ** 2
            sides.append((m, v, g - 1))
        (m1, v1, f1), (m2, v2, f2) = sides
        df = (v1 + v2) ** 2 / (v1**2 / f1 + v2**2 / f2)
        p_half = 2 * stats.t.sf(abs(m2 - m1) / np.sqrt(v1 + v2), df)
        t, there = np.arange(len(s)), n > 0
        tb, m = (n * t).sum() / n.sum(), s.sum() / n.sum()
        q = (n * (t - tb) ** 2).sum()
        b = ((t - tb) * (s - n * m)).sum() / q
        e = (s - n * (m + b * (t - tb)))[there]
        free = there.sum() - 2
        se = np.sqrt((e**2 / n[there]).sum() / free / q)
        found.append(min(p_half, 2 * stats.t.sf(abs(b) / se, free)))
    return np.array(found)


def test_luck_is_learned_from_whole_rounds_in_random_order():
    """The same orders by loops: each round goes to its place with all its series."""
    total, weight = season(np.random.default_rng(4), 14, [4.0, 9.0, 6.0], 0.3)
    weight = np.maximum(weight, 1)
    got = asked(total, weight, shuffles=120, seed=9)
    places = np.random.default_rng(9).permuted(np.tile(np.arange(14), (120, 1)), axis=1)
    luck = []
    for place in places:
        order = np.argsort(place)
        luck.append(_by_loops(total[order], weight[order], (7, 7)).min())
    alone = _by_loops(total, weight, (7, 7))
    assert np.minimum(got.step.p, got.line.p) == pytest.approx(alone)
    expected = [(1 + np.sum(np.array(luck) <= one)) / 121 for one in alone]
    assert got.p == pytest.approx(expected)
    assert got.alpha == pytest.approx([np.sort(luck)[5]] * 3)  # 1 + 5 of 121 is under .05, 7 not


def test_a_step_is_called_and_its_part_alone():
    total, weight = season(np.random.default_rng(5), 40, [8.0, 8.0, 8.0], 0.25)
    got = asked(total, weight)
    assert got.p[0] < 0.01
    assert got.called.tolist() == [True, False, False]
    assert not got.drifted.any()


def test_a_slow_drift_is_shown_by_the_line():
    weight = np.full((40, 1), 6.0)
    noise = np.random.default_rng(6).normal(0, 0.8, (40, 1))
    found = []
    for size in np.linspace(0.2, 0.6, 21):
        got = asked(noise + weight * size * np.linspace(-0.5, 0.5, 40)[:, None], weight)
        found.append((bool(got.called[0]), bool(got.drifted[0])))
    assert (True, True) in found  # between what neither shows and what both do
    assert found[-1] == (True, False)
    assert found[0] == (False, False)


def test_level_seasons_give_every_p_alike():
    """The smallest p of a season is uniform: one in ten under .1, half under .5."""
    rng = np.random.default_rng(7)
    found = [asked(*season(rng, 12, [3.0, 8.0, 5.0]), seed=s).p.min() for s in range(300)]
    assert stats.kstest(found, "uniform").pvalue > 0.01


def test_without_the_correction_level_seasons_are_called_too_often():
    """The wrong formula: the same p-values, each against .05 by itself."""
    rng = np.random.default_rng(8)
    right, wrong = [], []
    for s in range(200):
        got = asked(*season(rng, 20, [3.0, 8.0, 5.0, 9.0]), seed=s, shuffles=200)
        right.append(got.called.any())
        wrong.append((np.minimum(got.step.p, got.line.p) < CHANCE).any())
    assert np.mean(right) < 0.05 + 3 * np.sqrt(0.05 * 0.95 / 200)
    assert np.mean(wrong) > 0.05 + 3 * np.sqrt(0.05 * 0.95 / 200)


@given(
    seed=st.integers(0, 2**32 - 1),
    rounds=st.integers(8, 30),
    step=st.sampled_from([0.0, 0.2, 0.5, 2.0]),
    line=st.booleans(),
    grid=st.sampled_from([0.0, 0.25]),
)
@settings(max_examples=150, deadline=None)
def test_range_and_verdict_agree(seed, rounds, step, line, grid):
    """A range leaves out 0 where the change is called one, also where many orders are alike."""
    rng = np.random.default_rng(seed)
    total, weight = season(rng, rounds, [5.0, 9.0, 7.0], step)
    weight = np.maximum(weight, 1.0)
    total = np.round(total / grid) * grid if grid else total
    got = asked(total, weight, shuffles=99, seed=seed, line=line)
    beyond = np.abs(got.step.value) > got.step.half_width(got.alpha)
    along = line & (np.abs(got.line.value) > got.line.half_width(got.alpha))
    assert (got.called == (got.p < CHANCE)).all()
    assert (got.called == (beyond | along)).all()
    assert (got.drifted == (along & ~beyond)).all()


def test_nothing_hangs_on_the_unit_or_on_the_level():
    total, weight = season(np.random.default_rng(10), 20, [4.0, 9.0], 0.1)
    one, other = asked(total, weight), asked(3 * total + 0.7 * weight, weight)
    assert one.p == pytest.approx(other.p)
    assert other.first.value == pytest.approx(3 * one.first.value + 0.7)
    assert other.step.se == pytest.approx(3 * one.step.se)


def test_orders_in_many_blocks_are_the_same_orders(monkeypatch):
    total, weight = season(np.random.default_rng(11), 20, [4.0, 9.0], 0.1)
    whole = asked(total, weight)
    monkeypatch.setattr(change, "_PLACES_AT_A_TIME", 7 * 20)
    assert asked(total, weight).p == pytest.approx(whole.p)


def test_rounds_all_alike_are_level_and_a_clean_step_is_a_change():
    weight = np.full((16, 1), 3.0)
    level = asked(0.1 * weight, weight)
    assert level.p == pytest.approx([1.0])
    assert level.step.value == pytest.approx([0.0])
    steps = np.where(np.arange(16)[:, None] < 8, 0.1, 0.4) * weight
    assert asked(steps, weight).called.all()


def test_a_given_cut_and_no_line():
    total, weight = season(np.random.default_rng(12), 20, [6.0])
    got = asked(total, weight, cut=(6, 6), line=False)
    assert got.first.value == pytest.approx(total[:6].sum(axis=0) / weight[:6].sum(axis=0))
    assert got.second.df == pytest.approx([13.0])
    assert not got.drifted.any()


def test_what_is_not_asked_about_costs_the_others_nothing():
    """A series that is not judged has no p, and each family is corrected by itself."""
    total, weight = season(np.random.default_rng(13), 20, [6.0, 6.0, 6.0])
    some, cut = np.array([True, False, True]), halves(20)
    family = np.array([0, 0, 1])
    got = changes(total, weight, cut, some, family, np.random.default_rng(1), shuffles=200)
    assert np.isnan(got.p).tolist() == [False, True, False]
    assert not got.called[1]
    assert np.isnan(got.step.half_width(got.alpha)).tolist() == [False, True, False]
    for place in (0, 2):
        alone = asked(total[:, [place]], weight[:, [place]], shuffles=200)
        assert (got.p[place], got.alpha[place]) == (
            pytest.approx(alone.p[0]),
            pytest.approx(alone.alpha[0]),
        )


def test_rounds_enough_on_both_sides():
    weight = np.array([[1, 0], [2, 1], [0, 0], [1, 1], [3, 0], [1, 1.0]])
    assert enough(weight, halves(6), 2).tolist() == [True, False]
    assert enough(weight, (2, 2), 2).tolist() == [True, False]
    assert enough(weight, (2, 2), 1).tolist() == [True, True]
    assert halves(7) == (3, 4)
