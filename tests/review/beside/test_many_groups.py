"""More words than a season has: the most played are compared, the rest is counted."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import sgzone as sg
from sgzone.clubs.stock import MOST_SHOWN, most_played
from sgzone.errors import CallError
from sgzone.report.sections import clubs as clubs_chapter
from sgzone.review.beside.grouping import MOST_GROUPS, in_order, left_out
from sgzone.review.beside.groups import compare_table, compared_strokes
from sgzone.season.store import Store, open_store
from tests.hard.calls import call, inside
from tests.report.seasons import ask


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season of 400 clubs, 300 events and 200 courses."""
    folder = tmp_path_factory.mktemp("many")
    card = sg.simulate_season(rounds=30).card
    rng = np.random.default_rng(1)
    clubs = rng.zipf(1.3, size=len(card)) % 400  # a few are played often, as in a bag
    turn = card.groupby(["date", "hole"], sort=False).ngroup()
    card = card.assign(
        player="Wide One",
        club=[f"club {k:03d}" for k in clubs],
        swing=[f"swing {k}" for k in rng.integers(30, size=len(card))],
        event=[f"event {k % 300}" for k in pd.factorize(card["date"])[0] * 10],
        course=[f"course {k % 200}" for k in turn // 18],
    )
    card.to_csv(folder / "card.csv", index=False)
    with open_store(folder / "sgzone.duckdb") as store:
        store.load(folder / "card.csv")
    return folder


@pytest.fixture
def store(home: Path) -> Iterator[Store]:
    with open_store(home / "sgzone.duckdb", read_only=True) as opened:
        yield opened


def _names(*shots: int) -> pd.Series:
    return pd.Series([f"g{k:03d}" for k, n in enumerate(shots) for _ in range(n)], dtype=object)


def test_the_most_played_are_compared_in_their_usual_order() -> None:
    shots = [1 + k % 7 for k in range(MOST_GROUPS + 30)]
    kept = in_order(_names(*shots), None)
    assert len(kept) == MOST_GROUPS
    assert kept == sorted(kept)
    least = min(shots[int(name[1:])] for name in kept)
    assert all(f"g{k:03d}" in kept for k, n in enumerate(shots) if n > least)
    assert left_out(_names(*shots), None) == 30


def test_as_many_as_a_bag_has_are_all_compared() -> None:
    names = _names(*([3] * MOST_GROUPS))
    assert len(in_order(names, None)) == MOST_GROUPS
    assert left_out(names, None) == 0


def test_chosen_groups_are_the_users_own_and_bounded() -> None:
    names = _names(*([2] * (MOST_GROUPS + 5)))
    chosen = [f"g{k:03d}" for k in (46, 3, 3)]
    assert in_order(names, chosen) == ["g046", "g003"]
    assert left_out(names, chosen) == 0
    with pytest.raises(CallError, match=f"compare at most {MOST_GROUPS} at a time"):
        in_order(names, sorted(set(names)))
    with pytest.raises(CallError, match=r"There: g000, .*, g019 and 27 more"):
        in_order(names, ["g999"])


@pytest.mark.long
def test_the_pairs_are_bounded_and_the_words_widened_for_them_alone(store: Store) -> None:
    """Bonferroni counts the pairs that are compared, as if the rest were not in the season."""
    rows = compared_strokes(store, "club")
    assert rows["group"].nunique() > 2 * MOST_GROUPS
    table = compare_table(rows)
    names = in_order(rows["group"], None)
    assert 100 < len(table) <= len(list(combinations(names, 2))) == 861
    alone = compare_table(rows[rows["group"].isin(names)])
    pd.testing.assert_frame_equal(table, alone)


@pytest.mark.long
def test_compare_says_once_what_it_leaves_out(home: Path) -> None:
    with inside(home):
        for words in ((), ("--format", "csv")):
            done = call("compare", "--by", "club", *words)
            assert done.code == 0
            assert done.err.count(" more with fewer shots are left out") == 1
            assert "are left out" not in done.out
        few = call("compare", "--by", "club", "--groups", "club 001,club 002")
        assert "are left out" not in few.err


@pytest.mark.long
def test_a_page_shows_the_swings_with_most_shots(store: Store) -> None:
    review = ask(store)
    assert len(review.ladder) > MOST_SHOWN
    shown = most_played(review.ladder)
    assert len(shown) == MOST_SHOWN
    rest = review.ladder.merge(shown[["club", "swing"]], how="left", indicator=True)
    assert rest.loc[rest["_merge"] == "left_only", "shots"].max() <= shown["shots"].min()
    section = clubs_chapter.section(review)
    tables = [*section.tables, *(figure.table for figure in section.figures)]
    [swings] = [table for table in tables if table.caption.startswith("Stock swings")]
    assert len(swings.rows) == MOST_SHOWN
    assert f"{len(review.ladder) - MOST_SHOWN} more" in section.notes[0]
    few = review.ladder.head(5)
    pd.testing.assert_frame_equal(most_played(few), few)
