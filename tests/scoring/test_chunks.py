"""Sums made chunk by chunk: the same frame whatever the size of a chunk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sgzone.scoring import chunks, gained, round_sums, scored
from sgzone.scoring.chunks import spans
from sgzone.scoring.places import WORDS
from sgzone.season.selection import Selection
from sgzone.season.store import Store
from sgzone.terms import OUTSIDE
from tests.scoring.parquetfiles import full_store

BY = [[], ["part"], ["band", "club", "wind"], ["par", "hole", "lie"], ["month", "face", "event"]]
OF_LIES = ("green", "rough", "sand")


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with full_store(tmp_path_factory.mktemp("chunks")) as opened:
        yield opened


@pytest.mark.repeats
@pytest.mark.parametrize("by", BY, ids=str)
@pytest.mark.parametrize(
    "most", [1, *(pytest.param(n, marks=pytest.mark.long) for n in (137, 1500))]
)
def test_any_size_of_block_gives_the_same_frame(
    store: Store, monkeypatch: pytest.MonkeyPatch, by: list[str], most: int
) -> None:
    whole = round_sums(store, by=by, of_lies=OF_LIES)
    monkeypatch.setattr(gained, "STROKES_AT_A_TIME", most)
    rounds = store.frame("SELECT round_key, strokes FROM rounds")
    keys, strokes = (rounds[name].to_numpy() for name in rounds)
    assert len(spans(keys, strokes, most)) > 1
    again = round_sums(store, by=by, of_lies=OF_LIES)
    pd.testing.assert_frame_equal(again, whole, check_exact=True)


@pytest.mark.parametrize("by", BY, ids=str)
def test_more_groups_than_an_integer_counts_come_in_the_same_order(
    store: Store, monkeypatch: pytest.MonkeyPatch, by: list[str]
) -> None:
    whole = round_sums(store, by=by)
    assert whole.sort_values([*by, "round_key"], ignore_index=True).equals(whole)
    monkeypatch.setattr(chunks, "_LARGEST", 1)
    pd.testing.assert_frame_equal(round_sums(store, by=by), whole, check_exact=True)


@pytest.mark.parametrize("by", BY, ids=str)
def test_categories_hold_the_words_and_sizes_the_rounds(store: Store, by: list[str]) -> None:
    sums, sizes = gained.sums_and_sizes(store, by=by, of_lies=OF_LIES)
    narrow = {*by, "player"} & {*WORDS, "player"}
    assert {name for name in sums if sums[name].dtype == "category"} == narrow
    whole = round_sums(store, by=by, of_lies=OF_LIES)
    again = sums.astype(dict.fromkeys(narrow, "str"))
    pd.testing.assert_frame_equal(again, whole, check_exact=True, check_dtype=False)
    wanted = gained.round_sizes(store)[["player", "round_key", "holes"]]
    pd.testing.assert_frame_equal(sizes.astype({"player": "str"}), wanted)


@pytest.mark.repeats
@pytest.mark.parametrize(("most", "wanted"), [(10**6, 0), (600, 2), (250, 3)])
def test_of_many_blocks_what_was_read_is_given_back_now_and_then_and_at_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, most: int, wanted: int
) -> None:
    monkeypatch.setattr(gained, "STROKES_AT_A_TIME", most)
    with full_store(tmp_path, tmp_path / "season.duckdb") as store:
        whole = round_sums(store, by=["part"])
        given_back: list[Store] = []
        monkeypatch.setattr(store, "release", lambda: given_back.append(store))
        again = round_sums(store, by=["part"])
        rounds = store.frame("SELECT round_key, strokes FROM rounds")
    found = len(spans(*(rounds[name].to_numpy() for name in rounds), most))
    assert len(given_back) == (-(-found // gained.CHUNKS_KEPT) if found > 1 else 0) == wanted
    pd.testing.assert_frame_equal(again, whole, check_exact=True)


def test_no_round_gives_the_same_columns(store: Store) -> None:
    by = ["part", "club", "hole"]
    none = round_sums(store, selection=Selection(player="Nobody"), by=by, of_lies=OF_LIES)
    assert none.empty
    assert list(none) == list(round_sums(store, by=by, of_lies=OF_LIES))


def test_counts_of_lies_are_of_the_scored_strokes(store: Store) -> None:
    frame = scored(store)
    frame = frame[(frame["part"] != OUTSIDE) & (frame["status"] == "scored")]
    wanted = frame.groupby("lie").size()
    sums = round_sums(store, by=["part"], of_lies=OF_LIES)
    assert sums[list(OF_LIES)].sum().to_dict() == {lie: wanted[lie] for lie in OF_LIES}
    green = sums["part"].str.startswith("putt")
    assert (sums.loc[green, "green"] == sums.loc[green, "n"]).all()
    assert (sums.loc[~green, "green"] == 0).all()


@given(st.lists(st.integers(0, 120), max_size=40), st.integers(1, 300), st.randoms())
def test_each_round_is_in_one_block(strokes: list[int], most: int, chance: object) -> None:
    keys = [3 * number + 5 for number in range(len(strokes))]
    chance.shuffle(keys)  # type: ignore[attr-defined]
    found = spans(np.array(keys, np.int64), np.array(strokes, np.int64), most)
    count = dict(zip(keys, strokes, strict=True))
    held = [[key for key in sorted(keys) if first <= key <= last] for first, last in found]
    assert [key for chunk in held for key in chunk] == sorted(keys)
    for chunk in held:  # full but for the last round's excess
        assert sum(count[key] for key in chunk[:-1]) <= most


def test_a_season_is_one_block(store: Store) -> None:
    rounds = store.frame("SELECT round_key, strokes FROM rounds")
    keys, strokes = (rounds[name].to_numpy() for name in rounds)
    found = spans(keys, strokes, gained.STROKES_AT_A_TIME)
    assert found == [(keys.min(), keys.max())]


def test_the_keys_follow_player_date_and_round(store: Store) -> None:
    """Whatever order the rounds were loaded in: scored, sums and sizes number them alike."""
    sizes = gained.round_sizes(store)
    assert sizes["round_key"].tolist() == list(range(1, len(sizes) + 1))
    ordered = sizes.sort_values(["player", "date", "round"])
    assert ordered["round_key"].is_monotonic_increasing
    days = scored(store)[["player", "date", "round", "round_key"]].drop_duplicates()
    both = days.merge(sizes, on=["player", "date", "round"])
    assert (both["round_key_x"] == both["round_key_y"]).all()
    some = Selection(since=sizes["date"][5].date())
    kept = gained.round_sizes(store, some).merge(sizes, on=["player", "date", "round"])
    assert (kept["round_key_x"] == kept["round_key_y"]).all()
