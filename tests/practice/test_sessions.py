"""A week of sessions: hours kept, lengths, numbers from the player's own rounds, pass marks."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.practice.plan import plan_from, practice_plan
from sgzone.practice.sessions import SHEET_COLUMNS, quarter_hours, week_plan
from sgzone.practice.settings import Settings
from sgzone.resources import data_path
from sgzone.review.why.reference import reference_finish, reference_model
from sgzone.scoring import scored
from sgzone.season.store import open_store
from tests.practice.players import PARTS, losses

LOSS = np.array([1.2, 0.6, 0.1, 0.5, 0.2, 0.7, 0.3, -0.1])


@pytest.fixture(scope="module")
def demo():
    with open_store() as store:
        store.load(data_path("demo/season.csv"))
        yield store


@pytest.mark.parametrize("hours", [0.5, 1.0, 2.0, 3.75, 10.0])
def test_every_week_has_its_hours_and_every_part_its_own_by_the_end(hours):
    plan = plan_from(losses(LOSS, 0.2), hours, 6, Settings())
    weeks = [quarter_hours(plan, week) for week in range(1, 7)]
    assert {sum(w.values()) for w in weeks} == {round(hours * 4)}
    total = Counter()
    for week in weeks:
        total.update(week)
    exact = plan.table.set_index("part")["hours_per_week"] * 4 * 6
    for part in PARTS:
        assert abs(total[part] - exact[part]) < 1.5, part


def test_a_part_is_rounded_down_or_up_each_week():
    plan = plan_from(losses(LOSS, 0.2), 10, 6, Settings())
    exact = plan.table.set_index("part")["hours_per_week"] * 4
    for week in range(1, 7):
        units = quarter_hours(plan, week)
        for part in PARTS:
            assert np.floor(exact[part]) - 1e-9 <= units.get(part, 0) <= np.ceil(exact[part]) + 1e-9


@pytest.mark.repeats
@pytest.mark.parametrize("hours", [0.5, 1.25, 2.0, 3.5, 10.0])
def test_sessions_last_half_an_hour_to_an_hour(demo, hours):
    table = week_plan(demo, practice_plan(demo, hours, 6))
    lengths = table.groupby("session")["minutes"].first()
    assert lengths.between(30, 60).all()
    assert lengths.sum() == pytest.approx(60 * hours, abs=7.5)
    assert table["balls"].sum() == pytest.approx(20 * lengths.sum() / 15)


@pytest.mark.long
def test_numbers_are_the_players_own_and_in_no_order(demo):
    table = week_plan(demo, practice_plan(demo, 10, 6))
    assert tuple(table.columns) == SHEET_COLUMNS
    own = scored(demo, "tour")
    for part, rows in table.groupby("part"):
        feet = own.loc[own["part"] == part, "distance_ft"]
        mine = np.unique(np.maximum(np.round(feet if part.startswith("putt") else feet / 3), 1))
        assert set(rows["number"]) <= set(mine), part
        assert set(rows["unit"]) == {"ft" if part.startswith("putt") else "yd"}
    wedge = table[table["part"] == "approach_100_150"]["number"].to_numpy()
    assert 0.3 < np.mean(np.diff(wedge) > 0) < 0.7


@pytest.mark.long
def test_a_number_comes_with_the_swing_the_player_uses_there(demo):
    table = week_plan(demo, practice_plan(demo, 10, 6))
    own = scored(demo, "tour")
    for row in table[table["part"] == "wedge_50_100"].head(20).itertuples():
        near = own[(own["part"] == row.part) & ((own["distance_ft"] - row.number * 3).abs() <= 15)]
        assert near["club"].value_counts()[row.club] == near["club"].value_counts().max()
        assert near["swing"].value_counts()[row.swing] == near["swing"].value_counts().max()


@pytest.mark.long
def test_pass_marks_are_the_levels_median_and_what_it_leaves_inside(demo):
    curve = benchmark("scratch")
    table = week_plan(demo, practice_plan(demo, 10, 6, "scratch"), "scratch")
    off = table[table["unit"] == "yd"]
    model = reference_finish(curve, off["lie"].to_numpy(object), off["number"].to_numpy() * 3.0)
    assert off["pass_mark_ft"].to_numpy() == pytest.approx(model.median_ft)
    share = reference_model(curve).share_inside(
        off["lie"].to_numpy(object), off["number"].to_numpy() * 3.0, off["pass_mark_ft"]
    )
    assert off["pass_balls"].to_numpy() == pytest.approx(20 * share, abs=0.5)
    assert set(off.loc[off["part"] == "sand_0_50", "lie"]) <= {"sand"}
    putts = table[table["part"] == "putt_0_10"]
    assert putts["pass_mark_ft"].isna().all()
    assert (putts["pass_balls"].diff()[putts["number"].diff() > 0].dropna() <= 0).all()


@pytest.mark.long
def test_a_better_level_has_a_nearer_mark(demo):
    plan = practice_plan(demo, 4, 6)
    tour, amateur = (week_plan(demo, plan, name) for name in ("tour", "amateur-90"))
    assert (tour["number"] == amateur["number"]).all()
    off = tour["unit"] == "yd"
    assert (tour.loc[off, "pass_mark_ft"] < amateur.loc[off, "pass_mark_ft"]).all()


@pytest.mark.long
def test_weeks_differ_and_one_week_is_always_the_same(demo):
    plan = practice_plan(demo, 4, 6)
    first, again, second = (week_plan(demo, plan, week=w) for w in (1, 1, 2))
    assert first.equals(again)
    assert first["number"].tolist()[:10] != second["number"].tolist()[:10]


def test_no_strokes_no_sessions():
    with open_store() as store:
        plan = plan_from(losses(LOSS), 4, 6, Settings())
        assert week_plan(store, plan).empty
        assert week_plan(store, replace(plan, hours=0.1)).empty
