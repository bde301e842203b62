"""Published putting tables give back the published fits to the printed digits.

Stat2 (source key stat2): logistic 3.257 - 0.566 x feet. Berry's table (berry1995): logistic 2.23
- 0.26 x feet and the angle-only sigma of 1.53 degrees (gelman2019; the model of Gelman and Nolan
2002, whose hole and ball are read from the same file).
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
import statsmodels.api as sm
from scipy.optimize import minimize_scalar
from scipy.special import expit
from scipy.stats import norm

from sgzone.benchmarks.sources import read_published
from sgzone.review.why.putting import CURVES, published_curve
from sgzone.stats.logistic import logistic_fit

IN_PER_FT = 12


def _table(file: str) -> pd.DataFrame:
    return read_published(file)[["distance_ft", "tries", "holed"]].astype(float)


def _printed(model: str, parameter: str) -> tuple[float, float]:
    """Return the printed value and half a unit of its last digit."""
    rows = read_published("putting_model_estimates.csv")
    text = rows[(rows["model"] == model) & (rows["parameter"] == parameter)]["value"].item()
    return float(text), 0.5 * 10.0 ** -len(text.partition(".")[2])


def _glm(table: pd.DataFrame) -> np.ndarray:
    outcome = np.column_stack([table["holed"], table["tries"] - table["holed"]])
    fit = sm.GLM(outcome, sm.add_constant(table["distance_ft"]), sm.families.Binomial()).fit()
    return fit.params.to_numpy()


@pytest.mark.parametrize(
    ("file", "model"),
    [
        ("putting_stat2.csv", "logistic, Stat2 Putts1"),
        ("putting_berry.csv", "logistic, Berry data"),
    ],
)
def test_logistic_fits_come_out_as_printed(file: str, model: str) -> None:
    for value, name in zip(_glm(_table(file)), ("intercept", "slope"), strict=True):
        printed, half = _printed(model, name)
        assert value == pytest.approx(printed, abs=half)


def test_the_fit_a_player_gets_is_the_same_one() -> None:
    table = _table("putting_stat2.csv")
    feet = np.repeat(table["distance_ft"], table["tries"].astype(int))
    holed = np.concatenate(
        [np.arange(t) < h for t, h in zip(table["tries"], table["holed"], strict=True)]
    )
    fit = logistic_fit(feet, holed)
    assert fit is not None
    assert [fit.intercept, fit.slope] == pytest.approx(_glm(table), abs=1e-6)


def _window(feet: np.ndarray) -> np.ndarray:
    ball, hole = (_printed("geometry", f"{name} diameter")[0] for name in ("ball", "hole"))
    return np.arcsin((hole - ball) / 2 / IN_PER_FT / feet)


def _angle_sigma(table: pd.DataFrame, window: np.ndarray) -> float:
    def off(sigma: float) -> float:
        share = 2 * norm.cdf(window / np.deg2rad(sigma)) - 1
        return -float(
            np.sum(
                table["holed"] * np.log(share)
                + (table["tries"] - table["holed"]) * np.log1p(-share)
            )
        )

    return float(minimize_scalar(off, bounds=(0.5, 4), method="bounded").x)


def test_angle_only_sigma_comes_out_as_printed() -> None:
    table = _table("putting_berry.csv")
    printed, half = _printed("angle only, Berry data", "sigma_angle")
    window = _window(table["distance_ft"].to_numpy())
    assert _angle_sigma(table, window) == pytest.approx(printed, abs=half)
    # a ball that need only touch the hole with its edge is another model
    wide = np.arcsin(
        _printed("geometry", "hole diameter")[0] / 2 / IN_PER_FT / table["distance_ft"]
    )
    assert abs(_angle_sigma(table, wide.to_numpy()) - printed) > 10 * half


def test_the_curves_drawn_are_the_printed_ones() -> None:
    intercept, slope, source = published_curve("one golfer, 3-7 ft")
    assert source == "stat2"
    assert expit(intercept + slope * 5) == pytest.approx(61 / 108, abs=0.05)
    for who, (model, first, last) in CURVES.items():
        file = "putting_berry.csv" if "Berry" in model else "putting_stat2.csv"
        feet = _table(file)["distance_ft"]
        assert (first, last) == (feet.min(), feet.max()), who
