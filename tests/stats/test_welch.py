"""Welch's difference against scipy's own test."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import ttest_ind

from sgzone.stats.welch import welch


def test_error_and_degrees_of_freedom_are_those_of_scipy() -> None:
    rng = np.random.default_rng(1)
    one, other = rng.normal(0, 1, 12), rng.normal(1, 3, 7)
    found = ttest_ind(one, other, equal_var=False)
    variances = [sample.var(ddof=1) / len(sample) for sample in (one, other)]
    se, df = welch(variances[0], 11, variances[1], 6)
    assert float(df) == pytest.approx(found.df, rel=1e-12)
    assert (one.mean() - other.mean()) / float(se) == pytest.approx(found.statistic, rel=1e-12)
    pooled = 11 + 6  # what equal variances would give
    assert abs(float(df) - pooled) > 1


def test_means_that_do_not_vary_have_no_degrees_of_freedom() -> None:
    se, df = welch([0.0, 1.0], [4, 4], [0.0, 1.0], [4, 4])
    assert se == pytest.approx([0, np.sqrt(2)])
    assert np.isnan(df[0])
    assert df[1] == pytest.approx(8)
