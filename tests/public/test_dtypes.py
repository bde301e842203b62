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
ORDERED = {"part", "band", "lie", "end_lie", "verdict"}
NO_ROWS = pd.DataFrame(
    {name: [] for name in ("player", "date", "hole", "shot", "lie", "distance", "result")}
)


@pytest.fixture(scope="module")
def demo() -> Any:
    with open_store(demo_file(), read_only=True) as store:
        yield store


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
