"""Numbers carry the digits that their standard error allows, and no more."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.words import digits as words


@pytest.mark.parametrize(
    ("value", "se", "said"),
    [
        (-3.8132, 0.47, "−3.8"),  # one digit of 0.47
        (-1.2558, 0.195, "−1.26"),  # two of 0.195
        (0.0314, 0.0123, "0.031"),
        (0.0314, 0.00012, "0.031"),  # three decimals at most
        (12.7, 4.2, "13"),
        (-0.04, 0.6, "0.0"),  # no minus before zero
        (0.5, 0.0, "0.50"),
        (0.5, float("nan"), "0.50"),
    ],
)
def test_digits_follow_the_standard_error(value: float, se: float, said: str) -> None:
    assert words.rounded(value, se) == said


@given(st.floats(-50, 50), st.floats(0.004, 20))
def test_rounding_costs_at_most_half_a_standard_error(value: float, se: float) -> None:
    back = float(words.rounded(value, se).replace(words.MINUS, "-"))
    assert abs(back - value) <= max(0.5 * se, 0.0005) + 1e-12 or (
        se >= 1 and abs(back - value) <= 0.5
    )


@pytest.mark.parametrize(
    ("value", "low", "high", "said"),
    [
        (-1.2558, -1.51, -1.0016, "1.26 (1.00 to 1.51)"),  # a loss is said as its size
        (0.38, 0.16, 0.602, "0.38 (0.16 to 0.60)"),
        (-0.016, -0.036, 0.004, "0.016 (−0.004 to 0.036)"),
        (-0.25, float("nan"), float("nan"), "0.25"),
    ],
)
def test_an_estimate_is_its_size_with_both_ends(
    value: float, low: float, high: float, said: str
) -> None:
    assert words.estimate(value, low, high, 0.80) == said


def test_dates_lists_and_counts_are_plain_words() -> None:
    assert words.span(date(2026, 4, 4), date(2026, 10, 21)) == "from 4 April to 21 October 2026"
    assert words.span(date(2025, 12, 1), date(2026, 1, 2)) == (
        "from 1 December 2025 to 2 January 2026"
    )
    assert words.span(date(2026, 4, 4), date(2026, 4, 4)) == "on 4 April 2026"
    assert words.listed(["a", "b", "c"]) == "a, b and c"
    assert words.count(1, "round") == "1 round"
    assert words.count(1890, "stroke") == "1,890 strokes"


def test_a_value_that_is_not_published_is_marked() -> None:
    assert words.daggered("−0.1", "derived") == "−0.1†"
    assert words.daggered("−0.1", "published") == "−0.1"
    assert words.daggered("−0.1", float("nan")) == "−0.1"  # type: ignore[arg-type]
