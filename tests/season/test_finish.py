"""Start and finish in one row: what is stored, valued, counted and written out again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.outcomes import outcomes
from sgzone.review.where.counts import counts
from sgzone.scoring import check_totals, strokes_gained
from sgzone.season.reading import read_card
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import write
from tests.season.finishes import WITH_FINISH, finish_text

CARD = finish_text(
    "1,1,fairway,100,,,green,20",
    "2,1,rough,60,,,sand,12",
    "2,2,sand,12,,,green,6",
    "3,1,fairway,90,,,holed,",
    "4,1,fairway,80",
    "4,2,green,10",
    "5,1,fairway,120,1,,rough,40",
    "6,1,rough,30,,,fringe,4 yd",
    "7,1,rough,20,,,green,8",
    "7,2,green,8,,,green,0",
)
ENDS = (
    "SELECT hole, shot, result, played, end_lie, end_distance_ft AS ft FROM strokes "
    "ORDER BY hole, shot"
)
TOUR = benchmark("tour")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store() as made:
        made.load(write(tmp_path, CARD))
        yield made


def listed(frame: pd.DataFrame) -> list[list[object]]:
    return frame.astype(object).where(frame.notna(), None).to_numpy().tolist()


def test_a_card_of_wedge_shots_alone_is_whole(store: Store) -> None:
    assert listed(store.frame(ENDS)) == [
        [1, 1, None, True, "green", 20.0],
        [2, 1, None, True, "sand", 36.0],
        [2, 2, None, True, "green", 6.0],
        [3, 1, "holed", True, "holed", 0.0],
        [4, 1, None, True, "green", 10.0],
        [4, 2, "holed", True, "holed", 0.0],
        [5, 1, None, True, "rough", 120.0],
        [6, 1, None, True, "fringe", 12.0],
        [7, 1, None, True, "green", 8.0],
        [7, 2, "holed", True, "holed", 0.0],
    ]
    holes = store.frame("SELECT hole, ending, last_lie, last_distance_ft FROM holes ORDER BY hole")
    assert listed(holes) == [
        [1, "open", "green", 20.0],
        [2, "open", "green", 6.0],
        [3, "holed", None, None],
        [4, "holed", None, None],
        [5, "open", "rough", 120.0],
        [6, "open", "fringe", 12.0],
        [7, "holed", None, None],
    ]
    assert listed(store.rounds()[["holes", "strokes"]]) == [[7, 10]]


def test_every_stroke_is_valued_and_every_hole_adds_up(store: Store) -> None:
    gained = strokes_gained(store, TOUR)
    assert set(gained["status"]) == {"scored"}
    first = gained.iloc[0]
    wanted = float(TOUR.expected("fairway", 300.0) - TOUR.expected("green", 20.0) - 1)
    assert first["gained"] == pytest.approx(wanted, abs=1e-9)
    totals = check_totals(store, TOUR)
    assert len(totals) == 7
    assert totals["difference"].abs().max() < 1e-9
    assert totals["unscored"].sum() == 0


def test_an_open_hole_is_no_up_and_down_and_no_putting(store: Store) -> None:
    table = counts(store).set_index("measure")
    # of holes 2, 6 and 7 the last alone tells what came of it
    assert listed(table.loc[["up-and-downs"], ["value", "n", "untold"]]) == [[1.0, 1, 2]]
    assert listed(table.loc[["sand saves"], ["n", "untold"]]) == [[0, 1]]
    assert table.loc["putts per round", "n"] == 3


def test_two_strokes_and_not_in_are_no_up_and_down(store: Store, tmp_path: Path) -> None:
    more = finish_text("1,1,sand,12,,,green,6", "1,2,green,6,,,green,1").replace("-14", "-15")
    store.load(write(tmp_path, more, "more.csv"))
    table = counts(store).set_index("measure")
    assert listed(table.loc[["sand saves"], ["value", "n", "untold"]]) == [[0.0, 1, 1]]


def test_what_an_open_hole_took_ends_with_what_is_expected_from_there(store: Store) -> None:
    rows = outcomes(store, TOUR)
    wedge = rows[(rows["lie"] == "fairway") & (rows["distance_ft"] == 300)].iloc[0]
    assert wedge["strokes"] == pytest.approx(1 + float(TOUR.expected("green", 20.0)))
    assert wedge["holed"] == 0


def test_the_end_survives_a_copy_and_the_strokes_alone(store: Store, tmp_path: Path) -> None:
    before = listed(store.frame(ENDS))
    store.backup(tmp_path / "copy.duckdb")
    with open_store(tmp_path / "copy.duckdb", read_only=True) as copy:
        assert listed(copy.frame(ENDS)) == before
        assert check_totals(copy, TOUR)["difference"].abs().max() < 1e-9
    store.write_strokes(tmp_path / "s.parquet")
    alone = pd.read_parquet(tmp_path / "s.parquet").sort_values(["hole", "shot"])
    assert [row[4:] for row in before] == listed(alone[["end_lie", "end_distance_ft"]])


def test_a_finish_is_a_value(store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, CARD.replace("sand,12,,,green,6", "sand,12,,,green,2 yd"), "same.csv")
    assert store.load(path).rows == 0
    rows = read_card(path)
    assert rows["to_distance_ft"].isna().sum() == 2
    assert rows["to_lie"].iloc[0] == "green"


def test_a_card_without_a_finish_is_as_ever(tmp_path: Path) -> None:
    text = finish_text("1,1,fairway,100,,,,", "1,2,green,20,,,,")
    assert WITH_FINISH in text
    with open_store() as store:
        store.load(write(tmp_path, text))
        assert listed(store.frame("SELECT ending, last_lie FROM holes")) == [["holed", None]]
