"""The summary's table: ranks, words, notes, total, empty selections."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.review.where.summary import VALUE_COLUMNS, summary_table
from sgzone.terms import NOT_ENOUGH, PART_NAMES
from sgzone.words.notes import HELD_BACK, THIN, noted
from tests.review.sums import PLAN, drawn_season, round_sums_of, sizes_of

TRUTH = dict.fromkeys(PLAN, 0.0) | {"sand_0_50": -0.30, "approach_100_150": -0.15}


def table_of(strokes, keys=("part",), sizes=None, level=0.8, **options):
    sizes = sizes_of(40) if sizes is None else sizes
    return summary_table(round_sums_of(strokes, list(keys)), sizes, list(keys), level, **options)


@pytest.fixture(scope="module")
def season():
    return drawn_season(np.random.default_rng(20), truth=TRUTH)


def test_columns_are_the_keys_then_the_fixed_ones(season):
    assert table_of(season).columns.tolist() == ["part", *VALUE_COLUMNS]


def test_worst_loss_per_round_comes_first_not_worst_per_shot(season):
    got = table_of(season)
    assert got["gained_per_round"].is_monotonic_increasing
    # six approaches a round at -0.15 cost more than two bunker shots at -0.30
    assert got["part"].tolist()[:2] == ["approach_100_150", "sand_0_50"]
    assert got["gained_per_shot"].iloc[0] > got["gained_per_shot"].iloc[1]


def test_planted_losses_are_called_and_level_parts_are_not(season):
    words = table_of(season).set_index("part")["verdict"]
    assert words["sand_0_50"] == "clear loss"
    assert words["approach_100_150"] == "clear loss"
    assert not words.drop(["sand_0_50", "approach_100_150"]).str.startswith("clear").any()


def test_raw_and_adjusted_stand_side_by_side(season):
    got = table_of(season).set_index("part").loc["sand_0_50"]
    assert got["gained_per_shot"] < got["shrunk_per_shot"] < 0
    assert got["low"] < got["gained_per_shot"] < got["high"]
    assert got["shrunk_low"] < got["shrunk_per_shot"] < got["shrunk_high"]
    assert got["gained_per_round"] == pytest.approx(got["gained_per_shot"] * got["shots"] / 40)


def test_level_widens_every_interval(season):
    narrow, wide = table_of(season), table_of(season, level=0.95)
    for low, high in (
        ("low", "high"),
        ("low_per_round", "high_per_round"),
        ("shrunk_low", "shrunk_high"),
    ):
        assert (wide[high] - wide[low] > narrow[high] - narrow[low]).all()


def test_total_adds_a_last_row_that_the_parts_add_up_to(season):
    got = table_of(season, total=True)
    assert got["part"].iloc[-1] == "total"
    parts, total = got.iloc[:-1], got.iloc[-1]
    assert total["shots"] == parts["shots"].sum() == len(season)
    assert total["gained_per_round"] == pytest.approx(parts["gained_per_round"].sum())


def test_total_alone(season):
    got = table_of(season, keys=(), total=True)
    assert got.columns.tolist() == ["part", *VALUE_COLUMNS]
    assert got["part"].tolist() == ["total"]


def _five_from_sand(**columns):
    """Two strokes of one round and three of another, with what else they carry."""
    keys = {"player": "Ada", "round_key": [0, 0, 1, 1, 1], "part": "sand_0_50", "lie": "sand"}
    return pd.DataFrame({**keys, **columns})


def test_few_shots_keep_what_was_gained_without_interval_or_verdict():
    strokes = _five_from_sand(gained=[-1.0, 0.0, 0.2, np.nan, np.nan])
    whole = table_of(strokes, sizes=sizes_of(2))
    got = whole.iloc[0]
    assert got["verdict"] == NOT_ENOUGH
    assert got["shots"] == 3
    assert got["gained_per_shot"] == pytest.approx(-0.8 / 3)
    assert got["gained_per_round"] == pytest.approx(-0.4)
    assert got[["low", "high", "low_per_round", "high_per_round", "shrunk_low"]].isna().all()
    assert noted(whole, "summary")["note"].item() == "2 strokes skipped: finish not written down"


def test_strokes_without_an_end_and_those_without_a_benchmark_value_are_told_apart():
    status = ["scored", "unknown_end", *["no_benchmark"] * 3]
    strokes = _five_from_sand(gained=[-1.0, *[np.nan] * 4], status=status)
    assert noted(table_of(strokes, sizes=sizes_of(2)), "summary")["note"].item() == (
        "1 stroke skipped: finish not written down; "
        "3 strokes skipped: the standard has no value there"
    )


def test_thin_cells_say_so():
    strokes = drawn_season(np.random.default_rng(3), rounds=8)
    got = noted(table_of(strokes, sizes=sizes_of(8)), "summary").set_index("part")
    assert 10 <= got.loc["sand_0_50", "shots"] < 30
    assert got.loc["sand_0_50", "note"] == THIN
    assert got.loc["putt_0_10", "note"] == ""


def test_what_the_own_strokes_speak_against_is_no_verdict():
    """Nine parts that all lose .2 a shot pull along a tenth, which gained a little in 12 shots."""
    rng = np.random.default_rng(8)
    rows = [
        pd.DataFrame(
            {
                "player": "Ada",
                "round_key": np.arange(n) % 12,
                "part": part,
                "lie": "fairway",
                "gained": mean + noise - noise.mean(),
            }
        )
        for part, n, mean in [(f"part {i}", 600, -0.2) for i in range(9)] + [("few", 12, 0.02)]
        for noise in [rng.normal(0, 0.5, n)]
    ]
    whole = noted(table_of(pd.concat(rows), sizes=sizes_of(12)), "summary")
    few = whole.set_index("part").loc["few"]
    assert few["gained_per_shot"] == pytest.approx(0.02)
    assert few["shrunk_high"] < -0.03
    assert (few["verdict"], few["note"]) == ("not settled", HELD_BACK)


def test_ties_stand_in_the_order_of_the_vocabulary():
    strokes = pd.DataFrame(
        {"player": "Ada", "round_key": 0, "part": PART_NAMES[::-1], "lie": "green", "gained": 0.25}
    )
    assert table_of(strokes, sizes=sizes_of(1))["part"].tolist() == list(PART_NAMES)


def test_several_players_are_each_ranked(season):
    other = drawn_season(np.random.default_rng(4), player="Ben")
    other["round_key"] += 40
    sizes = pd.concat([sizes_of(40), sizes_of(40, player="Ben").assign(round_key=range(40, 80))])
    got = table_of(pd.concat([other, season]), ("player", "part"), sizes, total=True)
    assert got["player"].tolist() == ["Ada"] * 7 + ["Ben"] * 7
    assert got["part"].iloc[[6, 13]].tolist() == ["total", "total"]
    ada = got[got["player"] == "Ada"].drop(columns="player").reset_index(drop=True)
    pd.testing.assert_frame_equal(ada, table_of(season, total=True))


@pytest.mark.parametrize("total", [False, True])
def test_an_empty_selection_has_a_header_and_no_rows(season, total):
    got = table_of(season.iloc[:0], sizes=sizes_of(0), total=total)
    assert got.columns.tolist() == ["part", *VALUE_COLUMNS]
    assert len(got) == 0
