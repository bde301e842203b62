"""What ``read_card`` gives is a card again: the same strokes, unknown columns as columns."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pandas as pd
import pyarrow as pa
import pytest

import sgzone as sg
from sgzone.cards.memory.canonical import as_a_card
from sgzone.resources import data_path

CARD = {
    **{"player": ["Ada"] * 3, "date": ["2026-05-14"] * 3, "hole": [1, 1, 2], "shot": [1, 2, 1]},
    **{"lie": ["fairway", "green", "tee"], "distance": [112.5, 18, 143]},
    "result": [None, "holed", "picked_up"],
}
STROKES = "SELECT * EXCLUDE (source_row) FROM strokes ORDER BY player, date, round, hole, shot"


def test_what_is_read_can_be_read_again(tmp_path: Path) -> None:
    card = pd.DataFrame({**CARD, "mood": ["calm", None, "calm"]})
    card.to_csv(tmp_path / "card.csv", index=False)
    read = sg.read_card(tmp_path / "card.csv")
    assert read["extra"].fillna("").tolist() == ['{"mood":"calm"}', "", '{"mood":"calm"}']
    pd.testing.assert_frame_equal(sg.read_card(read), read)


def test_a_season_that_was_read_loads_to_the_same_strokes() -> None:
    path = data_path("demo/season.csv")
    with sg.open_store() as of_file, sg.open_store() as of_frame:
        of_file.load(path)
        of_frame.load(sg.read_card(path))
        pd.testing.assert_frame_equal(of_frame.frame(STROKES), of_file.frame(STROKES))


@pytest.mark.parametrize("name", ["practice_log", "test_blocks", "bag"])
def test_the_other_tables_too(name: str) -> None:
    path = data_path(f"demo/{name}.csv")
    with sg.open_store() as store:
        rows = store.load(sg.read_card(path)).rows
        assert rows > 0
        assert store.load(path).in_place == rows


def test_an_own_column_called_extra_stays_one() -> None:
    card = sg.read_card(pd.DataFrame({**CARD, "extra": ["a", "b", "c"]}))
    assert card["extra"].tolist() == [f'{{"extra":"{text}"}}' for text in "abc"]


@pytest.mark.parametrize(
    ("extra", "names"),
    [
        (['{"a":"1"}', None, '{"b":"2"}'], ["lie", "a", "b"]),
        (["1", None, "[2]"], ["lie", "extra"]),
        (["{", None, None], ["lie", "extra"]),
        ([None, None, None], ["lie"]),
    ],
)
def test_objects_alone_become_columns(extra: list[Any], names: list[str]) -> None:
    table = pa.table({"lie": ["tee"] * 3, "extra": pa.array(extra, pa.string())})
    got = as_a_card(table)
    assert got.column_names == names
    if "a" in names:
        assert got["a"].to_pylist() == ["1", None, None]


def test_feet_say_that_they_are_feet() -> None:
    feet = pa.array(["337.5", None, "18"])
    names = ["distance_ft", "to_distance_ft", "played", "extra"]
    got = as_a_card(pa.table([feet, feet, pa.array(["true"] * 3), pa.nulls(3, pa.string())], names))
    assert got.to_pydict() == {
        "distance": ["337.5 ft", None, "18 ft"],
        "to_distance": ["337.5 ft", None, "18 ft"],
    }
