"""The season over time: values by hand, short rounds, what is called a change."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from sgzone.review.trend import (
    BEFORE_AFTER_COLUMNS,
    BY_HALVES,
    BY_LINE,
    ROLLING,
    TREND_COLUMNS,
    before_after_table,
    halves_table,
    season_ends,
    trend_table,
)
from sgzone.stats.verdict import MORE_THAN_NOISE, NOT_ENOUGH_ROUNDS, WITHIN_NOISE

DAY_ONE = pd.Timestamp("2026-04-01")


def season(rng, rounds, wedge=None, holes=18):
    """Return per-round sums and rounds: six wedges and ten putts a round."""
    wedge = np.zeros(rounds) if wedge is None else wedge
    frames = [
        pd.DataFrame({"part": "wedge_50_100", "n": 6, "total": rng.normal(6 * wedge, 0.8)}),
        pd.DataFrame({"part": "putt_0_10", "n": 10, "total": rng.normal(0, 1.0, rounds)}),
    ]
    sums = pd.concat([f.assign(round_key=np.arange(rounds)) for f in frames], ignore_index=True)
    sizes = pd.DataFrame({"round_key": np.arange(rounds), "round": 1, "holes": holes})
    return sums, sizes.assign(date=DAY_ONE + pd.to_timedelta(4 * np.arange(rounds), "D"))


def test_values_by_hand():
    sums = pd.DataFrame(
        {
            "part": ["wedge_50_100"] * 6 + ["chip_0_30"],
            "round_key": [0, 1, 2, 3, 4, 5, 5],
            "n": [5, 5, 2, 5, 5, 5, 3],
            "total": [-1.0, -0.5, -0.4, 0.2, 0.1, 0.6, -0.9],
        }
    )
    sizes = pd.DataFrame({"round_key": range(6), "round": 1, "holes": [18, 18, 9, 18, 18, 18]})
    sizes["date"] = DAY_ONE + pd.to_timedelta(np.arange(6), "D")
    got = trend_table(sums, sizes)
    assert got.columns.tolist() == list(TREND_COLUMNS)
    assert got["part"].unique().tolist() == ["wedge_50_100", "chip_0_30", "total"]
    wedge = got[got["part"] == "wedge_50_100"]
    assert wedge["gained_per_round"].tolist() == [-1.0, -0.5, -0.8, 0.2, 0.1, 0.6]
    assert wedge["rolling"].isna().sum() == ROLLING - 1
    assert wedge["rolling"].iloc[4] == pytest.approx(-1.6 / 4.5)
    chip = got[got["part"] == "chip_0_30"]
    assert chip["gained_per_round"].tolist() == [0, 0, 0, 0, 0, -0.9]
    total = got[got["part"] == "total"]
    assert total["gained_per_round"].iloc[5] == pytest.approx(-0.3)
    assert total["shots"].sum() == 30
    assert set(got["verdict"]) == {NOT_ENOUGH_ROUNDS}
    assert got["smoothed"].isna().all()


def test_a_planted_change_is_more_than_noise_and_the_rest_is_not():
    rounds = 40
    wedge = np.linspace(-0.15, 0.15, rounds)
    got = trend_table(*season(np.random.default_rng(1), rounds, wedge)).groupby("part").first()
    assert got.loc["wedge_50_100", "verdict"] == MORE_THAN_NOISE
    assert got.loc["putt_0_10", "verdict"] == WITHIN_NOISE
    change = got.loc["wedge_50_100"]
    assert change["drift_low"] <= 6 * 0.30 <= change["drift_high"]
    assert change["change_low"] <= 6 * 0.15 <= change["change_high"]


def test_halves_and_line_in_strokes_a_round():
    """Seven wedges in rounds of 18, half of it in those of 9: per stroke, at 7 strokes a round."""
    holes = np.where(np.arange(11) % 3 == 0, 9, 18)
    sums, sizes = season(np.random.default_rng(7), 11, holes=holes)
    wedge = sums["part"] == "wedge_50_100"
    sums["n"] = np.where(wedge, 7 * holes[sums["round_key"]] / 18, 10)
    got = trend_table(sums, sizes).groupby("part").first().loc["wedge_50_100"]
    s, n = (sums.loc[wedge, name].to_numpy(float) for name in ("total", "n"))
    first, second = s[:5].sum() / n[:5].sum(), s[6:].sum() / n[6:].sum()
    assert got["first_half"] == pytest.approx(7 * first)
    assert got["second_half"] == pytest.approx(7 * second)
    assert got["change"] == pytest.approx(7 * (second - first))
    place = np.arange(11) - np.average(np.arange(11), weights=n)
    slope = (place * (s - n * s.sum() / n.sum())).sum() / (n * place**2).sum()
    assert got["drift"] == pytest.approx(7 * 10 * slope)
    total = trend_table(sums, sizes).groupby("part").first().loc["total"]
    both = sums.groupby("round_key")["total"].sum().to_numpy()
    per_round = [both[rows].sum() / holes[rows].sum() * 18 for rows in (slice(5), slice(6, None))]
    assert [total["first_half"], total["second_half"]] == pytest.approx(per_round)


@pytest.mark.parametrize("step", [0.0, 0.2, 0.3])
def test_the_joint_range_is_wider_and_agrees_with_the_verdict(step):
    wedge = np.where(np.arange(24) < 12, 0.0, step)
    ends = season_ends(trend_table(*season(np.random.default_rng(8), 24, wedge), 0.95))
    parts = ends[ends["part"] != "total"]
    assert (parts["joint_low"] < parts["change_low"]).all()
    assert (parts["joint_high"] > parts["change_high"]).all()
    halves = (ends["joint_low"] > 0) | (ends["joint_high"] < 0)
    line = (ends["drift_low"] > 0) | (ends["drift_high"] < 0)
    assert ((ends["verdict"] == MORE_THAN_NOISE) == (halves | line)).all()
    assert ((ends["shown_by"] == BY_HALVES) == halves).all()
    assert ((ends["shown_by"] == BY_LINE) == (line & ~halves)).all()
    assert (ends["verdict"] == MORE_THAN_NOISE).any() == (step > 0)


@pytest.mark.parametrize(("rounds", "least"), [(19, 4), (20, 5)])
def test_a_part_needs_rounds_in_both_halves(rounds, least):
    """4 in each half of a season under 20 rounds, 5 of a longer one; one short is not judged."""
    sums, sizes = season(np.random.default_rng(9), rounds)
    for kept, verdict in ((least, WITHIN_NOISE), (least - 1, NOT_ENOUGH_ROUNDS)):
        late = sums["round_key"] >= rounds - kept
        some = sums[(sums["part"] != "wedge_50_100") | (sums["round_key"] < rounds // 2) | late]
        got = trend_table(some, sizes).groupby("part").first()
        assert got.loc["wedge_50_100", "verdict"] == verdict
        assert np.isnan(got.loc["wedge_50_100", "change"]) == (verdict == NOT_ENOUGH_ROUNDS)
        assert got.loc["putt_0_10", "verdict"] == WITHIN_NOISE


@pytest.mark.long
def test_level_seasons_are_seldom_called_a_change():
    rng = np.random.default_rng(2)
    called = []
    for _ in range(25):
        got = trend_table(*season(rng, 20)).groupby("part")["verdict"].first()
        called.append((got.drop("total") == MORE_THAN_NOISE).any())
    assert np.mean(called) <= 0.18  # 5%, and three standard errors or so


def test_a_few_rounds_are_not_judged():
    got = trend_table(*season(np.random.default_rng(10), 9, np.linspace(-9, 9, 9)))
    assert set(got["verdict"]) == {NOT_ENOUGH_ROUNDS}
    assert got[["change", "joint_low", "drift", "p", "smoothed"]].isna().all().all()
    assert got[["first_half", "second_half"]].notna().all().all()


def test_the_level_only_widens_the_band():
    sums, sizes = season(np.random.default_rng(3), 15)
    narrow, wide = trend_table(sums, sizes, 0.8), trend_table(sums, sizes, 0.95)
    assert (wide["high"] - wide["low"] > narrow["high"] - narrow["low"]).all()
    assert (wide["change_high"] > narrow["change_high"]).all()
    same = ["joint_low", "joint_high", "drift_low", "drift_high", "p", "verdict"]
    assert wide[same].equals(narrow[same])


def test_before_and_after_is_welch_over_rounds():
    """With whole rounds of equal length only the factor n / (n - 1) sets it apart from Welch."""
    sums, sizes = season(np.random.default_rng(4), 30)
    split = (DAY_ONE + pd.Timedelta(days=4 * 12)).date()
    got = before_after_table(sums, sizes, split).set_index("part").loc["wedge_50_100"]
    wedge = sums[sums["part"] == "wedge_50_100"]["total"].to_numpy()
    one, other = wedge[:12], wedge[12:]
    assert got["difference"] == pytest.approx(other.mean() - one.mean())
    assert (got["rounds_before"], got["rounds_after"]) == (12, 18)
    variances = [x.var(ddof=1) / len(x) * len(x) / (len(x) - 1) for x in (one, other)]
    se = np.sqrt(sum(variances))
    df = se**4 / (variances[0] ** 2 / 11 + variances[1] ** 2 / 17)
    assert got["high"] - got["difference"] == pytest.approx(stats.t.ppf(0.9, df) * se)


def test_a_split_that_leaves_too_few_rounds_says_so():
    sums, sizes = season(np.random.default_rng(5), 12)
    got = before_after_table(sums, sizes, date(2026, 4, 6))
    assert set(got["verdict"]) == {NOT_ENOUGH_ROUNDS}
    assert got["low"].isna().all()
    assert got["before"].notna().all()
    none_before = before_after_table(sums, sizes, date(2020, 1, 1))
    assert none_before["before"].isna().all()
    assert none_before["after"].notna().all()


def test_before_and_after_is_judged_for_all_parts_together():
    """The joint range and the verdict agree; the same change is less beside more parts."""
    wedge = np.where(np.arange(30) < 12, 0.0, 0.25)
    sums, sizes = season(np.random.default_rng(11), 30, wedge)
    split = (DAY_ONE + pd.Timedelta(days=4 * 12)).date()
    got = before_after_table(sums, sizes, split).set_index("part")
    beyond = (got["joint_low"] > 0) | (got["joint_high"] < 0)
    assert (beyond == (got["verdict"] == MORE_THAN_NOISE)).all()
    assert beyond["wedge_50_100"]
    assert (got["after"] - got["before"]).to_numpy() == pytest.approx(got["difference"].to_numpy())
    assert (got["before_low"] < got["before"]).all()
    alone = before_after_table(sums[sums["part"] == "wedge_50_100"], sizes, split)
    width, of_one = (t["joint_high"] - t["joint_low"] for t in (got, alone.set_index("part")))
    assert width["wedge_50_100"] > of_one["wedge_50_100"]
    assert width["wedge_50_100"] > got.loc["wedge_50_100", "high"] - got.loc["wedge_50_100", "low"]


def test_an_empty_selection_has_headers():
    sums, sizes = season(np.random.default_rng(6), 5)
    assert trend_table(sums.iloc[:0], sizes.iloc[:0]).columns.tolist() == list(TREND_COLUMNS)
    empty = before_after_table(sums.iloc[:0], sizes.iloc[:0], date(2026, 5, 1))
    assert empty.columns.tolist() == list(BEFORE_AFTER_COLUMNS)


def test_the_halves_are_those_of_the_trend_with_the_range_of_each():
    """The means are the trend's; the range is by the half's own rounds, worked out here again.

    Eleven rounds four days apart: the sixth is in neither half, and the halves meet on its day.
    """
    sums, sizes = season(np.random.default_rng(4), 11, wedge=np.linspace(-0.1, 0.1, 11))
    got = halves_table(sums, sizes, 0.9).set_index(["part", "half"])
    told = trend_table(sums, sizes, 0.9).groupby("part").first()
    for half in ("first", "second"):
        own = got.xs(half, level="half")
        assert own["mean"].to_numpy() == pytest.approx(told[f"{half}_half"][own.index].to_numpy())
    assert set(got["rounds"]) == {5}
    assert set(got["split"]) == {sizes["date"][5]}
    assert got["start"].tolist()[:3] == [sizes["date"][0]] * 3
    assert got["end"].tolist()[-3:] == [sizes["date"][10]] * 3
    wedge = sums[sums["part"] == "wedge_50_100"]["total"].to_numpy()[:5]
    se = wedge.std(ddof=1) / np.sqrt(5) * np.sqrt(5 / 4)  # G/(G-1) in front of the residuals
    reach = stats.t.isf(0.05, 4) * se
    low, high = got.loc[("wedge_50_100", "first"), ["low", "high"]]
    assert (low, high) == pytest.approx((wedge.mean() - reach, wedge.mean() + reach))


def test_halves_of_too_few_rounds_have_no_range():
    sums, sizes = season(np.random.default_rng(4), 8)
    got = halves_table(sums, sizes)
    assert got["mean"].notna().all()
    assert got[["low", "high"]].isna().all(axis=None)
    assert halves_table(sums.iloc[:0], sizes.iloc[:0]).empty
