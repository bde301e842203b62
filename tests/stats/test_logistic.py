"""The fitted curve: two places with known shares, and what it refuses."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.logistic import MIN_EACH, logistic_fit


def test_of_two_places_the_curve_goes_through_their_shares() -> None:
    x = np.repeat([1.0, 3.0], 40)
    outcome = np.tile([1, 0, 0, 0], 10).tolist() + np.tile([1, 1, 1, 0], 10).tolist()
    fit = logistic_fit(x, outcome)  # log odds of -ln 3 and ln 3: half at 2, rising by ln 3
    assert fit is not None
    assert fit.slope == pytest.approx(np.log(3), abs=1e-9)
    assert fit.intercept == pytest.approx(-2 * np.log(3), abs=1e-9)
    assert fit.curve([1, 2, 3], 0.8)[0] == pytest.approx([0.25, 0.5, 0.75], abs=1e-9)


@pytest.mark.parametrize("first", [36, 20])
def test_no_curve_where_one_value_parts_the_outcomes(first: int) -> None:
    x = np.arange(40)
    assert logistic_fit(x, x >= first) is None


def test_no_curve_where_one_outcome_hardly_occurs() -> None:
    x = np.arange(40)
    for seen in (MIN_EACH - 1, MIN_EACH):
        outcome = np.isin(x, 9 * np.arange(seen))
        assert (logistic_fit(x, outcome) is not None) == (seen == MIN_EACH)
