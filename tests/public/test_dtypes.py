"""The types of what comes back: the same for any data, and for none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd
import pytest

import sgzone as sg
from sgzone.public.dtypes import VERDICTS, WORDS, out, plain
from sgzone.season.store import Store, open_store
from sgzone.stats import verdict
from sgzone.terms import NOT_ENOUGH
from tests.demo_season import demo_file

ASKED: dict[str, Callable[[Any], pd.DataFrame]] = {
    "strokes_gained": sg.strokes_gained,
    "check_totals": sg.check_totals,
    "summarise": lambda season: sg.summarise(season, by=["part", "total"]),
    "summarise by band": lambda season: sg.summarise(season, by=["lie", "band", "hole"]),
    "counts": sg.counts,
    "plays_like": sg.plays_like,
    "why": sg.why,
    "compare": lambda season: sg.compare(season, "swing"),
    "trend": sg.trend,
    "field_strength": sg.field_strength,
    "clubs": sg.clubs,
    "plan_number": lambda season: sg.plan_number(season, 97),
    "practice_plan": lambda season: sg.practice_plan(season, 5, target=75).table,
    "alternatives": lambda season: sg.practice_plan(season, 5).alternatives,
    "outcomes": sg.outcomes,
    "agreements": sg.agreements,
}
TABLES: dict[str, Callable[[Any], pd.DataFrame]] = {
    "grid": sg.tables.grid,
    "season_halves": sg.tables.season_halves,
    "before_after": lambda season: sg.tables.before_after(season, "2026-07-15"),
    "beside": lambda season: sg.tables.beside(season, "scratch"),
    "proximity_points": sg.tables.proximity_points,
    "proximity_medians": lambda s: sg.tables.proximity_medians(sg.tables.proximity_points(s)),
    "break_even": lambda s: sg.tables.break_even(sg.tables.proximity_points(s)),
    "miss_points": lambda season: sg.tables.miss_points(season, "hole"),
    "miss_contours": lambda s: sg.tables.miss_contours(sg.tables.miss_points(s, "hole")),
    "putting_curves": sg.tables.putting_curves,
    "putting_points": sg.tables.putting_points,
    "number_sheet": lambda season: sg.tables.number_sheet(season, [60, 80.5]),
    "finish_shares": lambda s: sg.tables.finish_shares(s, "swing", ["full", "half"]),
    "block_days": sg.tables.block_days,
    "needed": lambda season: sg.tables.needed(sg.outcomes(season)),
    "curves": lambda s: sg.tables.curves(sg.fit_benchmark("own", "tour", sg.outcomes(s))),
    "plan's detail": lambda season: sg.practice_plan(season, 5).detail,
    "plan's curves": lambda season: sg.practice_plan(season, 5).curves,
}
NEED_ROWS = ("agreed_months", "wear_steps")  # without rows there is nothing that they are asked of
ORDERED = {"part", "band", "lie", "end_lie", "verdict"}
NO_ROWS = pd.DataFrame(
    {name: [] for name in ("player", "date", "hole", "shot", "lie", "distance", "result")}
)
ONE_ROUND = pd.DataFrame(
    {
        "player": "Ada",
        "date": "2026-05-14",
        "hole": [1, 1, 2],
        "shot": [2, 3, 3],
        "lie": ["fairway", "green", "green"],
        "distance": [112, 18, 5],
        "result": [None, "holed", "holed"],
    }
)


@pytest.fixture(scope="module")
def demo() -> Any:
    with open_store(demo_file(), read_only=True) as store:
        yield store


def test_every_table_is_asked() -> None:
    of_plans = {name for name in TABLES if name.startswith("plan")}
    assert {*TABLES, *NEED_ROWS} - of_plans == set(sg.tables.__all__)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_has_the_same_types_with_rows_and_without(name: str, demo: Store) -> None:
    some, none = TABLES[name](demo), TABLES[name](NO_ROWS)
    assert len(some)
    assert some.dtypes.to_dict() == none.dtypes.to_dict()
    assert not [
        column for column, kind in some.dtypes.items() if pd.api.types.is_object_dtype(kind)
    ]


def test_what_a_debrief_holds_has_the_same_types_of_one_round_and_of_many(demo: Store) -> None:
    card = sg.read_card(ONE_ROUND)
    of_one, of_many = sg.debrief(card), sg.debrief(demo)
    assert of_one.compared == 0 < of_many.compared
    for name in ("total", "parts", "counts", "best", "worst", "holes", "strokes"):
        kinds = getattr(of_one, name).dtypes.to_dict()
        assert kinds == getattr(of_many, name).dtypes.to_dict(), name
        assert not [k for k in kinds.values() if pd.api.types.is_object_dtype(k)], name
    assert of_many.counts["value"].dtype == of_many.parts["better"].dtype == "Int64"


@pytest.mark.repeats
@pytest.mark.parametrize("name", ASKED)
def test_an_answer_has_the_same_types_with_rows_and_without(name: str, demo: Store) -> None:
    some, none = ASKED[name](demo), ASKED[name](NO_ROWS)
    assert len(some) or name == "agreements"
    assert some.dtypes.to_dict() == none.dtypes.to_dict()
    for column, kind in some.dtypes.items():
        if column in ORDERED:
            assert isinstance(kind, pd.CategoricalDtype), column
            assert kind.ordered
            # no word outside the vocabulary was met
            words = VERDICTS.values() if column == "verdict" else [WORDS[str(column)]]
            assert tuple(kind.categories) in words, column
        else:
            assert not pd.api.types.is_object_dtype(kind), column
    for column in some.columns.intersection(["date"]):
        assert some[column].dtype == "datetime64[us]"
    for column in some.columns.intersection(["shots", "rounds", "hole", "shot", "n", "penalty"]):
        assert some[column].dtype == "Int64"


def test_a_sum_of_verdicts_can_be_asked_by_their_order() -> None:
    said = [verdict.CLEAR_GAIN, NOT_ENOUGH, verdict.PROBABLE_LOSS, verdict.CLEAR_LOSS]
    table = out(pd.DataFrame({"verdict": said}), "summary")
    assert (table["verdict"] < NOT_ENOUGH).tolist() == [False, False, True, True]
    assert table["verdict"].sort_values().tolist() == [*said[:1:-1], *said[1::-1]]


def test_a_word_that_no_vocabulary_has_is_kept() -> None:
    table = out(pd.DataFrame({"part": ["putt_0_10", "moon", None]}), "summary")
    assert table["part"].tolist()[:2] == ["putt_0_10", "moon"]
    assert table["part"].isna().tolist() == [False, False, True]


def test_numbers_are_those_of_before(demo: Store) -> None:
    frame = pd.DataFrame({"shots": [1, 2], "low": [0.1, np.nan], "note": ["a", None], "n": [1, 2]})
    table = out(frame, "summary")
    assert table["shots"].tolist() == [1, 2]
    assert table["low"].iloc[0] == 0.1
    assert np.isnan(table["low"].iloc[1])


def test_plain_takes_the_types_away() -> None:
    frame = pd.DataFrame({"part": ["putt_0_10"], "shots": [3], "tied": [True], "low": [0.5]})
    typed = out(frame, "practice")
    assert isinstance(typed["part"].dtype, pd.CategoricalDtype)
    pd.testing.assert_frame_equal(plain(typed), frame)
    assert plain(frame) is frame


def test_the_strokes_carry_what_the_card_says_of_them(demo: Store) -> None:
    strokes = sg.strokes_gained(demo)
    assert strokes.columns[-7:].tolist() == [
        *("club", "swing", "course", "event", "note", "depth_ft", "side_ft")
    ]
    assert strokes["club"].notna().sum() > 500
    assert (strokes["side_ft"] < 0).any()
