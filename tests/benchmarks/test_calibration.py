"""Predicted against needed, on rounds the curve has not seen."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks.calibration import calibrate
from sgzone.benchmarks.fit import fit_benchmark
from sgzone.benchmarks.shown import curve_table, point_table
from sgzone.errors import CallError
from tests.benchmarks.squads import TOUR, Level, play, sample


def _rows(level: Level, n: int, seed: int) -> pd.DataFrame:
    rng = np.random.default_rng(seed)
    rows = sample(level, n, rng)
    return rows.assign(round_key=rng.integers(30, size=len(rows)))


def test_the_table_by_hand_and_what_is_held_out() -> None:
    rows = pd.DataFrame(
        {
            "round_key": [1, 1, 2, 2],
            "player": "Ada",
            "lie": "fairway",
            "distance_ft": 300.0,
            "strokes": [3.0, 4.0, 2.0, 3.0],
            "holed": 0.0,
        }
    )
    found = calibrate(rows, TOUR)
    row = found.table.iloc[0]
    assert (row["band"], row["strokes"], row["rounds"]) == ("100-125 yd", 4, 2)
    assert row["observed"] == 3.0
    assert row["base"] == pytest.approx(2.80)
    parts = [
        float(fit_benchmark("x", TOUR, rows[rows["round_key"] != held]).expected("fairway", 300.0))
        for held in (1, 2)
    ]
    assert row["fitted"] == pytest.approx(np.mean(parts))
    assert found.base_error == pytest.approx(0.20)
    assert found.fitted_error == pytest.approx(abs(np.mean(parts) - 3.0))
    assert found.folds == 2


@pytest.mark.long
def test_a_fitted_curve_predicts_a_squad_better_and_tour_players_no_worse() -> None:
    squad = calibrate(_rows(Level(0.8), 300, 1), TOUR)
    assert squad.base_error > 0.2
    assert squad.fitted_error < 2 * squad.chance
    tour = calibrate(_rows(Level(0.0), 300, 2), TOUR)
    assert tour.base_error < 2 * tour.chance
    assert tour.fitted_error < 2 * tour.chance


@pytest.mark.long
def test_a_card_in_wrong_units_does_not_calibrate() -> None:
    rows = _rows(Level(0.0), 300, 3)
    off = rows["lie"] != "green"
    metres = rows.assign(distance_ft=rows["distance_ft"].where(~off, rows["distance_ft"] / 3))
    assert calibrate(metres, TOUR).base_error > 4 * calibrate(rows, TOUR).base_error


def test_one_round_says_nothing() -> None:
    rows = play(Level(0.5), "sand", 5, np.random.default_rng(1)).assign(round_key=7)
    with pytest.raises(CallError, match="not fitted to"):
        calibrate(rows, TOUR)


def test_the_chart_tables_by_hand() -> None:
    rows = _rows(Level(0.5), 60, 4)
    fitted = fit_benchmark("squad", TOUR, rows)
    curves, points = curve_table(fitted, TOUR), point_table(rows)
    assert curves["lie"].unique().tolist() == ["fairway", "rough", "sand", "green"]
    at = curves[(curves["lie"] == "sand") & (curves["distance_ft"] == 60)].iloc[0]
    knot = fitted.knots.query("lie == 'sand' and distance == 20").iloc[0]
    assert at[["base", "fitted", "low", "high"]].tolist() == pytest.approx(
        [2.53, knot["strokes"], knot["low"], knot["high"]]
    )
    here = rows[(rows["lie"] == "rough") & rows["distance_ft"].between(90, 149.99)]
    point = points[(points["lie"] == "rough") & (points["band"] == "30-50 yd")].iloc[0]
    assert point["n"] == len(here)
    assert point["strokes"] == pytest.approx(here["strokes"].mean())
    assert point["distance_ft"] == pytest.approx(here["distance_ft"].mean())
    few = point_table(rows[rows["round_key"] < 3])
    assert few[["low", "high"]].isna().all().all()
    assert points["n"].sum() == len(rows)
