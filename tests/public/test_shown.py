"""What an object shows of itself: short in a terminal, a table in a notebook."""

from __future__ import annotations

import threading
from pathlib import Path

import pandas as pd
import pytest

import sgzone as sg
from tests.demo_season import demo_file

CARD = pd.DataFrame(
    {
        **{"player": "Ada <b>", "date": "2026-05-14", "hole": [1, 1], "shot": [1, 2]},
        **{"lie": ["fairway", "green"], "distance": [112, 18], "result": [None, "holed"]},
    }
)


def test_a_store_says_what_is_in_it(tmp_path: Path) -> None:
    with sg.open_store(tmp_path / "own.duckdb") as store:
        assert repr(store) == "<Store own.duckdb: 0 players, 0 rounds, 0 strokes>"
        store.load(CARD)
        assert repr(store) == "<Store own.duckdb: 1 player, 1 round, 2 strokes>"
        shown = store._repr_html_()
        assert shown.startswith("<p>&lt;Store own.duckdb: 1 player")
        assert "Ada &lt;b&gt;" in shown
    assert repr(store) == "<Store own.duckdb: closed>"
    assert store._repr_html_() == "<p>&lt;Store own.duckdb: closed&gt;</p>"
    with sg.open_store() as store:
        assert repr(store).startswith("<Store in memory: 0 players")


def test_a_store_is_not_asked_from_another_thread() -> None:
    said: list[str] = []
    with sg.open_store(demo_file(), read_only=True) as store:
        other = threading.Thread(target=lambda: said.append(repr(store)))
        other.start()
        other.join()
    assert said == [f"<Store {Path(demo_file()).name}: of another thread>"]


def test_a_relation_is_asked_when_its_rows_are_wanted() -> None:
    with sg.open_store() as store:
        query = store.relation("SELECT lie FROM strokes WHERE shot >= $shot", {"shot": 1})
        store.load(CARD)
        assert query.df()["lie"].tolist() == ["fairway", "green"]
        assert query.columns == ["lie"]


def test_a_standard_a_plan_and_a_season_are_short() -> None:
    tour = sg.benchmark("tour")
    assert repr(tour) == f"<Benchmark tour: 7 lies, {len(tour.knots)} knots>"
    season = sg.simulate_season(rounds=3)
    assert repr(season) == f"<Season of tour-level: {len(season.card)} rows of a card>"
    plan = sg.practice_plan(season.card, 4.5, 6)
    assert repr(plan) == "<Plan of 4.5 h a week for 6 weeks: 8 parts>"
    for one in (tour, season, plan):
        shown = one._repr_html_()
        assert shown.startswith("<p>&lt;")
        assert "<table" in shown


@pytest.mark.parametrize("name", ["tour", "amateur-90"])
def test_a_long_table_is_cut_in_a_notebook(name: str) -> None:
    assert sg.benchmark(name)._repr_html_().count("<tr") < 15
