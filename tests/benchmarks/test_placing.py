"""The part and the band of a stroke: by hand, and as scoring finds them in its cells."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.placing import NO_BAND, bands_of, parts_of
from sgzone.scoring.places import curve_cells
from sgzone.terms import BAND_NAMES, BANDS, LIES, MAX_OFF_GREEN_FT, OUTSIDE, ZONE_FT

PLACES = [
    ("rough", 29.9, "chip_0_30", "0-10 yd"),
    ("fringe", 30.0, "chip_0_30", "10-20 yd"),
    ("sand", 149.9, "sand_0_50", "30-50 yd"),
    ("sand", 150.0, "wedge_50_100", "50-75 yd"),
    ("tee", 450.0, "approach_100_150", "125-150 yd"),
    ("recovery", 450.0, "recovery", "125-150 yd"),
    ("green", 5.0, "putt_0_10", "5-10 ft"),
    ("green", 59.9, "putt_30_up", "30-60 ft"),
    ("green", 600.0, "putt_30_up", "60+ ft"),
]


@pytest.mark.parametrize(("lie", "feet", "part", "band"), PLACES)
def test_places_by_hand(lie: str, feet: float, part: str, band: str) -> None:
    assert parts_of(lie, feet) == part
    assert BAND_NAMES[bands_of(lie == "green", feet)] == band


def test_just_outside_the_zone_is_outside() -> None:
    beyond = np.nextafter(ZONE_FT, np.inf)
    assert parts_of(["tee", "sand", "recovery"], beyond).tolist() == [OUTSIDE] * 3
    assert bands_of([False, True], beyond).tolist() == [NO_BAND, len(BANDS) - 1]


@pytest.mark.parametrize("lie", LIES)
def test_scoring_finds_the_same_at_every_foot(lie: str) -> None:
    """As the query does: the cell of the whole foot, the piece that holds the distance."""
    feet = np.arange(MAX_OFF_GREEN_FT)
    feet = np.concatenate([feet, feet + 0.5, np.nextafter(feet[1:], 0), np.nextafter(feet, 9999)])
    cells = curve_cells(benchmark("tour"))
    cells = cells[cells["lie"] == lie].sort_values("x_lo", ignore_index=True)
    row = np.searchsorted(cells["x_lo"], feet, side="right") - 1
    assert (feet < cells["x_hi"].to_numpy()[row]).all()
    assert (cells["cell"].to_numpy()[row] == np.floor(feet)).all()
    assert (cells["part"].to_numpy()[row] == parts_of(lie, feet)).all()
    names = np.array([*BAND_NAMES, ""], dtype=object)
    assert (cells["band"].fillna("").to_numpy()[row] == names[bands_of(lie == "green", feet)]).all()
