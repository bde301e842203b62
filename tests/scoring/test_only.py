"""Strokes of one lie, club or part: by hand, and against the answers of everything."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from sgzone.errors import CallError
from sgzone.review.where.counts import counts
from sgzone.review.where.summary import summarise
from sgzone.scoring.gained import scored, strokes_gained
from sgzone.scoring.only import ALL_STROKES, Only
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from tests.demo_season import demo_file

SOME = Selection(since=date(2026, 6, 1), event="competition")


def test_rows_that_count_are_kept_and_numbered_afresh() -> None:
    rows = pd.DataFrame({"lie": ["rough", "sand", "rough"], "club": ["54", None, None]})
    assert Only(lie="rough").of(rows)["club"].isna().tolist() == [False, True]
    assert Only(lie="rough", club="54").of(rows).index.tolist() == [0]
    assert Only(club="54").columns == ("club",)
    assert ALL_STROKES.of(rows) is rows
    assert Only(part="wedge 50-100 yd").part == "wedge_50_100"


@pytest.mark.parametrize(
    ("lie", "part", "says"), [("ruff", None, "rough"), (None, "putt", "Choose")]
)
def test_an_unknown_word_is_refused(lie: str | None, part: str | None, says: str) -> None:
    with pytest.raises(CallError, match=says):
        Only(lie=lie, part=part)


def test_a_summary_of_some_strokes_is_their_sum_over_all_rounds() -> None:
    only = Only(lie="rough", club="54")
    with open_store(demo_file(), read_only=True) as store:
        every = scored(store, "tour", SOME)
        table = summarise(store, "tour", SOME, ("part", "total"), only=only)
        rounds = store.rounds(SOME)
        listed = strokes_gained(store, "tour", SOME, only=only)
    own = every[(every["lie"] == "rough") & (every["club"] == "54") & every["gained"].notna()]
    own = own[own["part"] != "outside"]
    total = table[table["part"] == "total"].iloc[0]
    assert 10 < len(own) == total["shots"]
    assert total["rounds"] == own["round_key"].nunique()
    weight = rounds["holes"].sum() / 18
    assert total["gained_per_round"] == pytest.approx(own["gained"].sum() / weight, abs=1e-12)
    assert total["gained_per_shot"] == pytest.approx(own["gained"].mean(), abs=1e-12)
    for part, rows in own.groupby("part"):
        [row] = table[table["part"] == part].to_dict("records")
        assert row["gained_per_round"] == pytest.approx(rows["gained"].sum() / weight, abs=1e-12)
    assert listed["gained"].sum() == pytest.approx(own["gained"].sum(), abs=1e-9)


@pytest.mark.long
def test_counts_of_some_strokes_leave_out_whole_holes() -> None:
    with open_store(demo_file(), read_only=True) as store:
        table = counts(store, only=Only(lie="sand"))
        every = counts(store)
    assert set(table["measure"]) == {
        *("up-and-downs", "sand saves", "greens hit", "median proximity")
    }
    saves = [t[t["measure"] == "sand saves"].iloc[0] for t in (table, every)]
    assert saves[0]["n"] == saves[1]["n"]
    assert saves[0]["value"] == saves[1]["value"]
    downs = [t[t["measure"] == "up-and-downs"].iloc[0]["n"] for t in (table, every)]
    assert 0 < downs[0] < downs[1]


def test_a_club_that_nobody_has_is_no_stroke() -> None:
    with open_store(demo_file(), read_only=True) as store:
        assert summarise(store, only=Only(club="99")).empty
        assert strokes_gained(store, only=Only(club="99")).empty
