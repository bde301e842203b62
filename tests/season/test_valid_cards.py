"""Any valid card loads, and how it is written changes nothing that is stored."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sgzone.season.store import Store, open_store
from tests.season.cardfiles import cells_text, rows_text, write
from tests.strategies import OFF_GREEN, Row, valid_cards

STORED = (
    "SELECT player, date, round, hole, shot, lie, distance_ft, penalty, result, played, end_lie, "
    "end_distance_ft FROM strokes ORDER BY player, date, round, hole, shot"
)
UNITS = ("ft", "yd", "m", "inches")


@pytest.fixture(scope="module")
def store() -> Iterator[Store]:
    with open_store() as store:
        yield store


def stored(store: Store, text: str) -> pd.DataFrame:
    """Load a card alone into the store and return its strokes."""
    for table in ("strokes", "holes", "rounds"):
        store.execute(f"DELETE FROM {table}")
    with tempfile.TemporaryDirectory() as folder:
        store.load(write(Path(folder), text))
    return store.frame(STORED)


@pytest.mark.long
@settings(max_examples=16)
@given(rows=valid_cards())
def test_any_valid_card_loads_as_written(store: Store, rows: list[Row]) -> None:
    strokes = stored(store, rows_text(rows))
    assert strokes["distance_ft"].tolist() == [row.feet for row in rows]
    assert strokes["lie"].tolist() == [row.lie for row in rows]
    assert strokes["penalty"].tolist() == [row.penalty for row in rows]
    played = [row.result not in ("conceded", "picked_up") for row in rows]
    assert strokes["played"].tolist() == played
    places = [
        (after.lie, float(after.feet))
        if (here.date, here.hole) == (after.date, after.hole)
        else end_of(here)
        for here, after in pairwise(rows)
    ]
    ends = strokes[["end_lie", "end_distance_ft"]].astype(object)
    ends = ends.where(ends.notna(), None)
    assert list(map(tuple, ends.to_numpy().tolist())) == [*places, end_of(rows[-1])]
    rounds = store.rounds()
    assert rounds["holes"].sum() == len({(row.date, row.hole) for row in rows})
    assert rounds["strokes"].sum() == sum(played)


def end_of(last: Row) -> tuple[str | None, float | None]:
    """Return the place after a hole's last row: none where no stroke was played from it."""
    return (None, None) if last.result in ("conceded", "picked_up") else ("holed", 0.0)


@pytest.mark.long
@settings(max_examples=14)
@given(rows=valid_cards(max_rounds=2), data=st.data())
def test_the_way_of_writing_changes_nothing(
    store: Store, rows: list[Row], data: st.DataObject
) -> None:
    cells = [row.cells(data.draw(st.sampled_from(UNITS))) for row in rows]
    cells = data.draw(st.permutations(cells))
    order = data.draw(st.permutations(list(cells[0])))
    case = data.draw(st.sampled_from((str.upper, str.title, lambda name: f"  {name} ")))
    rewritten = cells_text(
        {case(name): case(row[name]) if name == "lie" else row[name] for name in order}
        for row in cells
    )
    pd.testing.assert_frame_equal(stored(store, rewritten), stored(store, rows_text(rows)))


@pytest.mark.long
@settings(max_examples=10)
@given(rows=valid_cards(max_rounds=1))
def test_bare_numbers_are_yards_off_the_green_and_feet_on_it(store: Store, rows: list[Row]) -> None:
    def bare(row: Row) -> dict[str, str]:
        if row.lie == "fringe":
            return row.cells()
        number = row.feet if row.lie == "green" else f"{row.feet / 3:.12f}"
        return {**row.cells(), "distance": str(number)}

    bare_text = cells_text(map(bare, rows))
    pd.testing.assert_frame_equal(stored(store, bare_text), stored(store, rows_text(rows)))


def test_a_wrong_reading_of_feet_would_be_seen(store: Store) -> None:
    row = Row("Ada", "2026-05-14", 1, 1, 1, OFF_GREEN[0], 300, 0, "holed")
    wrong = {**row.cells(), "distance": "300 yd"}
    assert not stored(store, cells_text([wrong])).equals(stored(store, rows_text([row])))
