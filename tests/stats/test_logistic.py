"""The curve without its errors is the curve of the whole fit, and holds to its definition."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from sgzone.stats.logistic import logistic_fit, logistic_line


@pytest.mark.parametrize("seed", range(40))
def test_it_is_the_whole_fit(seed: int) -> None:
    rng = np.random.default_rng(seed)
    n = int(rng.integers(20, 900))
    x = rng.normal(rng.uniform(-3, 5), rng.uniform(0.1, 3), n)
    chance = 1 / (1 + np.exp(-rng.normal() - rng.normal(0, 2) * (x - x.mean())))
    outcome = rng.random(n) < chance
    line, whole = logistic_line(x, outcome), logistic_fit(x, outcome)
    assert (line is None) is (whole is None)
    if line is not None and whole is not None:
        # to the bit where statsmodels adds its ridge to what we do, else to what the ridge is
        assert line == pytest.approx((whole.intercept, whole.slope), rel=1e-9, abs=1e-9)


def test_two_places_give_the_log_odds_of_each() -> None:
    x = np.repeat([0.0, 1.0], 100)
    outcome = np.concatenate([np.arange(100) < 20, np.arange(100) < 50])
    line = logistic_line(x, outcome)
    assert line == pytest.approx((np.log(20 / 80), np.log(80 / 20)), abs=1e-9)


def test_there_is_none_where_an_outcome_hardly_occurs_or_x_parts_them() -> None:
    x = np.arange(40.0)
    assert logistic_line(x, x >= 36) is None
    assert logistic_line(x, x >= 20) is None


def test_it_waits_for_no_more_of_statsmodels_than_its_method() -> None:
    code = (
        "import sys\n"
        "from sgzone.stats.logistic import logistic_line\n"
        "assert logistic_line([*range(40)], [k % 3 > 0 for k in range(40)])\n"
        "sys.exit(bool({'scipy.stats', 'statsmodels.base.model'} & {*sys.modules}))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
