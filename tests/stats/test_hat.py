"""Hat functions in ln x and their shrunken shifts, against hand-worked and reference values."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import expit

from sgzone.stats import hat
from sgzone.stats.hat import Prior, hats, logit_shift, no_shift, normal_shift

NODES = np.array([1.0, np.e, np.e**2])
WIDE = Prior(common=50.0, tilt=0.0, local=50.0, reach=0.3)


def test_hats_by_hand() -> None:
    basis = hats([0.5, 1.0, np.exp(0.25), np.e, np.exp(1.5), 100.0], NODES)
    expected = [[1, 0, 0], [1, 0, 0], [0.75, 0.25, 0], [0, 1, 0], [0, 0.5, 0.5], [0, 0, 1]]
    assert basis == pytest.approx(np.array(expected), abs=1e-12)


@given(st.lists(st.floats(0.1, 1000), min_size=1, max_size=20))
def test_hats_add_up_to_one(x: list[float]) -> None:
    assert hats(x, NODES).sum(axis=1) == pytest.approx(np.ones(len(x)))


def test_the_prior_by_hand() -> None:
    covariance = Prior(common=0.25, tilt=0.1, local=0.06, reach=0.5).covariance(NODES)
    assert covariance[0, 0] == pytest.approx(0.25**2 + 0.1**2 + 0.06**2)
    assert covariance[1, 1] == pytest.approx(0.25**2 + 0.06**2)
    # the ends lie on either side of the middle; two apart in ln x
    assert covariance[0, 2] == pytest.approx(0.25**2 - 0.1**2 + 0.06**2 * np.exp(-4 / 0.5))


def test_one_node_is_the_textbook_normal_mean() -> None:
    prior = Prior(common=0.25, tilt=0.0, local=0.06, reach=0.5)
    seen = np.array([0.3, -0.1, 0.7, 0.5])
    shift = normal_shift(np.full(4, 20.0), seen, [10.0], prior, 0.6)
    precision = 1 / (0.25**2 + 0.06**2)
    variance = 1 / (precision + 4 / 0.36)
    assert shift.at([3.0, 300.0]) == pytest.approx([variance * seen.sum() / 0.36] * 2)
    assert shift.sd([3.0]) == pytest.approx([np.sqrt(variance)])


def test_without_a_stroke_nothing_moves() -> None:
    prior = Prior(common=0.25, tilt=0.08, local=0.06, reach=0.5)
    for shift in (
        no_shift(NODES, prior),
        normal_shift([], [], NODES, prior, 0.6),
        logit_shift([], [], [], NODES, prior),
    ):
        assert shift.at([1.0, 2.0, 50.0]).tolist() == [0.0, 0.0, 0.0]
        assert shift.covariance == pytest.approx(prior.covariance(NODES))


def test_with_next_to_no_prior_it_is_least_squares_and_maximum_likelihood() -> None:
    rng = np.random.default_rng(3)
    x = np.exp(rng.uniform(0, 2, 400))
    basis = hats(x, NODES)
    y = basis @ [0.2, -0.3, 0.4] + 0.6 * rng.standard_normal(400)
    shift = normal_shift(x, y, NODES, WIDE, 0.6)
    assert shift.mean == pytest.approx(sm.OLS(y, basis).fit().params, abs=1e-4)
    base = np.linspace(-1, 1, 400)
    seen = (rng.random(400) < expit(base + basis @ [0.5, -0.5, 1.0])).astype(float)
    fit = sm.GLM(seen, basis, sm.families.Binomial(), offset=base).fit()
    got = logit_shift(x, seen, base, NODES, WIDE)
    assert got.mean == pytest.approx(fit.params, abs=1e-3)
    assert np.sqrt(np.diag(got.covariance)) == pytest.approx(fit.bse, abs=1e-3)


def test_counts_and_single_tries_are_the_same() -> None:
    prior = Prior(common=0.6, tilt=0.2, local=0.25, reach=0.5)
    one = logit_shift([1, 1, 1, 3, 3], [1, 1, 0, 0, 1], [0.5] * 3 + [0.1] * 2, NODES, prior)
    many = logit_shift([1, 3], [2, 1], [0.5, 0.1], NODES, prior, tries=[3, 2])
    assert one.mean == pytest.approx(many.mean, abs=1e-9)
    assert one.covariance == pytest.approx(many.covariance, abs=1e-9)


def test_draws_have_the_believed_mean_and_spread() -> None:
    prior = Prior(common=0.25, tilt=0.08, local=0.06, reach=0.5)
    shift = normal_shift([1.0, 3.0], [1.0, 0.5], NODES, prior, 0.6)
    drawn = shift.draws([1.0, 2.0, 9.0], 20_000, np.random.default_rng(1))
    assert drawn.mean(axis=0) == pytest.approx(shift.at([1.0, 2.0, 9.0]), abs=0.01)
    assert drawn.std(axis=0) == pytest.approx(shift.sd([1.0, 2.0, 9.0]), abs=0.01)


def test_steps_that_do_not_arrive_are_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hat, "MAX_STEPS", 1)
    x = np.linspace(1.0, 9.0, 40)
    with pytest.raises(ArithmeticError, match="not arrived after 1"):
        hat.logit_shift(x, x > 5, np.zeros(40), np.array([1.0, 5.0, 9.0]), WIDE)
