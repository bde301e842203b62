"""What a question is asked of, and which rounds: checked before anything is asked."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import sgzone as sg
from sgzone.errors import CallError, DataError
from sgzone.public.seasons import a_day, chosen, season_of
from sgzone.season.selection import Selection
from tests.demo_season import demo_file

CARD = {
    **{"date": ["2026-05-14"] * 3, "hole": [1, 1, 2], "shot": [1, 2, 1]},
    **{"lie": ["fairway", "green", "green"], "distance": [112, 18, 4]},
    **{"result": [None, "holed", "holed"], "event": ["competition"] * 3},
}
OF_ADA = pd.DataFrame({"player": "Ada", **CARD})


@pytest.mark.long
def test_a_frame_that_does_not_say_who_takes_the_player_that_is_asked_about() -> None:
    bare = pd.DataFrame(CARD)
    assert sg.strokes_gained(bare, player="Bo")["player"].unique().tolist() == ["Bo"]
    with pytest.raises(DataError, match=r"first: player: a shot card needs this column"):
        sg.strokes_gained(bare)
    with pytest.raises(CallError, match=r'No player "Bo" in the season file \(there: Ada\)'):
        sg.strokes_gained(OF_ADA, player="Bo")


def test_several_tables_make_one_season() -> None:
    log = pd.DataFrame(
        {"player": "Ada", "date": ["2026-05-13"], "minutes": [60], "part": ["putt_0_10"]}
    )
    with season_of([OF_ADA, pl.from_pandas(log)]) as store:
        assert len(store.frame("SELECT * FROM practice_log")) == 1
        assert store.players() == ["Ada"]


def test_no_rows_are_no_fault_and_another_header_is() -> None:
    with season_of(OF_ADA[:0]) as store:
        assert store.players() == []
    assert len(sg.summarise(OF_ADA[:0])) == 0
    with pytest.raises(DataError, match="none of a known table"):
        sg.summarise(pd.DataFrame({"a": [], "b": []}))
    with pytest.raises(DataError, match="needs this column"):
        sg.summarise(OF_ADA[:0].drop(columns="distance"))


def test_a_file_is_opened_by_its_name_and_never_made(tmp_path: Path) -> None:
    by_name = sg.summarise(demo_file())
    with sg.open_store(demo_file(), read_only=True) as store:
        pd.testing.assert_frame_equal(by_name, sg.summarise(store))
    missing = tmp_path / "nowhere.duckdb"
    for ask in (sg.summarise, sg.why, lambda path: sg.open_store(path, read_only=True)):
        with pytest.raises(DataError, match="nowhere"):
            ask(missing)
    assert not list(tmp_path.iterdir())


def test_a_store_that_was_given_stays_open() -> None:
    with sg.open_store(demo_file(), read_only=True) as store:
        with season_of(store) as same:
            assert same is store
        assert store.players()


def test_a_card_in_the_place_of_a_season_file_is_told(tmp_path: Path) -> None:
    for name in ("card.csv", "card.XLSX", "card.parquet"):
        card = tmp_path / name
        card.touch()
        with pytest.raises(DataError, match=r'is a card, not a season file. Give sg.read_card\("'):
            sg.summarise(card)


def test_a_closed_season_file_says_so() -> None:
    with sg.open_store() as store:
        store.load(OF_ADA)
    for ask in (sg.summarise, sg.debrief, sg.tables.grid, lambda closed: closed.players()):
        with pytest.raises(CallError, match="is closed; open it again with open_store"):
            ask(store)
    assert repr(store) == "<Store in memory: closed>"


def test_batches_that_come_once_are_a_season() -> None:
    table = pa.Table.from_pandas(OF_ADA)
    assert len(sg.strokes_gained(table.to_reader())) == 3
    scored = sg.score(table.to_reader())
    assert scored.column("gained").null_count == 0


@pytest.mark.parametrize("given", [7, None, object(), {"lie": [1]}])
def test_what_is_no_season_is_said(given: Any) -> None:
    with pytest.raises(CallError, match="is no table; give a pandas or polars frame"):
        sg.summarise(given)


@pytest.mark.parametrize(
    ("given", "day"),
    [
        (None, None),
        ("2026-05-14", date(2026, 5, 14)),
        (date(2026, 5, 14), date(2026, 5, 14)),
        (pd.Timestamp(2026, 5, 14, 9), date(2026, 5, 14)),
        (datetime(2026, 5, 14, 9), date(2026, 5, 14)),
        (np.datetime64("2026-05-14"), date(2026, 5, 14)),
    ],
)
def test_a_day_is_taken_as_it_is_written(given: Any, day: date | None) -> None:
    assert a_day("since", given) == day
    assert type(a_day("since", given)) is type(day)


@pytest.mark.repeats
@pytest.mark.parametrize(
    "given", ["14/5/2026", "May", 20260514, 1.5, pd.NaT, np.datetime64("NaT", "D")]
)
def test_what_is_no_day_is_said(given: Any) -> None:
    with pytest.raises(CallError, match=r'since=.* is no day; write it as "2026-05-14"'):
        sg.summarise(OF_ADA, since=given)


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"player": "Ada", "selection": Selection(player="Ada")}, "player is given twice"),
        ({"since": "2026-05-14", "selection": Selection(since=date(2026, 5, 1))}, "given twice"),
        ({"since": "2026-05-14", "until": "2026-05-01"}, "swap the two"),
        ({"since": "2026-05-14", "selection": Selection(until=date(2026, 5, 1))}, "swap the two"),
        ({"player": "Adda"}, r"No player .*Did you mean Ada"),
        ({"selection": Selection(player="Bo")}, "No player"),
        ({"selection": "Ada"}, "no Selection; write player="),
        ({"player": 7}, 'player=7 is no text; write one, such as "7"'),
        ({"player": ["Ada"]}, 'is no text; write one, such as "Ned Farrow"'),
        ({"event": 3.5}, 'is no text; write one, such as "competition"'),
        ({"by": 7}, "by=7 names no column; write one as a text, such as club"),
        ({"by": None}, "by=None names no column"),
        ({"benchmark": 80}, 'no benchmark; give a name, such as "tour"'),
        ({"benchmark": None}, "None is no benchmark"),
        ({"benchmark": ["tour"]}, "a list is no benchmark"),
        ({"benchmark": OF_ADA}, "a DataFrame is no benchmark"),
        ({"benchmark": np.array(["auto"])}, "a ndarray is no benchmark"),
        ({"level": "0.8"}, "level='0.8': the level must be"),
        ({"event": "competiton"}, "Did you mean competition"),
        ({"benchmark": "amateur80"}, "amateur-80"),
        ({"by": "prat"}, "Did you mean part"),
        ({"level": 80}, "the level must be"),
        ({"level": 0}, "the level must be"),
    ],
)
def test_a_call_that_is_wrong_says_what_to_write(given: dict[str, Any], said: str) -> None:
    with pytest.raises(CallError, match=said):
        sg.summarise(OF_ADA, **given)


def test_rounds_are_chosen_by_words_or_by_a_selection() -> None:
    with sg.open_store(demo_file(), read_only=True) as store:
        player = store.players()[0]
        by_words = chosen(store, player=player, since="2026-06-01", event="competition")
        assert by_words == Selection(player, date(2026, 6, 1), None, "competition")
        pd.testing.assert_frame_equal(
            sg.counts(store, since="2026-06-01", until="2026-07-01"),
            sg.counts(store, Selection(since=date(2026, 6, 1), until=date(2026, 7, 1))),
        )


def test_an_event_of_no_round_finds_none() -> None:
    assert len(sg.strokes_gained(OF_ADA, event="match day")) == 0


@pytest.mark.long
def test_each_player_stands_in_one_frame_where_the_question_is_about_one() -> None:
    season = sg.simulate_season(rounds=3)
    both = pd.concat([season.card.assign(player=name) for name in ("Bo", "Ada")])
    both.loc[both["player"] == "Bo", "distance"] *= 0.9
    for ask in (sg.why, sg.plays_like, sg.clubs):
        table = ask(both)
        assert table.columns[0] == "player"
        assert table["player"].unique().tolist() == ["Ada", "Bo"]
        own = ask(both, player="Bo")
        assert "player" not in own
        of_bo = table[table["player"] == "Bo"].drop(columns="player").reset_index(drop=True)
        pd.testing.assert_frame_equal(of_bo, own)
    with pytest.raises(CallError, match=r'2 players \(Ada, Bo\).*player="Ada"'):
        sg.practice_plan(both, 5)
