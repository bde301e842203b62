"""The committed demo season: built again bit for bit, valid, and as varied as a real card."""

from __future__ import annotations

import json

import pandas as pd
import pytest

from sgzone.demo.build import BAG, CARD, FILES, LOG, TESTS, TRUTH, write_demo
from sgzone.demo.listed import LIST
from sgzone.demo.presets import DEMO_NAME
from sgzone.resources import data_path
from sgzone.season.store import open_store


@pytest.fixture(scope="module")
def card():
    return pd.read_csv(data_path(f"demo/{CARD}"), dtype={"club": str})


@pytest.fixture(scope="module")
def truth():
    return json.loads(data_path(f"demo/{TRUTH}").read_text(encoding="utf-8"))


@pytest.mark.long
def test_the_committed_files_are_a_fresh_build(tmp_path):
    write_demo(tmp_path)
    for name in (*FILES, LIST):
        assert (tmp_path / name).read_bytes() == data_path(f"demo/{name}").read_bytes(), name


def test_they_are_small():
    assert sum(data_path(f"demo/{name}").stat().st_size for name in FILES) < 1_000_000


def test_they_load_without_a_problem_or_a_note():
    with open_store() as store:
        for name, kind in ((CARD, "shot"), (LOG, "log"), (TESTS, "test"), (BAG, "bag")):
            report = store.load(data_path(f"demo/{name}"))
            assert report.kind == kind
            assert not report.notes


def test_the_season_has_what_real_cards_have(card):
    rounds = card.groupby(["date", "round"])
    assert rounds.ngroups == 40
    assert card["player"].unique().tolist() == [DEMO_NAME]
    assert card["date"].between("2026-04-01", "2026-10-31").all()
    assert rounds["hole"].nunique().lt(18).sum() >= 5  # partial rounds
    ends = card["result"].value_counts()
    assert ends["conceded"] >= 10
    assert ends["picked_up"] >= 5
    assert card["lie"].isna().sum() >= 1  # a lost ball
    assert card["penalty"].sum() >= 5
    first = card.groupby(["date", "round", "hole"])["shot"].first()
    assert first.value_counts().index[0] > 1  # most holes start inside 150 yards
    assert {1, 2, 3} <= set(first)
    swung = card["swing"].notna()
    assert card.loc[swung, "depth_ft"].isna().mean() == pytest.approx(0.08, abs=0.04)
    filled = ["club", "wind", "wind_mph", "event", "course", "par", "format"]
    assert card[filled].notna().mean().min() > 0.9
    assert card["pin_on_yd"].notna().sum() > 200
    assert card["spin_rpm"].notna().sum() > 50


def test_distances_are_written_by_hand(card):
    putts = card.loc[card["lie"] == "green", "distance"]
    assert (putts * 2 == (putts * 2).round()).all()
    assert (putts[putts >= 5] == putts[putts >= 5].round()).all()
    paced = card[(card["measured"] == "paced") & ~card["lie"].isin(["green", "fringe"])]
    far = paced.loc[paced["distance"] >= 20, "distance"]
    assert len(far) > 20
    assert (far % 5 == 0).all()
    assert not card.loc[card["measured"] == "laser", "distance"].mod(5).eq(0).all()


def test_truth_tells_the_planted_faults(truth):
    assert "simulated" in truth["about"]
    swings = pd.DataFrame(truth["pattern_share_of_distance"])
    wedge = swings.query("lie == 'fairway' and club == '54'").set_index("swing")
    assert wedge.loc["half", "depth_bias"] < wedge.loc["full", "depth_bias"] - 0.05
    assert wedge["side_bias"].eq(-0.015).all()
    gained = pd.DataFrame(truth["gained_against_tour"]).set_index("part")
    assert gained.loc["sand_0_50", "gained_per_shot"] < -0.2
    assert truth["club_replaced"]["club"] == "54"
