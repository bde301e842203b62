"""What an agreement counts, on holes worked by hand."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest

from sgzone.review.agreed.observed import Observed
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.terms import MEASURE
from tests.season.cardfiles import write

CARD = """\
player,date,hole,shot,lie,distance,depth_ft,side_ft,result
Ada,2026-05-14,1,1,fairway,100,-12,0,
Ada,2026-05-14,1,2,green,12,,,
Ada,2026-05-14,1,3,green,4,,,
Ada,2026-05-14,2,1,rough,40,6,0,
Ada,2026-05-14,2,2,sand,10,-3,4,
Ada,2026-05-14,2,3,green,5,,,
Ada,2026-05-14,3,1,fairway,30,,,
Ada,2026-05-14,3,2,green,6,,,
Ada,2026-05-14,3,3,green,4.5,,,
Ada,2026-05-14,3,4,green,2,,,
Ada,2026-05-14,4,1,fairway,60,9,0,
Ada,2026-05-14,4,2,green,9,,,
Ada,2026-05-14,4,3,green,5,,,conceded
Ada,2026-05-20,1,1,fairway,120,-3,3,
Ada,2026-05-20,1,2,green,4,,,
"""
"""Holes 1 to 3 and the second round's are holed out with the last putt."""


@pytest.fixture
def of(tmp_path: Path) -> Iterator[Observed]:
    with open_store(tmp_path / "s.duckdb") as store:
        store.load(write(tmp_path, CARD))
        store.load(write(tmp_path, CARD.replace("Ada,2026", "Bea,2025"), "bea.csv"))
        yield Observed(store, selection=Selection("Ada"))


def values(of: Observed, measure: str, *ends: float | None) -> list[float]:
    return of.of_measure(measure, *ends)["value"].tolist()


def test_putts_holed_from_4_to_5_feet_with_both_ends(of: Observed) -> None:
    """4 in, 5 in, 4.5 missed, 4 in; the putt from 5 that was given is no stroke."""
    assert values(of, "holed", 4, 5) == [1, 1, 0, 1]
    assert values(of, "holed") == [0, 1, 1, 0, 0, 1, 0, 1]


def test_tries_are_won_in_two(of: Observed) -> None:
    """From 40 in three, from 30 in four; from sand in two."""
    assert values(of, "up_and_down") == [0, 0]
    assert values(of, "sand_save") == [1]
    assert values(of, "up_and_down", 100, 150) == [0]


def test_greens_proximity_and_short_misses(of: Observed) -> None:
    """Balls from 100, 40, 10 (sand), 30, 60 and 120 yd; the one from 40 found the sand."""
    assert values(of, "green_hit") == [1, 0, 1, 1, 1, 1]
    assert values(of, "proximity") == [12, 30, 5, 6, 9, 4]
    assert values(of, "short_miss") == [1, 0, 1, 0, 1]  # of that from 30 yd nobody wrote it down
    assert values(of, "proximity", 180, 300) == [12, 9]


def test_three_putts_of_the_greens_played_out(of: Observed) -> None:
    assert values(of, "three_putt") == [0, 0, 1, 0]
    assert values(of, "three_putt", 6, 6) == [1]


def test_a_part_and_the_days(of: Observed) -> None:
    seen = of.of_part("approach_100_150")
    assert seen["date"].tolist() == [pd.Timestamp(2026, 5, 14), pd.Timestamp(2026, 5, 20)]
    told = of.strokes[of.strokes["part"] == "approach_100_150"]["gained"]
    assert seen["value"].tolist() == told.tolist()
    assert seen["round_key"].tolist() == [1, 2]
    assert of.of_part("recovery").empty


def test_every_measure_can_be_counted_of_nothing() -> None:
    with open_store() as store:
        for measure in MEASURE:
            assert _none(store, measure).empty


def _none(store: Store, measure: str) -> pd.DataFrame:
    return Observed(store).of_measure(measure)
