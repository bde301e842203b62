"""The tables that charts are drawn from: what they hold, and what is refused."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

import sgzone as sg
from sgzone.season.store import Store, open_store
from tests.demo_season import demo_file


@pytest.fixture(scope="module")
def demo() -> Iterator[Store]:
    with open_store(demo_file(), read_only=True) as store:
        yield store


def test_two_sides_of_two_standards(demo: Store) -> None:
    table = sg.tables.beside(demo, "scratch", "tour")
    total = table[table["part"] == "total"].iloc[0]
    against = {
        name: sg.summarise(demo, name, by="total")["gained_per_round"].iloc[0]
        for name in ("tour", "scratch")
    }
    assert total["gained_per_round"] == pytest.approx(against["tour"], abs=1e-12)
    assert total["gained_per_round_other"] == pytest.approx(against["scratch"], abs=1e-12)


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        (lambda s: sg.tables.wear_steps(s, "45"), 'No shots with a "45" of the bag'),
        (lambda s: sg.tables.miss_points(s, "clubs"), "Did you mean club"),
        (lambda s: sg.tables.before_after(s, "July"), "is no day"),
        (lambda s: sg.tables.grid(s, level=2), "the level must be"),
    ],
)
def test_what_there_is_not_is_said(ask: Callable[[Any], Any], said: str, demo: Store) -> None:
    with pytest.raises(sg.CallError, match=said):
        ask(demo)


SEASONS = {
    **{"grid": (), "season_halves": (), "before_after": ("2026-06-01",), "beside": ("scratch",)},
    **{"proximity_points": (), "miss_points": (), "putting_curves": (), "putting_points": ()},
    **{"number_sheet": ([60, 80],), "wear_steps": ("54",), "block_days": ()},
    "finish_shares": ("swing", ("full", "half")),
}


@pytest.mark.parametrize("name", SEASONS)
def test_a_table_pools_no_players(name: str) -> None:
    ask, said = getattr(sg.tables, name), r"2 players \(Ada, Bo\) and this table is about one"
    with sg.open_store() as store:
        for seed, player in enumerate(("Ada", "Bo")):
            card = sg.simulate_season(rounds=1, seed=seed).card
            store.load(card.assign(player=player))
        with pytest.raises(sg.CallError, match=said):
            ask(store, *SEASONS[name])
        if name != "wear_steps":  # there is no bag
            ask(store, *SEASONS[name], player="Bo")
