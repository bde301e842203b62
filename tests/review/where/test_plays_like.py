"""The standard a part plays to: by value, its six refusals, and rounds of a known standard."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.tables import score_of, share_of_gap, share_of_score
from sgzone.review.where.plays_like import (
    BETTER,
    BEYOND,
    COLUMNS,
    FEW_ROUNDS,
    LEVELS,
    NEVER,
    OPEN_RANGE,
    TOO_WIDE,
    TOTAL,
    plays_like,
    plays_like_of,
)
from sgzone.season.store import Store, open_store
from sgzone.terms import BENCHMARK_NAMES
from tests.demo_season import demo_file

FEET = 390.0


@pytest.fixture(scope="module")
def demo_store():
    with open_store(demo_file(), read_only=True) as store:
        yield store


def rounds_of(k, rounds=40, strokes=8, luck=0.3, part="approach_100_150", seed=3, lie="fairway"):
    """Strokes from one place to a green distance that a player of standard k needs on average.

    What a stroke leaves is chosen so that it gains nothing against the tour plus k times the gap.
    """
    rng = np.random.default_rng(seed)
    feet = FEET if lie == "fairway" else 8.0
    tour, amateur = (benchmark(name) for name in ("tour", "amateur-90"))

    def needed(where, distance):
        low, high = (curve.expected(where, np.array(distance)) for curve in (tour, amateur))
        return low + k * (high - low)

    n = rounds * strokes
    wanted = needed(lie, [feet])[0] - 1 + luck * rng.normal(size=n)
    grid = np.linspace(0.5, 90, 4000)
    ends = np.interp(wanted, needed("green", grid), grid)
    return pd.DataFrame(
        {
            "part": part,
            "lie": lie,
            "distance_ft": feet,
            "end_lie": "green",
            "end_distance_ft": ends,
            "penalty": 0,
            "round_key": np.repeat(np.arange(rounds), strokes),
        }
    )


def row_of(strokes, part="approach_100_150", level=0.8):
    return plays_like_of(strokes, level).set_index("part").loc[part]


@pytest.mark.parametrize("k", [0.1, 0.5333, 1.0, 1.3])
def test_rounds_of_a_known_standard_are_read_as_it(k):
    row = row_of(rounds_of(k, rounds=200, luck=0.05), level=0.99)
    assert row["k"] == pytest.approx(k, abs=0.05)
    assert row["score_low"] < score_of(k) < row["score_high"]
    assert (row["rounds"], row["shots"], row["status"]) == (200, 1600, "derived")


def test_the_gap_of_the_other_end_would_be_read_wrong():
    """The control: with starts alone in the gap, as if every stroke were holed."""
    strokes = rounds_of(0.5333, rounds=200, luck=0.05)
    holed = strokes.assign(end_lie="holed", end_distance_ft=0.0)
    assert abs(row_of(holed)["k"] - 0.5333) > 1


def test_scores_by_hand():
    assert score_of(0.30) == pytest.approx(75)
    assert score_of(1.0) == pytest.approx(90)
    assert score_of(share_of_score(82.0)) == pytest.approx(82.0)
    for name in BENCHMARK_NAMES[2:]:
        assert score_of(share_of_gap(name)) == pytest.approx(float(name.split("-")[1]))
    assert score_of(share_of_gap("amateur-100")) == pytest.approx(100)


def test_what_may_not_be_read_is_refused():
    """Each of the six reasons, and beside each the same strokes where it does not hold."""
    fine = rounds_of(0.5)
    assert row_of(fine)["refusal"] == ""
    assert row_of(fine.assign(part="pitch_30_50"), "pitch_30_50")["refusal"] == NEVER
    assert row_of(fine[fine["round_key"] < 19])["refusal"] == FEW_ROUNDS
    assert row_of(fine[fine["round_key"] < 20])["refusal"] == ""
    assert row_of(rounds_of(0.5, rounds=20, strokes=1, luck=0.6))["refusal"] == TOO_WIDE
    assert row_of(rounds_of(-0.4, luck=0.1))["refusal"] == BETTER
    assert row_of(rounds_of(1.7, luck=0.1))["refusal"] == BEYOND
    same = fine.assign(end_distance_ft=FEET, end_lie="fairway")
    luck = same.assign(penalty=np.random.default_rng(1).integers(0, 2, len(same)))
    luck["end_distance_ft"] += np.where(luck["round_key"] % 2, 1.0, -0.9)  # no gap on the whole
    assert row_of(luck)["refusal"] == OPEN_RANGE


def test_a_refused_row_has_no_score_and_a_read_one_no_refusal(demo_store: Store):
    table = plays_like(demo_store)
    assert tuple(table.columns) == COLUMNS
    assert list(table["part"]) == [level.name for level in LEVELS]
    assert (table["score_low"].isna() == (table["refusal"] != "")).all()
    read = table[table["refusal"] == ""].set_index("part")
    assert {TOTAL, "off_green", "putting"} <= set(read.index)
    assert (read["score_low"] < read["score_high"]).all()
    middle = [score_of(k) for k in read["k"]]
    assert read["score"].tolist() == pytest.approx(middle)
    assert ((read["score_low"] < middle) & (middle < read["score_high"])).all()


def test_only_putts_are_told_again_with_other_distances(demo_store: Store):
    table = plays_like(demo_store).set_index("part")
    told = table["score_shorter"].notna()
    assert set(table.index[told]) == {"putting", "putt_0_10"}
    # a putt that was longer than written was holed by a better putter
    assert (table.loc[told, "score_longer"] < table.loc[told, "score"]).all()
    assert (table.loc[told, "score"] < table.loc[told, "score_shorter"]).all()


def test_a_wider_level_is_a_wider_range(demo_store: Store):
    narrow, wide = (plays_like(demo_store, level=level).set_index("part") for level in (0.8, 0.9))
    assert wide.loc[TOTAL, "score_low"] < narrow.loc[TOTAL, "score_low"]
    assert wide.loc[TOTAL, "score_high"] > narrow.loc[TOTAL, "score_high"]


def test_putts_need_no_lie_but_the_green():
    row = row_of(rounds_of(0.4, lie="green", part="putt_0_10", luck=0.02, rounds=60), "putt_0_10")
    assert row["shots"] == 480
