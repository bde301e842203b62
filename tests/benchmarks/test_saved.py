"""Fitted benchmarks in the season file: kept whole, found by name, refused where they mislead."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.benchmarks.fit import fit_benchmark
from sgzone.benchmarks.outcomes import outcomes
from sgzone.benchmarks.saved import (
    TABLES,
    check_name,
    for_costs,
    in_store,
    knot_table,
    save,
    saved_list,
    saved_names,
    strokes_of,
)
from sgzone.errors import CallError
from sgzone.harmless import csv_text
from sgzone.practice.plan import practice_plan
from sgzone.review.trend import trend
from sgzone.review.where.summary import summarise
from sgzone.review.why.split import why
from sgzone.scoring import round_sums, strokes_gained
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.terms import LIE
from tests.season.cardfiles import HEADER, write

FEET = np.arange(1.0, 700.0)
ADA = (
    "Ada,2026-05-14,1,2,fairway,100,,\nAda,2026-05-14,1,3,rough,12,1,\n"
    "Ada,2026-05-14,1,4,green,20,,\nAda,2026-05-14,1,5,green,2,,\n"
    "Ada,2026-05-15,1,1,sand,10,,\nAda,2026-05-15,1,2,green,9,,conceded\n"
)
BEE = (
    "Bee,2026-05-16,1,1,fairway,60,,\nBee,2026-05-16,1,2,green,4,,\n"
    "Bee,2026-05-16,2,1,rough,40,,\nBee,2026-05-16,2,2,,,,picked_up\n"
)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    store = open_store(tmp_path / "season.duckdb")
    store.load(write(tmp_path, HEADER + "\n" + ADA + BEE))
    return store


def _make(store: Store, name: str, *players: str, again: bool = False) -> Benchmark:
    base = benchmark("tour")
    rows = outcomes(store, base, players=players)
    fitted = fit_benchmark(name, base, rows)
    save(store, fitted, "tour", rows, again=again)
    return fitted


def test_outcomes_count_strokes_penalties_and_what_was_given(store: Store) -> None:
    base = benchmark("tour")
    rows = outcomes(store, base)
    ada = rows[(rows["player"] == "Ada")].sort_values("distance_ft", ascending=False)
    given = 1 + base.expected("green", 9.0)  # conceded from 9 ft: what is expected from there
    assert ada["strokes"].tolist() == pytest.approx([5.0, 4.0, given, 2.0, 1.0])
    assert ada["holed"].tolist() == [0, 0, 0, 0, 1]
    # the hole whose ball was picked up at no known place is left out
    assert rows.loc[rows["player"] == "Bee", "strokes"].tolist() == [2.0, 1.0]
    days = Selection(since=date(2026, 5, 15), until=date(2026, 5, 15))
    assert outcomes(store, base, days)["strokes"].tolist() == pytest.approx([given])
    assert len(outcomes(store, base, Selection("Bee"))) == len(rows) - len(ada)
    assert len(outcomes(store, base, players=("Ada", "Bee"))) == len(rows)


def test_it_comes_back_to_the_last_bit(store: Store, tmp_path: Path) -> None:
    made = _make(store, "squad-2026")
    store.backup(tmp_path / "copy.duckdb")
    store.close()
    for path in ("season.duckdb", "copy.duckdb"):
        with open_store(tmp_path / path, read_only=True) as again:
            found = in_store(again, "squad-2026")
            assert saved_names(again) == ["squad-2026"]
        assert found.players == made.players == ("Ada", "Bee")
        for lie in made.lies:
            assert (found.expected(lie, FEET) == made.expected(lie, FEET)).all()
            assert (found.status(lie, FEET) == made.status(lie, FEET)).all()
        pd.testing.assert_frame_equal(found.knots, made.knots, check_dtype=False)


def test_the_csv_is_the_same_curve_for_anybody(store: Store, tmp_path: Path) -> None:
    made = _make(store, "squad-2026")
    path = tmp_path / "squad-2026.csv"
    path.write_text(csv_text(knot_table(made)))
    read = benchmark(path)
    for lie in made.lies:
        derived = bool(LIE[lie].mean_of)
        tolerance = 0.005 if derived else 1e-12
        assert read.expected(lie, FEET) == pytest.approx(made.expected(lie, FEET), abs=tolerance)
        if not derived:
            assert (read.status(lie, FEET) == made.status(lie, FEET)).all(), lie
    assert "published" not in set(read.status("fringe", FEET))


@pytest.mark.long
def test_names_go_wherever_a_benchmark_goes(store: Store) -> None:
    made = _make(store, "squad-2026")
    frame = strokes_gained(store, "squad-2026")
    expected = made.expected(frame["lie"].to_numpy(object), frame["distance_yd"] * 3)
    assert frame["expected_before"].to_numpy() == pytest.approx(expected)
    for table in (
        summarise(store, "squad-2026"),
        round_sums(store, "squad-2026"),
        trend(store, "squad-2026", Selection("Ada")),
        why(store, "squad-2026", Selection("Ada")),
    ):
        assert len(table)
    assert in_store(store, "tour") is benchmark("tour")
    assert in_store(store, made) is made


def test_a_players_own_curve_is_for_better_or_worse_only(store: Store) -> None:
    _make(store, "ada", "Ada")
    ada, bee = Selection("Ada"), Selection("Bee")
    for ask in (
        lambda: summarise(store, "ada", ada),
        lambda: why(store, "ada", ada),
        lambda: practice_plan(store, 3, 6, "ada", selection=ada),
    ):
        with pytest.raises(CallError, match=r"to Ada's own strokes.*nothing seems to cost strokes"):
            ask()
    assert len(strokes_gained(store, "ada", ada)) == 5
    assert len(trend(store, "ada", ada))
    assert len(summarise(store, "ada", bee))
    assert len(summarise(store, "ada"))  # two players
    store.rename("Ada", "Ada B")
    with pytest.raises(CallError, match="Ada B's own"):
        for_costs(store, "ada", Selection("Ada B"))
    store.delete("Bee", "2026-05-16")
    with pytest.raises(CallError, match="nothing seems to cost strokes"):
        for_costs(store, "ada")  # nobody else is left


def test_names_that_are_taken_or_no_names(store: Store) -> None:
    for name in ("tour", "women-bogey", "", "Squad", "a b", "x" * 41, "../x", "team.csv", "-x"):
        with pytest.raises(CallError):
            check_name(name)
    _make(store, "squad")
    with pytest.raises(CallError, match="--replace"):
        _make(store, "squad")
    made = _make(store, "squad", "Bee", again=True)
    assert in_store(store, "squad").players == made.players == ("Bee",)
    assert saved_list(store)[["base", "players", "rounds", "strokes"]].values.tolist() == [
        ["tour", 1, 1, 2]
    ]
    with pytest.raises(CallError, match=r"saved in this season file: squad"):
        in_store(store, "squat")
    with pytest.raises(CallError, match="there: squad"):
        strokes_of(store, "tour")


def test_a_save_that_fails_leaves_the_old_one(store: Store) -> None:
    made = _make(store, "squad")
    broken = Benchmark("squad", made.knots.assign(lie=None), made.curves, made.players)
    with pytest.raises(Exception, match="NOT NULL"):
        save(store, broken, "tour", outcomes(store, benchmark("tour")), again=True)
    assert len(in_store(store, "squad").knots) == len(made.knots)


def test_whose_curve_it_started_from_counts_too(store: Store) -> None:
    first = _make(store, "first", "Ada")
    rows = outcomes(store, first, players=["Bee"])
    assert fit_benchmark("second", first, rows).players == ("Ada", "Bee")
    kept = Selection(since=date(2026, 5, 1), event="competition")
    save(store, fit_benchmark("second", first, rows), "first", rows, kept)
    assert strokes_of(store, "second") == ("first", kept, ["Ada", "Bee"])


def test_auto_names_no_benchmark_and_one_saved_so_before_hides_no_other(store: Store) -> None:
    with pytest.raises(CallError, match=r"auto cannot name a benchmark.* such as squad-2026"):
        check_name("auto")
    _make(store, "squad-2026")
    _make(store, "other")
    for table in TABLES:
        store.execute(f"UPDATE {table} SET name = 'auto' WHERE name = 'other'")
    assert saved_names(store) == ["squad-2026"]
    with pytest.raises(CallError, match="auto is no curve"):
        in_store(store, "auto")
