"""The step of putts that tells most: by hand, only where it is shown, and what it says."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy.stats import binom

from sgzone.review.why.holed import EDGES_FT, HOLED_COLUMNS, telling_putts
from sgzone.review.why.putting import holed_share
from sgzone.terms import MIN_ROUNDS, MIN_SHOTS, PARTS
from sgzone.words.say import Say
from sgzone.words.why import holed_lines


def putts(*groups: tuple[float, int, int], rounds: int = 10) -> pd.DataFrame:
    """Return putts of a distance in feet, so many holed of so many, dealt over the rounds."""
    rows = [
        (feet, "holed" if k < made else "green") for feet, made, of in groups for k in range(of)
    ]
    frame = pd.DataFrame(rows, columns=["distance_ft", "end_lie"])
    return frame.assign(lie="green", round_key=np.arange(len(frame)) % rounds)


def test_the_step_that_costs_most_is_told() -> None:
    """Tour: 88% from 4 ft, 77% from 5, 50% from 8; of 40 putts each 33, 16 and 5 are holed."""
    frame = putts((4, 20, 20), (5, 4, 20), (8, 5, 40))
    (row,) = telling_putts(frame, "tour").itertuples()
    assert (row.part, row.near_ft, row.far_ft, row.putts) == ("putt_0_10", 8, 10, 40)
    assert row.holed_share == pytest.approx(5 / 40)
    assert row.benchmark_share == pytest.approx(0.50)
    assert row.putts_lost == pytest.approx(20 - 5)
    assert row.low < 5 / 40 < row.high < 0.50
    (near,) = telling_putts(frame[frame["distance_ft"] < 8], "tour").itertuples()
    assert (near.near_ft, near.far_ft) == (4, 6)
    assert near.benchmark_share == pytest.approx((0.88 + 0.77) / 2)
    assert near.holed_share == pytest.approx(24 / 40)


def test_parts_follow_what_they_cost() -> None:
    frame = putts((8, 5, 40), (10, 0, 60), (20, 0, 40))
    table = telling_putts(frame, "tour")
    assert table["part"].tolist() == ["putt_10_30", "putt_0_10"]
    assert list(table.columns) == HOLED_COLUMNS
    assert table["putts_lost"].tolist() == pytest.approx([60 * 0.4, 15])


def test_too_few_putts_or_rounds_and_a_standard_without_a_table_say_nothing() -> None:
    assert len(telling_putts(putts((8, 0, MIN_SHOTS), rounds=MIN_ROUNDS), "tour")) == 1
    assert telling_putts(putts((8, 0, MIN_SHOTS - 1)), "tour").empty
    assert telling_putts(putts((8, 0, 40), rounds=MIN_ROUNDS - 1), "tour").empty
    assert telling_putts(putts((8, 0, 40)), "amateur-80").empty
    assert telling_putts(putts((8, 20, 40)), "tour").empty  # just as the standard
    assert telling_putts(putts((8, 40, 40)), "tour").empty  # a gain
    assert telling_putts(putts(), "tour").empty


def test_a_putt_without_an_end_is_not_counted() -> None:
    frame = putts((8, 5, 40))
    given = frame.assign(end_lie=None)
    (row,) = telling_putts(pd.concat([frame, given], ignore_index=True), "tour").itertuples()
    assert row.putts == 40


@pytest.mark.long
def test_a_player_of_the_standard_is_seldom_told_a_loss() -> None:
    """Each part is wrong in at most one of ten seasons at 80%, however many steps it has."""
    feet = np.repeat([3.0, 5.0, 7.0, 9.0, 12.0, 17.0, 25.0], 40)
    share = holed_share("tour", feet)[0]
    told = dict.fromkeys(EDGES_FT, 0)
    seasons = 400
    for season in range(seasons):
        made = np.random.default_rng(season).random(len(feet)) < share
        frame = pd.DataFrame({"distance_ft": feet, "end_lie": np.where(made, "holed", "green")})
        frame = frame.assign(lie="green", round_key=np.arange(len(frame)) % 20)
        for part in telling_putts(frame, "tour", 0.80)["part"]:
            told[part] += 1
    most = binom.ppf(0.999, seasons, 0.10)
    assert all(0 < count <= most for count in told.values()), told


def test_every_step_is_of_its_part() -> None:
    edges = {part.name: (part.low_ft, part.high_ft) for part in PARTS}
    for part, steps in EDGES_FT.items():
        assert edges[part][0] <= steps[0]
        assert steps[-1] <= edges[part][1]


def test_it_is_said_with_its_number_of_putts_and_what_it_rests_on() -> None:
    table = telling_putts(putts((4, 20, 20), (5, 4, 20)), "tour")
    assert holed_lines(table, Say()) == (
        "From 4 to 6 ft you hole 60% of 40 putts; this standard holes 82%.",
    )
    assert holed_lines(table, Say("metric")) == (
        "From 1.2 to 1.8 m you hole 60% of 40 putts; this standard holes 82%.",
    )
    memory = telling_putts(putts((7, 0, 40)), "tour")
    assert memory["status"].tolist() == ["memory"]
    assert holed_lines(memory, Say())[0].endswith("holes 58% (quoted from memory).")
    assert holed_lines(table[:0], Say()) == ()
