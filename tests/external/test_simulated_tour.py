"""The simulated tour-level player against figures it was not calibrated to.

Sources: data/published/anchors.csv (broadie2015, broadie2008, tour_stats, james_rees2008) and
data/published/putt_outcomes.csv (broadie2014); one figure is common practice without a source.
"""

from __future__ import annotations

import pandas as pd
import pytest

from sgzone.demo.presets import long_hitter, tour_level
from sgzone.demo.simulate import simulate_strokes
from sgzone.resources import data_path

pytestmark = pytest.mark.long

STROKES = 300_000


def published(source, quantity, condition=None):
    table = pd.read_csv(data_path("published/anchors.csv"))
    rows = table[(table["source"] == source) & (table["quantity"] == quantity)]
    rows = rows[rows["population"].str.startswith("tour")]
    if condition is not None:
        rows = rows[rows["condition"].str.startswith(condition)]
    assert len(rows) == 1
    return rows["value"].iloc[0]


@pytest.fixture(scope="module")
def strokes():
    s = simulate_strokes(STROKES, tour_level(), seed=8)
    left = s.groupby("hole_id")["shot"].transform("max") - s["shot"] + 1
    return s.assign(left=left, yards=s["distance_ft"] / 3)


def test_shots_per_round_from_60_to_100_yards(strokes):
    # how strokes arrive inside 150 yards comes from the tee curve and the courses, not from this
    off = ~strokes["lie"].isin(["green", "fringe"]) & strokes["yards"].between(60, 100)
    per_round = off.sum() / strokes["round_id"].nunique()
    told = float(published("broadie2015", "shots per round from 60-100 yd"))
    assert per_round == pytest.approx(told, abs=0.25)


def test_sand_saves(strokes):
    sand = strokes[(strokes["lie"] == "sand") & (strokes["yards"] <= 50)]
    told = float(published("broadie2008", "sand save (scores 64-79)"))
    assert 100 * (sand["left"] <= 2).mean() == pytest.approx(told, abs=5)


@pytest.mark.parametrize(
    ("low", "high", "condition"), [(75, 100, "fairway 75-100 yd, 2021"), (100, 125, "fairway 100")]
)
def test_mean_proximity(strokes, low, high, condition):
    # the season statistics moved by 0.75 ft in ten years; 8% is twice that
    rows = strokes[(strokes["lie"] == "fairway") & strokes["yards"].between(low, high)]
    told = float(published("tour_stats", "mean proximity", condition))
    assert rows["end_distance_ft"].mean() == pytest.approx(told, rel=0.08)


def test_one_putts(strokes):
    table = pd.read_csv(data_path("published/putt_outcomes.csv"))
    tour = table[(table["population"] == "tour") & (table["source"] == "broadie2014")]
    putts = strokes[strokes["lie"] == "green"]
    for row in tour[tour["distance_ft"].between(2, 40)].itertuples():
        near = putts[(putts["distance_ft"] - row.distance_ft).abs() <= 0.5]
        assert 100 * (near["left"] == 1).mean() == pytest.approx(row.percent, abs=3.5), row


def eight_rounds(player, putts=False):
    """Strokes from inside 150 yards in sets of eight rounds; the putter's strokes are putts."""
    s = simulate_strokes(STROKES, player, seed=5)
    near = (s["distance_ft"] <= 450) & (putts | (s["club"] != "putter"))
    rounds = near.groupby(s["round_id"]).sum().to_numpy()
    sets = len(rounds) // 8
    return rounds[: sets * 8].reshape(sets, 8).sum(axis=1)


# Common practice, no source: a long-hitting tour-level player has 80 to 100 strokes from inside 150
# yards in eight full rounds, putts not counted.
LOW, HIGH = 80, 100


def test_strokes_from_inside_150_yards_in_eight_rounds():
    assert LOW <= eight_rounds(tour_level()).mean() <= HIGH


@pytest.mark.xfail(
    strict=True,
    reason="the simulated long hitter has 104 on average, and 80 to 100 in three sets of ten: "
    "longer drives leave more short approaches, and the published tee curve holds the drive",
)
def test_strokes_from_inside_150_yards_of_a_long_hitter():
    assert LOW <= eight_rounds(long_hitter()).mean() <= HIGH


def test_the_long_hitter_as_measured():
    sets = eight_rounds(long_hitter())
    assert sets.mean() == pytest.approx(104, abs=2)
    assert sets.std() == pytest.approx(6.6, abs=0.7)
    assert ((sets >= LOW) & (sets <= HIGH)).mean() == pytest.approx(0.31, abs=0.07)


def test_counting_putts_gives_another_figure():
    assert eight_rounds(tour_level(), putts=True).min() > 2 * HIGH
