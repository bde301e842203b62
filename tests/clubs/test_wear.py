"""Wear of several players' clubs: each club has its own shots, whoever calls theirs the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from io import StringIO
from pathlib import Path

import pandas as pd
import pytest

from sgzone.clubs.wear import changes, wear, wear_points, wear_steps
from sgzone.resources import data_path
from sgzone.season.selection import EVERYTHING, Selection
from sgzone.season.store import Store, open_store

HERS, HIS = "Player A", "Player B"


@pytest.fixture(scope="module")
def pair(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """Two players with the same clubs from the same days; each played on half of the days."""
    folder = tmp_path_factory.mktemp("pair")
    with open_store() as made:
        for name in ("season", "bag"):
            table = pd.read_csv(data_path(f"demo/{name}.csv"), dtype=str, keep_default_na=False)
            for half, player in enumerate((HERS, HIS)):
                own = (
                    table[pd.factorize(table["date"])[0] % 2 == half] if name == "season" else table
                )
                made.load(_written(own.assign(player=player), folder / f"{name}-{player}.csv"))
        yield made


def _written(table: pd.DataFrame, path: Path) -> Path:
    text = StringIO()
    table.to_csv(text, index=False)
    path.write_text(text.getvalue(), encoding="utf-8")
    return path


def test_no_stroke_counts_for_another_players_club(pair: Store) -> None:
    both = wear_points(pair)
    alone = [wear_points(pair, selection=Selection(player=name)) for name in (HERS, HIS)]
    assert min(len(points) for points in alone) > 100
    assert len(both) == sum(len(points) for points in alone)
    for points in alone:
        name = points["player"].iloc[0]
        own = both[both["player"] == name].reset_index(drop=True)
        pd.testing.assert_frame_equal(own, points.reset_index(drop=True))


def _steps(store: Store, selection: Selection = EVERYTHING) -> pd.DataFrame:
    return wear_steps(wear_points(store, selection=selection))


@pytest.mark.parametrize(
    ("table", "keys"),
    [
        (wear, ["club", "in_play_from", "measure", "shots"]),
        (_steps, ["club", "in_play_from", "since_new", "shots"]),
        (changes, ["club", "shots_first", "shots_second"]),
    ],
    ids=["wear", "steps", "changes"],
)
def test_a_table_of_two_holds_the_rows_of_each(
    table: Callable[..., pd.DataFrame], keys: list[str], pair: Store
) -> None:
    each = [table(pair, selection=Selection(player=name)) for name in (HERS, HIS)]
    assert all(len(one) for one in each)
    expected = pd.concat(each).sort_values(keys, ignore_index=True)
    got = table(pair).sort_values(keys, ignore_index=True)
    pd.testing.assert_frame_equal(got, expected, check_dtype=False)
