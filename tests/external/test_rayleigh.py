"""A pattern that scatters alike on both axes: its distances follow the Rayleigh law.

Printed values: Johnson, Kotz and Balakrishnan, ch. 10 (source key rayleigh): mean 1.253314 sigma,
median 1.177410 sigma.
"""

from __future__ import annotations

import re

import numpy as np
import pytest
from scipy.stats import rayleigh

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.sources import sources
from sgzone.review.why.reference import Assumptions, reference_model
from sgzone.stats.split import Misses, RadialTable, Reference, set_means

CIRCLE = Assumptions(ratio=(1.0, 1.0, 1.0), mishit_share=0.0)


def _printed() -> tuple[float, float]:
    text = sources().set_index("key")["population"]["rayleigh"]
    mean, median = (float(value) for value in re.findall(r"\d\.\d+", text))
    return mean, median


def test_scipy_agrees_with_the_printed_digits() -> None:
    mean, median = _printed()
    assert rayleigh.mean() == pytest.approx(mean, abs=5e-7)
    assert rayleigh.median() == pytest.approx(median, abs=5e-7)


def test_the_reference_of_a_circular_pattern_has_the_printed_median() -> None:
    model = reference_model(benchmark("tour"), CIRCLE)
    scatter = model.scatter("fairway", [150.0, 300.0, 450.0])
    assert scatter.sd_side == pytest.approx(scatter.sd_depth, rel=1e-12)
    median = model.median_ft("fairway", [150.0, 300.0, 450.0])
    assert median / scatter.sd_depth == pytest.approx(_printed()[1], rel=0.01)
    inside = model.share_inside("fairway", [300.0], scatter.sd_depth[1:2])
    assert inside[0] == pytest.approx(rayleigh.cdf(1), abs=0.01)


def test_the_split_sees_the_printed_mean_distance_and_not_the_median() -> None:
    """With value = radius the all-on set is the mean distance: 1.2533 sigma."""
    rng = np.random.default_rng(3)
    n = 200_000
    one = np.ones(n)
    misses = Misses(*rng.standard_normal((2, n)), np.zeros(n, int))
    radius = RadialTable(0.01, np.arange(0, 10, 0.01)[None, :])
    means = set_means(
        misses, Reference(0 * one, 2 * one, 0 * one, 2 * one), radius, np.ones((1, 1))
    )
    mean, median = _printed()
    assert means[0, 15, 0] == pytest.approx(mean, abs=0.005)
    assert means[0, 0, 0] == pytest.approx(2 * mean, abs=0.01)
    assert abs(means[0, 15, 0] - median) > 0.05
