"""What is counted in a round, beside the rate of the others."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from sgzone.review.debrief.one_round import debrief
from sgzone.review.where.counts import counts
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from tests.demo_season import demo_file
from tests.review.debrief.hand_rounds import (
    GIVEN_UP,
    GOOD,
    PLAIN,
    SAVED,
    THREE,
    WATER,
    card,
    season,
)

NUMBERS = ["value", "chances", "usual", "compared", "better", "equal", "worse"]


def _of(frame: pd.DataFrame, measure: str) -> list[float]:
    found: list[float] = frame.set_index("measure").loc[measure, NUMBERS].tolist()
    return found


@pytest.mark.long
def test_counts_by_hand(tmp_path: Path) -> None:
    rounds = [
        card([GOOD, PLAIN, THREE], date="2026-05-01"),
        card([WATER, SAVED, GIVEN_UP], date="2026-05-02"),
        card([WATER, THREE, SAVED], date="2026-05-03"),
    ]
    with season(tmp_path, *rounds) as (store, curve):
        found = debrief(store, curve).counts
    # one penalty; none and one in the others: half a penalty each
    assert _of(found, "penalties") == [1, 3, 0.5, 2, 1, 1, 0]
    # one three-putt in 3 holes; one of 3 and none of the 2 played out: 1 in 5
    assert _of(found, "three-putts") == pytest.approx([1, 3, 3 * 1 / 5, 2, 1, 1, 0])
    # 5 putts on 3 holes; 6 on 3 and 2 on 2
    assert _of(found, "putts") == pytest.approx([5, 3, 3 * 8 / 5, 2, 1, 0, 1])
    # the chip took two strokes and the sand shot too: 2 of 2; before 2 of 3, none tried on the 1st
    assert _of(found, "up-and-downs") == pytest.approx([2, 2, 2 * 2 / 3, 1, 0, 0, 1])
    assert _of(found, "sand saves") == pytest.approx([1, 1, 1.0, 1, 0, 1, 0])


def test_what_there_was_no_chance_for_has_no_usual(tmp_path: Path) -> None:
    rounds = [card([SAVED], date="2026-05-01"), card([THREE], date="2026-05-02")]
    with season(tmp_path, *rounds) as (store, curve):
        found = debrief(store, curve).counts
    row = found.set_index("measure").loc["sand saves"]
    assert (row["value"], row["chances"]) == (0, 0)
    assert row[["usual", "better", "equal", "worse"]].isna().all()


def test_all_rounds_of_the_demo_make_the_plain_counts() -> None:
    """One round's count and the others' come to what ``counts`` says of them all."""
    with open_store(demo_file(), read_only=True) as store:
        alike = store.rounds().query("holes == 18")
        found = debrief(store).counts.set_index("measure")
        every = store.frame(
            "SELECT sum(penalty) AS lost FROM strokes JOIN rounds USING (round_key) "
            "WHERE played AND distance_ft <= 450 AND rounds.holes = 18"
        )["lost"].item()
        day = alike["date"].max().date()
        own = counts(store, Selection(since=day, until=day)).set_index("measure")
    rate = found["usual"] / found["chances"]
    assert found.loc["penalties", "value"] + rate["penalties"] * 18 * (len(alike) - 1) == (
        pytest.approx(every)
    )
    for measure in ("up-and-downs", "sand saves"):
        assert found.loc[measure, "chances"] == own.loc[measure, "n"]
        share = found.loc[measure, "value"] / found.loc[measure, "chances"]
        assert share == pytest.approx(own.loc[measure, "value"])
    assert found.loc["putts", "value"] == own.loc["putts per round", "value"]
    assert found.loc["three-putts", "value"] == own.loc["three-putts per round", "value"]
