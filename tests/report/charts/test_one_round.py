"""The chart of one round: marks by value."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

import sgzone as sg
from sgzone.report.charts.theme import LIGHT
from sgzone.review.debrief.one_round import debrief
from tests.demo_season import demo_file
from tests.review.debrief.hand_rounds import GOOD, PLAIN, THREE, WATER, card, season
from tests.words.rounds.rounds_told import told


def _marks(holes: pd.DataFrame, worst: pd.DataFrame | None = None) -> list[pd.DataFrame]:
    spec = sg.charts.round_strip(holes, worst).to_dict()
    return [pd.DataFrame(rows) for rows in spec["datasets"].values()]


def test_bars_are_stacked_from_the_line_and_dots_are_the_holes(tmp_path: Path) -> None:
    with season(tmp_path, card([GOOD, PLAIN, THREE, WATER])) as (store, curve):
        found = debrief(store, curve)
    bars, dots = (t for t in _marks(found.holes) if "bottom" in t or "hole_gained" in t)
    second = bars[bars["hole"] == "2"].set_index("name")
    # +0.6 up; down: +0.02 goes up on the approach, -0.62 from 0
    assert second.loc["approach 100-150 yd", ["bottom", "top"]].tolist() == pytest.approx([0, 0.6])
    assert second.loc["putts 0-10 ft", ["bottom", "top"]].tolist() == pytest.approx([0.6, 0.62])
    assert second.loc["putts 10-30 ft", ["bottom", "top"]].tolist() == pytest.approx([0, -0.62])
    assert bars.groupby("hole")["gained"].sum().to_dict() == pytest.approx(
        {"1": 1.0, "2": 0.0, "3": -1.2, "4": -1.0}
    )
    assert dots.set_index("hole")["hole_gained"].to_dict() == pytest.approx(
        {"1": 1.0, "2": 0.0, "3": -1.2, "4": -1.0}
    )


@pytest.mark.long
def test_the_worst_stroke_is_marked_under_its_hole(tmp_path: Path) -> None:
    with season(tmp_path, card([GOOD, PLAIN, THREE, WATER])) as (store, curve):
        found = debrief(store, curve)
    (mark,) = (t for t in _marks(found.holes, found.worst) if "text" in t)
    assert mark.to_dict("records") == [
        {"hole": "4", "low": pytest.approx(-1.3), "text": "−1.30"},
    ]
    assert not [t for t in _marks(found.holes, found.worst.head(0)) if "text" in t]


def test_every_hole_has_its_place_and_the_side_its_colour() -> None:
    with sg.open_store(demo_file(), read_only=True) as store:
        found = sg.debrief(store)
    spec = sg.charts.round_strip(found.holes, found.worst, units="metric").to_dict()
    x = spec["layer"][0]["encoding"]["x"]
    assert x["scale"]["domain"] == [str(hole) for hole in range(1, 19)]
    fill = spec["layer"][0]["encoding"]["fill"]["scale"]
    assert fill == {"domain": ["loss", "gain"], "range": [LIGHT.loss, LIGHT.gain]}
    names = {row.get("name") for rows in spec["datasets"].values() for row in rows}
    assert "wedge 46-91 m" in names


def test_a_hole_without_a_value_stays_on_the_axis() -> None:
    blank = pd.DataFrame({"hole": [5], "part": [None], "shots": [0], "gained": [float("nan")]})
    holes = pd.concat([told().holes, blank], ignore_index=True)
    spec = sg.charts.round_strip(holes).to_dict()
    assert spec["layer"][0]["encoding"]["x"]["scale"]["domain"] == ["3", "5", "7"]
