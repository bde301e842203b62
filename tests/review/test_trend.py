"""The season over time: values by hand, short rounds, what is called a change."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest
from scipy import stats
from statsmodels.stats.multitest import multipletests

from sgzone.review.trend import (
    BEFORE_AFTER_COLUMNS,
    ROLLING,
    TREND_COLUMNS,
    before_after_table,
    corrected,
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
    assert change["change_low"] <= 6 * 0.30 <= change["change_high"]


def test_level_seasons_are_seldom_called_a_change():
    rng = np.random.default_rng(2)
    called = []
    for _ in range(25):
        got = trend_table(*season(rng, 20)).groupby("part")["verdict"].first()
        called.append((got.drop("total") == MORE_THAN_NOISE).any())
    assert np.mean(called) <= 0.18  # 5%, and three standard errors or so


def test_the_level_only_widens_the_band():
    sums, sizes = season(np.random.default_rng(3), 15)
    narrow, wide = trend_table(sums, sizes, 0.8), trend_table(sums, sizes, 0.95)
    assert (wide["high"] - wide["low"] > narrow["high"] - narrow["low"]).all()
    assert (wide["verdict"] == narrow["verdict"]).all()


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


def test_parts_are_corrected_together_and_the_total_stands_alone():
    assert corrected(np.array([0.01, 0.04, 0.03])) == pytest.approx([0.02, 0.04, 0.03])
    assert np.isnan(corrected(np.array([np.nan, 0.04]))[0])
    p = np.array([0.012, 0.3, np.nan, 0.01, 0.6, 0.011, 0.7])  # steps that fall, and one over 1
    known = [0, 1, 3, 4, 5]
    assert corrected(p)[known] == pytest.approx(multipletests(p[known], method="holm")[1])
    assert corrected(p)[6] == 0.7


def test_an_empty_selection_has_headers():
    sums, sizes = season(np.random.default_rng(6), 5)
    assert trend_table(sums.iloc[:0], sizes.iloc[:0]).columns.tolist() == list(TREND_COLUMNS)
    empty = before_after_table(sums.iloc[:0], sizes.iloc[:0], date(2026, 5, 1))
    assert empty.columns.tolist() == list(BEFORE_AFTER_COLUMNS)
