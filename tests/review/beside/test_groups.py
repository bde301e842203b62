"""Groups at the same number and lie: by hand, what must not matter, what is warned of."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sgzone.errors import CallError
from sgzone.review.beside.grouping import compare_keys, in_order, labels
from sgzone.review.beside.groups import COMPARE_COLUMNS, chosen_strokes, compare_table
from sgzone.stats.groups import needed_each
from sgzone.stats.verdict import BETTER_HERE, LEANING, NO_DIFFERENCE, TOO_FEW


def strokes(rng, sizes, gaps=(), *, yards=(90.0, 100.0), lies=("fairway",), spreads=()):
    """Return scored strokes of groups A, B, ... from the same distances and lies."""
    names = np.repeat([chr(65 + k) for k in range(len(sizes))], sizes)
    at = np.array([ord(name) - 65 for name in names])
    gap = np.array([*gaps, *np.zeros(len(sizes) - len(gaps))])[at]
    spread = np.array([*spreads, *np.ones(len(sizes) - len(spreads))])[at]
    n = len(names)
    distance = 3 * rng.uniform(*yards, n)
    depth = spread * distance * 0.05 * rng.standard_normal(n)
    side = spread * distance * 0.04 * rng.standard_normal(n)
    return pd.DataFrame(
        {
            "group": names.astype(object),
            "player": "Ann Example",
            "round_key": rng.integers(20, size=n),
            "date": pd.Timestamp("2026-05-01") + pd.to_timedelta(rng.integers(60, size=n), "D"),
            "status": "scored",
            "part": "wedge_50_100",
            "lie": rng.choice(np.array(lies, dtype=object), n),
            "distance_ft": distance,
            "distance_yd": distance / 3,
            "effective_yd": np.nan,
            "end_distance_ft": np.hypot(depth, side),
            "depth_ft": depth,
            "side_ft": side,
            "gained": gap + rng.normal(0, 0.33, n),
        }
    )


def compared(rows, at=95, **options):
    return compare_table(chosen_strokes(rows, at), at, **options)


def row_of(rows, at=95, **options):
    return compared(rows, at, **options).iloc[0]


def test_one_row_by_hand():
    """A: -0.1, 0.1 five times over; B: 0.1, 0.3; the within variance is 0.01 x 20 / 18."""
    rng = np.random.default_rng(0)
    rows = strokes(rng, [10, 10])
    rows["gained"] = [-0.1, 0.1] * 5 + [0.1, 0.3] * 5
    rows["round_key"] = np.arange(20)
    got = row_of(rows)
    variance = (30 * 0.33**2 + 20 * 0.01) / 48
    se = np.sqrt(variance / 5)
    w = 0.08**2 / (0.08**2 + se**2)
    assert got["difference"] == pytest.approx(0.2)
    assert got["p_better"] == pytest.approx(stats.norm.cdf(np.sqrt(w) * 0.2 / se))
    assert got["high"] - got["difference"] == pytest.approx(stats.t.ppf(0.9, 48) * se)
    assert got["adjusted"] == pytest.approx(w * 0.2)
    assert got["adjusted_high"] - got["adjusted"] == pytest.approx(
        stats.norm.ppf(0.9) * np.sqrt(w) * se
    )
    assert got["shots_to_settle"] == np.ceil(needed_each(variance, 0.10))
    assert (got["shots_first"], got["shots_second"]) == (10, 10)
    assert got["proximity_first_ft"] == pytest.approx(rows["end_distance_ft"][:10].median())


def test_columns_are_fixed():
    assert compared(strokes(np.random.default_rng(1), [20, 20])).columns.tolist() == list(
        COMPARE_COLUMNS
    )


def test_spreads_are_those_at_the_number():
    rows = strokes(np.random.default_rng(2), [4000, 4000], spreads=(1.0, 1.5))
    got = row_of(rows)
    assert got["depth_sd_first_ft"] == pytest.approx(0.05 * 95 * 3, rel=0.05)
    assert got["depth_sd_second_ft"] == pytest.approx(0.075 * 95 * 3, rel=0.05)
    assert got["side_sd_second_ft"] == pytest.approx(0.06 * 95 * 3, rel=0.05)
    assert got["spread_p"] < 1e-6
    assert got["known_first"] == 4000


@pytest.mark.parametrize(
    ("sizes", "gap", "word"),
    [
        ((9, 400), 0.5, TOO_FEW),
        ((400, 400), 0.0, NO_DIFFERENCE),
        ((400, 400), 0.20, BETTER_HERE),
        ((400, 400), -0.20, BETTER_HERE),
    ],
)
def test_words(sizes, gap, word):
    rows = strokes(np.random.default_rng(5), sizes, (0.0, gap))
    rows["gained"] -= rows.groupby("group")["gained"].transform("mean")
    rows.loc[rows["group"] == "B", "gained"] += gap
    got = row_of(rows)
    assert got["verdict"] == word
    assert got["better"] == ("" if word != BETTER_HERE else "B" if gap > 0 else "A")


def test_a_likely_but_tiny_difference_only_leans():
    """10,000 shots each make 0.015 strokes near certain; it is still too small to matter."""
    rows = strokes(np.random.default_rng(6), (10_000, 10_000))
    rows["gained"] -= rows.groupby("group")["gained"].transform("mean")
    rows.loc[rows["group"] == "B", "gained"] += 0.015
    got = row_of(rows)
    assert got["p_better"] > 0.99
    assert (got["verdict"], got["better"]) == (LEANING, "B")


@settings(max_examples=30)  # a seed is as good as another
@given(st.integers(0, 1000))
def test_swapping_the_groups_gives_one_minus_p(seed):
    rows = strokes(np.random.default_rng(seed), (15, 40), lies=("fairway", "rough"))
    one, other = row_of(rows, groups=["A", "B"]), row_of(rows, groups=["B", "A"])
    assert other["p_better"] == pytest.approx(1 - one["p_better"])
    assert other["difference"] == pytest.approx(-one["difference"])
    assert (other["low"], other["high"]) == pytest.approx((-one["high"], -one["low"]))
    assert other["verdict"] == one["verdict"]
    assert other["depth_sd_first_ft"] == pytest.approx(one["depth_sd_second_ft"])


def test_words_do_not_hang_on_the_level_shown():
    rows = strokes(np.random.default_rng(7), (60, 60), (0.0, 0.14))
    narrow, wide = row_of(rows, level=0.8), row_of(rows, level=0.95)
    assert wide["high"] - wide["low"] > narrow["high"] - narrow["low"]
    assert wide["verdict"] == narrow["verdict"]


def test_other_lies_are_warned_of_and_do_not_count():
    rng = np.random.default_rng(8)
    rows = strokes(rng, [200, 200])
    rough = (rows["group"] == "B") & (np.arange(400) % 2 == 0)
    rows.loc[rough, "lie"] = "rough"
    rows.loc[(rows["group"] == "A") & (np.arange(400) % 10 == 0), "lie"] = "rough"
    rows.loc[rows["lie"] == "rough", "gained"] -= 1.0
    got = row_of(rows)
    assert abs(got["difference"]) < 0.1  # the raw means differ by 0.4
    assert got["other_lies"] == pytest.approx(0.4)
    fair = row_of(rows[rows["lie"] == "fairway"])
    assert np.isnan(fair["other_lies"])


def test_other_distances_are_warned_of():
    near = strokes(np.random.default_rng(9), [100, 0], yards=(85, 95))
    far = strokes(np.random.default_rng(10), [0, 100], yards=(95, 105))
    got = row_of(pd.concat([near, far], ignore_index=True))
    assert got["farther_yd"] == pytest.approx(10, abs=1)
    assert np.isnan(got["other_lies"])


def test_without_a_number_only_shared_steps_count():
    near = strokes(np.random.default_rng(11), [50, 0], yards=(50, 59))
    both = strokes(np.random.default_rng(12), [30, 30], yards=(60, 69))
    rows = chosen_strokes(pd.concat([near, both], ignore_index=True))
    got = compare_table(rows).iloc[0]
    assert (got["shots_first"], got["shots_second"]) == (30, 30)
    assert got["at_yd"] == pytest.approx(both["distance_yd"].mean())
    assert (got["alone"], got["of_shots"], got["unnamed"]) == (50, 110, 0)


def test_shots_without_what_they_are_compared_by_are_counted():
    rows = strokes(np.random.default_rng(12), [30, 30])
    rows.loc[:6, "group"] = None
    assert row_of(rows)["unnamed"] == 7


def test_the_window_is_ten_yards_of_the_effective_number():
    rows = strokes(np.random.default_rng(13), [6], yards=(95, 96))
    rows["distance_yd"] = [84.9, 85.0, 105.0, 105.1, 70.0, 95.0]
    rows["effective_yd"] = [np.nan] * 4 + [95.0, 70.0]
    assert chosen_strokes(rows, 95)["distance_yd"].tolist() == [85.0, 105.0, 70.0]
    assert chosen_strokes(rows, 95, effective=False)["distance_yd"].tolist() == [85, 105, 95]


def test_three_groups_give_three_rows_and_lean_on_their_mean():
    rows = strokes(np.random.default_rng(14), (30, 30, 30), (0.0, 0.0, 0.3))
    got = compared(rows)
    assert got[["first", "second"]].to_numpy().tolist() == [["A", "B"], ["A", "C"], ["B", "C"]]
    assert (got["adjusted"].abs() <= got["difference"].abs()).all()


def test_one_group_or_none_is_an_empty_table():
    some = strokes(np.random.default_rng(15), [20])
    for rows in (some, some.iloc[:0]):
        got = compared(rows)
        assert len(got) == 0
        assert got.columns.tolist() == list(COMPARE_COLUMNS)


def test_labels_cross_keys_and_split_days():
    frame = pd.DataFrame(
        {
            "club": ["54", "54", None],
            "swing": ["full", None, "half"],
            "date": pd.to_datetime(["2026-07-19", "2026-07-20", "2026-07-21"]),
        }
    )
    crossed = labels(frame, ["club", "swing"], None)
    assert crossed.tolist() == ["54 full", None, None]
    split = labels(frame, ["date"], date(2026, 7, 20))
    assert split.tolist() == ["before 2026-07-20", "from 2026-07-20", "from 2026-07-20"]
    assert in_order(split, None) == ["before 2026-07-20", "from 2026-07-20"]


@pytest.mark.parametrize(
    ("by", "split", "said"),
    [
        ("lie", None, "nothing to compare by"),
        ("clubb", None, "Did you mean club\\? Choose from"),
        ("date", None, "give both"),
        ("club", date(2026, 7, 20), "give both"),
        ([], None, "name a column"),
    ],
)
def test_what_cannot_be_compared_is_said(by, split, said):
    with pytest.raises(CallError, match=said):
        compare_keys(by, split)


def test_unknown_groups_lies_and_parts_are_refused():
    rows = strokes(np.random.default_rng(16), [12, 12])
    with pytest.raises(CallError, match="There: A, B"):
        compared(rows, groups=["A", "Z"])
    with pytest.raises(CallError, match="no lie"):
        chosen_strokes(rows, 95, lie="bunker")
    with pytest.raises(CallError, match="no part"):
        chosen_strokes(rows, part="wedges")
    putts = rows.assign(lie="green", part="putt_0_10")
    with pytest.raises(CallError, match="putts have no number"):
        chosen_strokes(putts, 5, part="putt_0_10")


@pytest.mark.long
@pytest.mark.parametrize("n", [30, 130, 1000])
def test_identical_groups_are_seldom_called_better(n):
    """Under 10% of the time, in rounds that have a day of their own."""
    rng = np.random.default_rng(n)
    called = 0
    for _ in range(200):
        rows = strokes(rng, [n, n])
        rows["gained"] += rng.normal(0, 0.035, 20)[rows["round_key"]]
        called += row_of(rows)["verdict"] == BETTER_HERE
    assert called / 200 < 0.10


def test_a_count_of_closest_balls_would_call_identical_groups_apart():
    """The tempting rule, 6 of the 10 closest, fires two times in three on identical swings."""
    rng = np.random.default_rng(18)
    fired = 0
    for _ in range(200):
        rows = strokes(rng, [30, 30])
        closest = rows.nsmallest(10, "end_distance_ft")["group"]
        fired += closest.value_counts().max() >= 6
    assert fired / 200 > 0.5


def test_looking_at_more_pairs_asks_for_more():
    """The same two groups, alone better here, only lean beside three others."""
    rows = strokes(np.random.default_rng(21), [150] * 5)
    rows["gained"] -= rows.groupby("group")["gained"].transform("mean")
    rows.loc[rows["group"] == "B", "gained"] += 0.085
    alone = row_of(rows, groups=["A", "B"])
    assert alone["verdict"] == BETTER_HERE
    many = compared(rows)
    among = many[(many["first"] == "A") & (many["second"] == "B")].iloc[0]
    assert among["difference"] == pytest.approx(alone["difference"])
    assert among["verdict"] == LEANING
