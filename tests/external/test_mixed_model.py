"""Shrinkage against statsmodels' MixedLM (restricted maximum likelihood) on a well-behaved sample.

The two differ in the prior of tau and in what they do with its uncertainty, so they agree within
a fraction of the model's own standard errors, not to the digit.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf

from sgzone.stats.shrink import TAU as TAU_GRID
from sgzone.stats.shrink import Noise, cell_variances, observation_noise, shrink

CELLS, SHOTS, SD, TAU, MEAN = 30, 60, 0.33, 0.08, -0.05
TENTHS = 10.0
"""MixedLM takes any variance under 0.01 for none and warns: it is fed tenths of a stroke."""


@pytest.fixture(scope="module")
def shots():
    rng = np.random.default_rng(17)
    cell = np.repeat(np.arange(CELLS), SHOTS)
    gained = MEAN + rng.normal(0, TAU, CELLS)[cell] + rng.normal(0, SD, len(cell))
    return pd.DataFrame({"cell": cell, "gained": gained, "tenths": gained * TENTHS})


@pytest.fixture(scope="module")
def model(shots):
    return smf.mixedlm("tenths ~ 1", shots, groups=shots["cell"]).fit(reml=True)


@pytest.fixture(scope="module")
def posterior(shots):
    cell, gained = shots["cell"].to_numpy(), shots["gained"].to_numpy()
    found = observation_noise(cell, np.ones(len(shots)), gained, gained**2, CELLS)
    noise = Noise(np.full(CELLS, found.variance.mean()), found.icc)  # the model knows one variance
    n = np.full(CELLS, SHOTS)
    return shrink(shots.groupby("cell")["gained"].mean(), cell_variances(n, n, noise))


def test_adjusted_means_are_the_models_predictions(shots, model, posterior):
    effects = [model.random_effects[cell].iloc[0] for cell in range(CELLS)]
    predicted = (model.fe_params["Intercept"] + np.array(effects)) / TENTHS
    variance = [model.random_effects_cov[cell].iloc[0, 0] for cell in range(CELLS)]
    se = np.sqrt(variance) / TENTHS
    assert (np.abs(posterior.mean - predicted) < 0.25 * se).all()
    assert posterior.sd == pytest.approx(se, rel=0.15)
    raw = shots.groupby("cell")["gained"].mean().to_numpy()
    # raw means, the plausible wrong answer, do not pass
    assert not (np.abs(raw - predicted) < 0.25 * se).all()


def test_spread_between_cells_agrees(model, posterior):
    reml = np.sqrt(model.cov_re.iloc[0, 0]) / TENTHS
    assert posterior.weight @ TAU_GRID == pytest.approx(reml, rel=0.15)


def test_the_mean_of_all_agrees(model, posterior):
    overall, se = posterior.mean.mean(), model.bse_fe["Intercept"] / TENTHS
    assert abs(overall - model.fe_params["Intercept"] / TENTHS) < 0.25 * se
