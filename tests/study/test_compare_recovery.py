"""Comparisons and trends of seasons whose truth is known."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.review.beside.groups import BETTER_HERE, NO_DIFFERENCE, PRIOR, verdicts
from sgzone.review.trend import MORE_THAN_NOISE, trend_table
from sgzone.stats.groups import Observations, compare, scatter

pytestmark = pytest.mark.study

ROUNDS = 40
ROUND_SD = 0.035  # a round's share of the variance is about 0.012


def _season(rng, sizes, gaps, spread=0.33):
    group = np.repeat(np.arange(len(sizes)), sizes)
    cluster = rng.integers(ROUNDS, size=len(group))
    day = rng.normal(0, ROUND_SD, ROUNDS)[cluster]
    y = np.asarray(gaps)[group] + day + rng.normal(0, spread, len(group))
    return Observations(y, group, np.zeros(len(group), int), cluster)


def _judge(data):
    noise = scatter(data, PRIOR)
    pairs = compare(data, noise, PRIOR)
    words, better = verdicts(pairs, noise.df, [str(k) for k in range(int(data.group.max()) + 1)])
    return pairs, noise, words, better


@pytest.mark.parametrize("n", [30, 60, 130, 400, 1000])
def test_identical_groups(n):
    """Under 10% at 30, 130 and 1,000 each; near 60 each, where the rule is weakest, under 13%."""
    rng = np.random.default_rng(n)
    called = [_judge(_season(rng, [n, n], [0, 0]))[2][0] == BETTER_HERE for _ in range(2000)]
    assert np.mean(called) < (0.13 if n == 60 else 0.10)


def test_without_the_raw_interval_identical_groups_would_be_called_too_often():
    """The control: P >= .90 alone fires in over 10% of comparisons of 130 identical shots each."""
    rng = np.random.default_rng(1)
    p = np.array([_judge(_season(rng, [130, 130], [0, 0]))[0].p_second[0] for _ in range(2000)])
    assert np.mean(np.maximum(p, 1 - p) >= 0.90) > 0.10


@pytest.mark.parametrize(("n", "least"), [(130, 0.60), (400, 0.90)])
def test_a_gap_of_a_tenth_is_found(n, least):
    rng = np.random.default_rng(n)
    found = []
    for _ in range(1000):
        _, _, words, better = _judge(_season(rng, [n, n], [0, 0.10]))
        found.append(words[0] == BETTER_HERE and better[0] == "1")
    assert np.mean(found) > least


def test_the_wrong_one_is_hardly_ever_called():
    rng = np.random.default_rng(2)
    wrong = []
    for _ in range(1500):
        _, _, words, better = _judge(_season(rng, [60, 60], [0, 0.10]))
        wrong.append(words[0] == BETTER_HERE and better[0] == "0")
    assert np.mean(wrong) < 0.01


@pytest.mark.parametrize("sizes", [(12, 200), (40, 40), (300, 300)])
def test_raw_and_adjusted_intervals_cover(sizes):
    """80%: raw at any true gap, adjusted on average over gaps as large as is believed."""
    rng = np.random.default_rng(sum(sizes))
    raw, pulled, probability, ahead = [], [], [], []
    for _ in range(1500):
        gap = rng.normal(0, PRIOR.difference_sd)
        pairs, noise, _, _ = _judge(_season(rng, sizes, [0, gap]))
        low, high = pairs.interval(0.80, noise.df)
        raw.append(low[0] <= gap <= high[0])
        pulled.append(abs(pairs.mean[0] - gap) <= 1.2816 * pairs.sd[0])
        probability.append(pairs.p_second[0])
        ahead.append(gap > 0)
    assert np.mean(raw) == pytest.approx(0.80, abs=0.04)
    assert np.mean(pulled) == pytest.approx(0.80, abs=0.04)
    assert np.mean(probability) == pytest.approx(np.mean(ahead), abs=0.03)
    sure = np.array(probability) > 0.8
    assert np.mean(np.array(ahead)[sure]) > 0.8


def test_five_identical_swings():
    """Ten pairs at once: any is called better in under 10%; without the correction in over 30%."""
    rng = np.random.default_rng(5)
    seasons = [_judge(_season(rng, [60] * 5, [0] * 5)) for _ in range(1000)]
    assert np.mean([(words == BETTER_HERE).any() for _, _, words, _ in seasons]) < 0.10
    single = []
    for pairs, noise, _, _ in seasons:
        low, high = pairs.interval(0.80, noise.df)
        sure = np.maximum(pairs.p_second, 1 - pairs.p_second) >= 0.90
        single.append((sure & ((low > 0.02) | (high < -0.02))).any())
    assert np.mean(single) > 0.30


def test_few_shots_show_no_difference_most_of_the_time():
    rng = np.random.default_rng(6)
    words = [_judge(_season(rng, [20, 20], [0, 0.05]))[2][0] for _ in range(1000)]
    assert np.mean(np.array(words) == NO_DIFFERENCE) > 0.5


def _round_sums(rng, rounds, slope):
    parts = {"wedge_50_100": (6, slope), "putt_0_10": (16, 0.0), "chip_0_30": (5, 0.0)}
    frames = []
    for part, (shots, per_round) in parts.items():
        n = rng.poisson(shots, rounds)
        change = per_round * np.linspace(-0.5, 0.5, rounds) / shots
        total = rng.normal(n * change, 0.33 * np.sqrt(np.maximum(n, 1e-9)))
        frames.append(
            pd.DataFrame({"part": part, "round_key": range(rounds), "n": n, "total": total})
        )
    sizes = pd.DataFrame({"round_key": range(rounds), "round": 1, "holes": 18})
    day = pd.Timestamp("2026-04-01") + pd.to_timedelta(5 * np.arange(rounds), "D")
    sums = pd.concat(frames, ignore_index=True)
    return sums[sums["n"] > 0], sizes.assign(date=day)


@pytest.mark.parametrize("rounds", [12, 40])
def test_level_seasons_and_a_real_change(rounds):
    rng = np.random.default_rng(rounds)
    false, covered = [], []
    for _ in range(150):
        got = trend_table(*_round_sums(rng, rounds, 0.0), seed=1).groupby("part").first()
        false.append((got.drop("total")["verdict"] == MORE_THAN_NOISE).any())
        covered.append((got["change_low"] <= 0) & (got["change_high"] >= 0))
    assert np.mean(false) < 0.11  # 5%, and three standard errors
    assert np.mean(covered) == pytest.approx(0.80, abs=0.06)
    if rounds == 40:
        found = [
            trend_table(*_round_sums(rng, rounds, 2.0), seed=1)
            .groupby("part")["verdict"]
            .first()["wedge_50_100"]
            == MORE_THAN_NOISE
            for _ in range(60)
        ]
        assert np.mean(found) > 0.8
