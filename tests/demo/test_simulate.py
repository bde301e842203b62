"""Seasons: repeatable, consistent stroke by stroke, and true to their parameters."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sgzone.benchmarks import benchmark
from sgzone.demo.courses import CHAMPIONSHIP, CLUB_COURSES
from sgzone.demo.player import Effect, total_pattern
from sgzone.demo.presets import demo_player, long_hitter, strong_amateur, tour_level
from sgzone.demo.simulate import simulate_season, simulate_strokes, write_cards
from sgzone.demo.truth import gained, parts_of, true_gained, true_patterns
from sgzone.errors import CallError
from sgzone.season.store import open_store
from sgzone.terms import PART_NAMES

STEADY = replace(demo_player(), wind_spread=0.0)


@pytest.fixture(scope="module")
def strokes():
    return simulate_strokes(250_000, STEADY, seed=4, courses=CLUB_COURSES)


def test_same_seed_same_card():
    one, two = (simulate_season(demo_player(), rounds=3, seed=9).card for _ in range(2))
    pd.testing.assert_frame_equal(one, two)
    assert not one.equals(simulate_season(demo_player(), rounds=3, seed=10).card)


@settings(max_examples=12)
@given(st.integers(0, 2**32 - 1), st.sampled_from([tour_level(), demo_player(), long_hitter()]))
def test_every_hole_is_a_chain_that_ends_in_the_hole(seed, player):
    s = simulate_strokes(600, player, seed, courses=CLUB_COURSES)
    last = s["hole_id"] != s["hole_id"].shift(-1)
    assert (s["shot"] == s.groupby("hole_id").cumcount() + 1).all()
    assert (s["end_lie"] == "holed").equals(last)
    assert (s.loc[last, "end_distance_ft"] == 0).all()
    inner = s[~last]
    after = s.shift(-1)[~last]
    assert (inner["end_lie"] == after["lie"]).all()
    np.testing.assert_array_equal(inner["end_distance_ft"], after["distance_ft"])
    assert (s["distance_ft"] > 0).all()
    assert ((s["lie"] != "tee") | (s["shot"] == 1) | (s["penalty"].shift() > 0)).all()


@settings(max_examples=6)
@given(st.integers(0, 2**32 - 1))
def test_gained_adds_up_over_a_hole(seed):
    s = simulate_strokes(600, demo_player(), seed, courses=CLUB_COURSES)
    s = s.assign(gained=gained(s))
    hole = s.groupby("hole_id").agg(
        total=("gained", "sum"), lie=("lie", "first"), feet=("distance_ft", "first"),
        strokes=("shot", "size"), penalty=("penalty", "sum"),
    )  # fmt: skip
    first = benchmark("tour").expected(hole["lie"].to_numpy(), hole["feet"].to_numpy())
    spent = (hole["strokes"] + hole["penalty"]).to_numpy()
    np.testing.assert_allclose(hole["total"], first - spent, atol=1e-9)


def test_finish_and_next_distance_agree(strokes):
    free = strokes[(strokes["penalty"] == 0) & (strokes["end_lie"] != "holed")]
    np.testing.assert_allclose(
        np.hypot(free["depth_ft"], free["side_ft"]), free["end_distance_ft"], rtol=1e-9
    )


def standardised(strokes, player):
    yards = strokes["distance_ft"] / 3
    seen = total_pattern(player, strokes["lie"], yards, strokes["club"], strokes["swing"])
    feet = strokes["distance_ft"].to_numpy()
    depth = (strokes["depth_ft"].to_numpy() / feet - seen.depth_bias) / seen.depth_sd
    side = (strokes["side_ft"].to_numpy() / feet - seen.side_bias) / seen.side_sd
    return depth, side


CELLS = {
    "half": lambda s: s["swing"] == "half",
    "three-quarter": lambda s: s["swing"] == "three-quarter",
    "full": lambda s: s["swing"] == "full",
    "chip": lambda s: (s["club"] != "") & (s["swing"] == "") & (s["lie"] != "sand"),
    "sand": lambda s: (s["lie"] == "sand") & (s["distance_ft"] < 150),
}


def cell(strokes, name):
    swung = ~strokes["lie"].isin(["green", "fringe", "recovery"]) & (strokes["club"] != "")
    return strokes[swung & CELLS[name](strokes)]


@pytest.mark.parametrize("name", CELLS)
def test_bias_and_spread_are_the_parameters(strokes, name):
    rows = cell(strokes, name)
    n = len(rows)
    assert n > 1500
    for z in standardised(rows, STEADY):
        assert abs(z.mean()) < 4 / np.sqrt(n)
        assert abs(z.std() - 1) < 6 / np.sqrt(n)  # heavy tails: wider than a normal's 0.7


def test_a_player_without_the_faults_is_told_apart(strokes):
    rows = cell(strokes, "half")
    depth, side = standardised(rows, replace(strong_amateur(), wind_spread=0.0))
    assert depth.mean() < -0.25
    assert depth.std() > 1.2
    assert side.mean() < -0.15


def test_tour_level_gains_nothing_against_the_tour():
    seen = true_gained(tour_level()).set_index("part")
    practised = seen.drop(index="recovery")
    assert set(seen.index) == set(PART_NAMES)
    assert (practised["gained_per_shot"].abs() < 0.035).all()
    assert abs(practised["gained_per_round"].sum()) < 0.3


def test_a_planted_fault_costs_strokes_where_it_is_planted():
    whole = true_gained(tour_level(), rounds=1500).set_index("part")["gained_per_shot"]
    wedge = Effect(low_yd=50, high_yd=100, depth_spread=1.4, depth_bias=-0.03)
    faulty = tour_level().with_effects(wedge, name="wedges")
    seen = true_gained(faulty, rounds=1500).set_index("part")["gained_per_shot"]
    lost = whole - seen
    assert lost["wedge_50_100"] > 0.08
    assert (lost.drop(["wedge_50_100", "recovery"]).abs() < 0.03).all()


def test_truth_is_remembered_and_its_error_stated():
    one = true_gained(tour_level(), by=("part", "lie"), rounds=300)
    assert true_gained(tour_level(), by=("part", "lie"), rounds=300) is one
    large = true_gained(tour_level(), by=("part",), rounds=300, seed=3).set_index("part")
    naive = large["sd"] / np.sqrt(large["shots_per_round"] * 300)
    assert (large["se"] / naive).drop("recovery").between(0.8, 1.3).all()


@pytest.mark.parametrize(
    ("lie", "feet", "part"),
    [
        ("fairway", 450.0, "approach_100_150"),
        ("fairway", 450.5, ""),
        ("tee", 300.0, "approach_100_150"),
        ("rough", 299.0, "wedge_50_100"),
        ("sand", 149.9, "sand_0_50"),
        ("sand", 150.0, "wedge_50_100"),
        ("fringe", 20.0, "chip_0_30"),
        ("green", 10.0, "putt_10_30"),
        ("green", 460.0, "putt_30_up"),
        ("recovery", 300.0, "recovery"),
    ],
)
def test_parts(lie, feet, part):
    assert parts_of(pd.DataFrame({"lie": [lie], "distance_ft": [feet]})).tolist() == [part]


def test_season_card_loads_without_a_note(tmp_path):
    season = simulate_season(demo_player(), rounds=4, seed=2)
    path = tmp_path / "season.csv"
    season.card.to_csv(path, index=False)
    with open_store() as store:
        report = store.load(path)
        # a putt may run off the green, and is noted: nothing else may be
        assert {note.column for note in report.notes} <= {"lie"}
        assert report.rows == len(season.card)
        kept = store.frame("SELECT sum(strokes) AS n, count(*) AS rounds FROM rounds")
    assert kept.iloc[0].tolist() == [len(season.card), 4]


def test_season_truth_names_every_stock_swing():
    season = simulate_season(demo_player(), rounds=1)
    pd.testing.assert_frame_equal(season.truth, true_patterns(demo_player()))
    assert len(season.truth) == 3 * (8 + len(demo_player().bag))
    half = season.truth.query("lie == 'fairway' and club == '54' and swing == 'half'").iloc[0]
    # -6% the fault, and 0.025 x 1.3 mishits that come up 12% short
    assert half["depth_bias"] == pytest.approx(-0.06 - 0.025 * 1.3 * 0.12)


def test_cards_of_any_size(tmp_path):
    rows = write_cards(tmp_path / "many.parquet", 5000, players=7)
    card = pd.read_parquet(tmp_path / "many.parquet")
    assert 5000 <= rows == len(card) < 5200
    assert card["player"].nunique() == 7
    assert write_cards(tmp_path / "few.csv", 10) >= 10
    with pytest.raises(CallError, match=r"neither \.csv nor \.parquet"):
        write_cards(tmp_path / "many.xlsx", 10)


def test_empty_calls_are_refused():
    with pytest.raises(CallError):
        simulate_season(rounds=0)
    with pytest.raises(CallError):
        simulate_strokes(0)
    assert len(CHAMPIONSHIP) == 2
