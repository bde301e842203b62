"""The tables of grid and proximity, by value on hand-made strokes."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.review.where.proximity import (
    basis,
    break_even_table,
    grid_table,
    proximity_points,
    proximity_table,
)
from sgzone.review.where.summary import summarise
from sgzone.scoring.gained import scored
from sgzone.terms import BAND_NAMES, LIES, NOT_ENOUGH
from tests.report.seasons import demo, season

TOUR = benchmark("tour")


def _strokes(**columns: object) -> pd.DataFrame:
    """Return strokes from 90 yd of fairway that ended on the green, changed by ``columns``."""
    finish = [4.0, 8.0, 12.0, 20.0, 30.0, 6.0, 10.0, 14.0, 24.0, 40.0]
    plain = {
        **{"lie": "fairway", "band": "75-100 yd", "distance_yd": 90.0, "distance_ft": 270.0},
        **{"end_lie": "green", "penalty": 0, "part": "wedge_50_100", "status": "scored"},
        "end_distance_ft": finish,
        "round_key": [1, 1, 2, 2, 3, 3, 4, 4, 5, 5],
    }
    return pd.DataFrame({**plain, **columns})


def test_median_break_even_and_share_inside_by_hand() -> None:
    table = proximity_table(proximity_points(_strokes()), TOUR)
    (row,) = table.to_dict("records")
    assert row["finish_ft"] == 13.0  # between 12 and 14
    assert (row["shots"], row["rounds"]) == (10, 5)
    assert (row["from_yd"], row["to_yd"]) == (75.0, 100.0)
    # From break-even the putt takes one stroke less than the shot was worth before.
    gained = TOUR.expected("fairway", 270) - TOUR.expected("green", row["break_even_ft"]) - 1
    assert gained == pytest.approx(0, abs=1e-9)
    assert 14 < row["break_even_ft"] < 20
    assert row["inside"] == 0.6  # 4, 6, 8, 10, 12 and 14 ft
    assert row["low"] <= 13.0 <= row["high"]


def test_a_missed_green_and_a_penalty_are_never_inside() -> None:
    ends = ["green"] * 4 + ["rough", "fringe", "green", "holed", "green", "green"]
    finish = [4.0, 8.0, 12.0, 20.0, 3.0, 3.0, 10.0, 0.0, 24.0, 5.0]
    strokes = _strokes(end_lie=ends, end_distance_ft=finish, penalty=[0] * 9 + [1])
    points = proximity_points(strokes)
    assert list(points["end"] == "green") == [*[True] * 4, False, False, *[True] * 3, False]
    (row,) = proximity_table(points, TOUR).to_dict("records")
    assert row["inside"] == 0.5  # 4, 8, 12, 10 ft and the holed one
    assert row["finish_ft"] == 6.5  # the median of all ten


def test_too_few_shots_keep_their_count_and_nothing_else() -> None:
    (row,) = proximity_table(proximity_points(_strokes().head(9)), TOUR).to_dict("records")
    assert row["note"] == NOT_ENOUGH
    assert row["shots"] == 9
    assert all(np.isnan(row[name]) for name in ("finish_ft", "low", "high", "inside"))


def test_unknown_ends_recovery_and_strokes_from_outside_are_no_points() -> None:
    strokes = _strokes(
        lie=["fairway"] * 7 + ["recovery", "green", "fairway"],
        distance_ft=[270.0] * 9 + [451.0],
        end_distance_ft=[np.nan, *[9.0] * 9],
    )
    assert len(proximity_points(strokes)) == 6
    assert proximity_points(strokes.head(0)).empty
    assert proximity_table(proximity_points(strokes.head(0)), TOUR).empty
    assert break_even_table(TOUR, proximity_points(strokes.head(0))).empty


def test_break_even_yard_by_yard_over_the_reach_of_the_strokes() -> None:
    points = proximity_points(_strokes(distance_yd=np.linspace(80.5, 120, 10)))
    line = break_even_table(TOUR, points)
    assert list(line["distance_yd"]) == list(range(80, 121))
    even = TOUR.expected("green", line["break_even_ft"])
    assert even == pytest.approx(TOUR.expected("fairway", line["distance_yd"] * 3) - 1, abs=1e-9)


def test_basis_is_what_most_values_rest_on() -> None:
    strokes = _strokes(distance_ft=[270.0] * 4 + [12.0] * 6)  # under 10 yd: extrapolated
    (row,) = basis(strokes, TOUR, ["part"]).to_dict("records")
    assert row["basis"] == "extrapolated"
    (row,) = basis(strokes.head(8), TOUR, ["part"]).to_dict("records")
    assert row["basis"] == "extrapolated"  # a tie goes to the less certain
    (row,) = basis(strokes.head(7), TOUR, ["part"]).to_dict("records")
    assert row["basis"] == "published"
    assert basis(_strokes(status="unknown_end"), TOUR, ["part"]).empty


def test_the_grid_is_the_summary_in_the_order_of_play() -> None:
    with season(demo()) as store:
        strokes = scored(store, TOUR)
        table = grid_table(store, TOUR, strokes=strokes)
        plain = summarise(store, TOUR, by=["band", "lie"])
    keys = ["band", "lie"]
    both = table.merge(plain, on=keys, suffixes=("", "_plain"))
    assert len(both) == len(plain) == len(table)
    assert both["shrunk_per_shot"].to_numpy() == pytest.approx(
        both["shrunk_per_shot_plain"].to_numpy(), nan_ok=True
    )
    order = [(BAND_NAMES.index(b), LIES.index(x)) for b, x in table[keys].to_numpy()]
    assert order == sorted(order)
    fringe = table[table["lie"] == "fringe"]
    assert set(fringe["basis"]) <= {"derived", "extrapolated"}
