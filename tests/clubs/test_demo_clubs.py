"""The demo season's known carries, gaps and wear, from the file to the tables."""

from __future__ import annotations

import json
from collections.abc import Iterator

import numpy as np
import pandas as pd
import pytest

import sgzone as sg
from sgzone.clubs import (
    bag,
    changes,
    consistency,
    cover,
    number_sheet,
    plan_number,
    questions,
    wear,
)
from sgzone.clubs.consistency import CONSISTENCY_COLUMNS, QUESTIONS
from sgzone.clubs.cover import COVER_COLUMNS
from sgzone.clubs.sheet import SHEET_COLUMNS, numbers_of
from sgzone.clubs.wear import BAG_COLUMNS, WEAR_COLUMNS
from sgzone.errors import CallError
from sgzone.resources import data_path
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.stats.verdict import NOT_WRITTEN
from sgzone.words.cautions import RULES
from sgzone.words.notes import options

NOBODY = Selection(player="Nobody")


@pytest.fixture(scope="module")
def store() -> Iterator[Store]:
    with open_store() as made:
        for name in ("season", "test_blocks", "bag", "practice_log"):
            made.load(data_path(f"demo/{name}.csv"))
        yield made


@pytest.fixture(scope="module")
def truth() -> pd.DataFrame:
    text = data_path("demo/truth.json").read_text(encoding="utf-8")
    known = pd.DataFrame(json.loads(text)["stock_carries_yd"])
    return known.set_index(["club", "swing"])


@pytest.mark.parametrize("source", ["course", "test"])
def test_known_carries_are_inside_their_intervals(store, truth, source):
    """95% intervals of 15 swings: all but one or two hold the true carry."""
    got = sg.clubs(store, source=source, level=0.95).set_index(["club", "swing"])
    both = got.join(truth.add_suffix("_true"), how="inner")
    enough = both[both["shots"] >= 8]
    assert len(enough) >= 9
    inside = (enough["low"] <= enough["carry_yd_true"]) & (
        enough["carry_yd_true"] <= enough["high"]
    )
    assert inside.mean() >= 0.85


def test_known_gaps_are_found_again(store, truth):
    got = sg.clubs(store, source="test").set_index(["club", "swing"])
    full = [("54", "full"), ("50", "full"), ("46", "full"), ("9i", "full"), ("8i", "full")]
    gaps = np.diff(got.loc[full, "carry_yd"])
    assert gaps == pytest.approx(np.diff(truth.loc[full, "carry_yd"]), abs=9.0)
    assert gaps.mean() == pytest.approx(np.diff(truth.loc[full, "carry_yd"]).mean(), abs=2.5)


def test_metres_read_as_yards_would_not_pass(store, truth):
    """The wrong-unit control: carries 9% off leave most of their intervals."""
    got = sg.clubs(store, source="course", level=0.95).set_index(["club", "swing"])
    both = got.join(truth.add_suffix("_true"), how="inner")
    both = both[both["shots"] >= 8]
    wrong = both["carry_yd_true"] * 0.9144
    assert ((both["low"] <= wrong) & (wrong <= both["high"])).mean() < 0.5


def test_sources_are_never_mixed(store):
    tables = {s: sg.clubs(store, source=s) for s in ("course", "test", "range balls")}
    for source, table in tables.items():
        assert set(table["source"]) == {source}
    balls = store.frame("SELECT COUNT(*) AS n FROM test_balls WHERE ball = 'range'")["n"].iloc[0]
    assert tables["range balls"]["spread_shots"].sum() == balls
    with pytest.raises(CallError, match="Choose from: course, test, range balls"):
        sg.clubs(store, source="both")


def test_clubs_is_callable_before_and_after_its_package_is_imported(store):
    assert sg.clubs(store).equals(sg.clubs(store))


def test_cover_counts_strokes_away_from_every_swing(store):
    ladder = sg.clubs(store)
    got = cover(store, ladder)
    assert got.columns.tolist() == list(COVER_COLUMNS)
    assert (got["uncovered"] <= got["strokes"]).all()
    lone = cover(store, ladder[(ladder["club"] == "9i")])
    assert lone["uncovered"].sum() > got["uncovered"].sum()
    assert len(cover(store, ladder, NOBODY)) == 0


@pytest.mark.long
def test_every_number_of_the_bag_has_an_answer_in_time_for_the_tee(store):
    got = number_sheet(store, numbers_of(60, 150, 5))
    assert got.columns.tolist() == list(SHEET_COLUMNS)
    assert set(options(got)["prepare"]) == {RULES}
    assert got["number_yd"].nunique() == 19
    assert got.groupby("number_yd").size().max() <= 3
    first = got[got["rank"] == 1]
    assert first["expected_strokes"].between(2.4, 3.4).all()
    assert (first["landing_yd"] - first["number_yd"]).abs().max() < 15


def test_a_number_nobody_has_a_swing_for_stays_on_the_sheet(store):
    got = number_sheet(store, [97.0], selection=NOBODY)
    assert got["number_yd"].tolist() == [97.0]
    assert got["club"].isna().all()


def test_part_swings_planted_short_are_moved_up(store):
    """The demo's half swings come up 6% short: what is planned with is shorter than meant."""
    plan = plan_number(store, 70, source="test")
    half = plan[(plan["club"] == "46") & (plan["swing"] == "half")].iloc[0]
    assert half["carry_yd"] < 74 - 1.5


def test_other_lies_cost_more(store):
    costs = [
        plan_number(store, 97, lie=lie)["expected_strokes"].iloc[0] for lie in ("tee", "rough")
    ]
    assert costs[1] > costs[0]
    with pytest.raises(CallError, match="no number is planned from"):
        plan_number(store, 97, lie="green")


def test_ranges_of_numbers():
    assert numbers_of(60, 75, 5) == [60, 65, 70, 75]
    assert numbers_of(60, 60, 5) == [60]
    with pytest.raises(CallError, match="the step in yards must be from"):
        numbers_of(60, 150, 0)
    for wrong in ((60, 50, 5), (60, 150, 0.1)):
        with pytest.raises(CallError, match="--from 60 --to 150"):
            numbers_of(*wrong)


def test_consistency_has_launch_and_spin_beside_the_carry(store):
    got = consistency(store, source="test").set_index(["club", "swing"])
    assert got.reset_index().columns.tolist() != []
    row = got.loc[("54", "full")]
    assert row["launch_deg"] == pytest.approx(30.5, abs=1)
    assert 7500 < row["spin_rpm"] < 9600
    assert row["carry_yd_sd_low"] < row["carry_yd_sd"] < row["carry_yd_sd_high"]
    assert set(CONSISTENCY_COLUMNS) == {*got.columns, "club", "swing"}
    assert len(consistency(store, NOBODY)) == 0


def test_open_questions_name_their_n(store):
    got = questions(store)
    assert list(dict.fromkeys(got["question"])) == list(QUESTIONS)
    face = got[got["question"] == "face"].iloc[0]
    assert face["verdict"] == NOT_WRITTEN
    assert face["shots_to_settle"] == pytest.approx(130, abs=10)
    assert len(got) > len(QUESTIONS)


def test_the_bag_counts_sand_and_practice_apart(store):
    got = bag(store, remind_shots=100, remind_months=12)
    assert got.columns.tolist() == list(BAG_COLUMNS)
    lob = got[got["club"] == "58"].iloc[0]
    sand = store.frame("SELECT COUNT(*) AS n FROM strokes WHERE club = '58' AND lie = 'sand'")
    balls = store.frame("SELECT COUNT(*) AS n FROM test_balls WHERE club = '58'")
    assert lob["sand_shots"] == sand["n"].iloc[0]
    assert lob["practice_balls"] == balls["n"].iloc[0]
    assert lob["shots_reached"] == 100
    assert lob["months_reached"] == 12
    old, new = got[got["club"] == "54"].to_dict("records")  # one is out of play, one is new
    assert all(
        np.isnan(club[f"{what}_reached"]) for club in (old, new) for what in ("shots", "months")
    )
    assert old["months"] == pytest.approx(16.6, abs=0.1)
    assert bag(store)[["shots_reached", "months_reached"]].isna().all(axis=None)


@pytest.mark.long
def test_wear_and_change(store):
    got = wear(store)
    assert got.columns.tolist() == list(WEAR_COLUMNS)
    assert (got["low"].dropna() <= got["per_100_shots"].dropna()).all()
    changed = changes(store)
    assert changed["club"].tolist() == ["54"]
    assert changed["first"].tolist() == ["before 2026-07-20"]
    assert len(wear(store, selection=NOBODY)) == 0
    assert len(changes(store, selection=NOBODY)) == 0
    assert len(bag(store, NOBODY)) == 0
