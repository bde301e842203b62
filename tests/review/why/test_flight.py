"""Carry and release apart, by hand and with a planted fault."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.review.why.flight import BOTH, BOUNCE, FLIGHT, release
from sgzone.terms import NOT_ENOUGH


def _strokes(
    distance_yd: float, carry: np.ndarray, depth_ft: np.ndarray, **more: object
) -> pd.DataFrame:
    n = len(carry)
    frame = {
        "part": "wedge_50_100",
        "round_key": np.arange(n) // 2,
        "club": "54",
        "swing": "full",
        "distance_ft": distance_yd * 3,
        "carry_yd": carry,
        "intended_yd": np.nan,
        "depth_ft": depth_ft,
    }
    return pd.DataFrame({**frame, **more})


def test_by_hand() -> None:
    """80 yd; carries 76 and 80, finishes 6 ft short and 9 ft long: release 2 and 3 yd."""
    row = release(_strokes(80, np.array([76.0, 80.0]), np.array([-6.0, 9.0]))).iloc[0]
    assert row["landing_error_yd"] == pytest.approx(-2)
    assert row["release_yd"] == pytest.approx(2.5)
    assert row["landing_sd_yd"] == pytest.approx(np.std([-4, 0], ddof=1))
    assert row["release_sd_yd"] == pytest.approx(np.std([2, 3], ddof=1))
    assert (row["shots"], row["rounds"], row["note"]) == (2, 1, NOT_ENOUGH)
    assert row["dominates"] == ""


def test_the_carry_meant_is_taken_where_it_was_written_down() -> None:
    """Meant to carry 74 of 80 yd and run 6: no landing error when it carries 74."""
    meant = _strokes(80, np.full(12, 74.0), np.zeros(12), intended_yd=74.0)
    assert release(meant).iloc[0]["landing_error_yd"] == pytest.approx(0)
    bare = release(meant.assign(intended_yd=np.nan)).iloc[0]
    assert bare["landing_error_yd"] == pytest.approx(-6)
    assert bare["release_yd"] == pytest.approx(6)


@pytest.mark.parametrize(
    ("landing_sd", "run_sd", "word"), [(6.0, 1.0, FLIGHT), (1.0, 6.0, BOUNCE), (3.0, 3.0, BOTH)]
)
def test_the_larger_error_is_named(landing_sd: float, run_sd: float, word: str) -> None:
    rng = np.random.default_rng(2)
    landing, run = rng.normal(0, landing_sd, 200), rng.normal(0, run_sd, 200)
    row = release(_strokes(80, 80 + landing, 3 * (landing + run))).iloc[0]
    assert row["dominates"] == word
    assert row["landing_low_yd"] < row["landing_error_yd"] < row["landing_high_yd"]
    assert row["release_sd_yd"] == pytest.approx(run_sd, rel=0.2)


def test_spin_back_is_negative_and_swings_stand_apart() -> None:
    back = _strokes(100, np.full(12, 103.0), np.zeros(12))
    runs = _strokes(100, np.full(12, 96.0), np.zeros(12), swing=None)
    table = release(pd.concat([back, runs])).set_index("swing")
    assert table.loc["full", "release_yd"] == pytest.approx(-3)
    assert table.loc["", "release_yd"] == pytest.approx(4)


def test_no_carry_no_rows() -> None:
    table = release(_strokes(80, np.array([np.nan]), np.array([1.0])))
    assert table.empty
    assert "release_yd" in table
