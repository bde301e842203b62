"""A frame valued where it is: its own rows, order and index; the values are the list's."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import sgzone as sg
from sgzone.errors import CallError, DataError
from sgzone.public.score import VALUE_COLUMNS
from sgzone.resources import data_path
from tests.demo_season import demo_file

CARD = pd.DataFrame(
    {
        **{"player": "Ada", "date": "2026-05-14", "hole": [1, 1, 1, 2, 2], "shot": [1, 2, 3, 1, 2]},
        "lie": ["tee", "fairway", "green", "green", "green"],
        "distance": [400, 112, 18, 4, 1],
        "result": [None, None, "holed", None, "conceded"],
    },
    index=pd.Index(["e", "d", "c", "b", "a"], name="row"),
)
KEY = ["player", "date", "round", "hole", "shot"]


def test_the_values_are_worked_by_hand() -> None:
    """The tour needs 2.83 from 112 yd of fairway (between 2.80 at 100 and 2.85 at 120), 1.84
    from 18 ft and 1.13 from 4 ft: docs/benchmarks.md."""
    tour = sg.benchmark("tour")
    start, putt, short, tap = (
        float(tour.expected(lie, feet))
        for lie, feet in (("fairway", 336), ("green", 18), ("green", 4), ("green", 1))
    )
    assert (round(start, 2), round(putt, 2), round(short, 2)) == (2.83, 1.84, 1.13)
    got = sg.score(CARD, "tour")
    assert got["gained"].round(9).tolist()[1:4] == [
        *(round(start - putt - 1, 9), round(putt - 1, 9), round(short - tap - 1, 9))
    ]
    assert np.isnan(got["gained"].iloc[0])
    assert got["status"].tolist() == ["outside", "scored", "scored", "scored", "no_stroke"]
    assert got["part"].astype(object).tolist()[1:4] == [
        *("approach_100_150", "putt_10_30", "putt_0_10")
    ]


def test_rows_order_index_and_columns_stay() -> None:
    mixed = CARD.iloc[[3, 1, 0, 4, 2]]
    got = sg.score(mixed, "tour")
    pd.testing.assert_frame_equal(got[list(CARD)], mixed)
    assert got.columns.tolist() == [*CARD, *VALUE_COLUMNS]
    straight = sg.score(CARD, "tour")
    pd.testing.assert_frame_equal(got.sort_index(), straight.sort_index())


def test_an_index_with_labels_that_stand_twice_does_no_harm() -> None:
    twice = CARD.set_axis([0, 0, 0, 1, 1])
    got = sg.score(twice, "tour")
    assert got.index.tolist() == [0, 0, 0, 1, 1]
    assert got["gained"].tolist()[1:4] == sg.score(CARD, "tour")["gained"].tolist()[1:4]


@pytest.mark.parametrize("library", ["polars", "arrow"])
def test_another_library_gets_its_own_table_back(library: str) -> None:
    table = pa.Table.from_pandas(CARD, preserve_index=False)
    frame: Any = pl.DataFrame(table) if library == "polars" else table
    got = sg.score(frame, "tour")
    assert type(got) is type(frame)
    expected = sg.score(CARD, "tour").reset_index(drop=True)
    seen = got.to_pandas()
    assert seen["gained"].fillna(9).tolist() == expected["gained"].fillna(9).tolist()
    assert seen["status"].tolist() == expected["status"].tolist()
    assert seen["band"].astype(object).fillna("").tolist() == (
        expected["band"].astype(object).fillna("").tolist()
    )


def test_the_demo_season_is_valued_as_through_the_season_file() -> None:
    card = pd.read_csv(data_path("demo/season.csv"))
    got = sg.score(card, "amateur-80")
    got["date"] = pd.to_datetime(got["date"])
    listed = sg.strokes_gained(demo_file(), "amateur-80")
    both = listed.merge(got, on=KEY, suffixes=("", "_row"))
    assert len(both) == len(listed)
    for name in ("gained", "expected_before", "expected_after"):
        assert np.array_equal(both[name], both[f"{name}_row"], equal_nan=True), name
    assert (both["status"] == both["status_row"]).all()
    assert got["gained"].notna().sum() == listed["gained"].notna().sum()


def test_the_nearest_standard_is_named() -> None:
    card = sg.simulate_season(rounds=20).card
    got = sg.score(card, "auto")
    assert set(got["benchmark"].dropna()) == {"tour"}
    assert sg.score(CARD[:0])[["gained", "status"]].shape == (0, 2)


def test_a_column_that_is_there_already_is_not_written_over() -> None:
    with pytest.raises(CallError, match=r"has gained, status already.*drop\(columns="):
        sg.score(CARD.assign(gained=1, status="x"))


def test_a_wrong_row_is_named_and_nothing_valued() -> None:
    with pytest.raises(DataError, match="row 1, lie: not a known lie"):
        sg.score(CARD.assign(lie=["tee", "moon", "green", "green", "green"]))


def test_who_played_can_be_said_beside() -> None:
    bare = CARD.drop(columns="player")
    assert sg.score(bare, player="Ada")["gained"].notna().sum() == 3
