"""Planted faults: is the cause named, do the intervals cover, do wrong formulas fail?"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.review.why.reference import reference_model
from sgzone.review.why.split import CAUSES, DIRECTIONS, why_table
from sgzone.stats.split import Misses, Reference, set_means
from tests.review.shots import Truth, play

pytestmark = pytest.mark.study

TOUR = benchmark("tour")
FAULTS = {
    "long_short_bias": Truth(depth_bias=-0.8),
    "long_short_spread": Truth(depth_spread=1.4),
    "left_right_bias": Truth(side_bias=1.0),
    "left_right_spread": Truth(side_spread=1.5),
    "penalty": Truth(penalty=0.1),
}
LEAST = {30: 0.75, 100: 0.93, 300: 0.97}
"""A clear fault is named in about .85 / .98 / 1.00 of samples; less two standard errors or so."""


def _parts(strokes: pd.DataFrame, level: float = 0.90) -> pd.DataFrame:
    table = why_table(strokes, TOUR, 180, level=level)
    return table[table["column"] == "total"].set_index("factor")


def _worst(parts: pd.DataFrame) -> str:
    return str(parts.loc[list(CAUSES), "loss_per_shot"].idxmax())


@pytest.mark.parametrize("n", list(LEAST))
def test_clear_faults_are_named_first(n: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sgzone.review.why.split.DRAWS", 2)
    rng = np.random.default_rng(n)
    for fault, truth in FAULTS.items():
        named = [_worst(_parts(play(truth, TOUR, n, max(n // 8, 5), rng))) for _ in range(100)]
        assert np.mean([one == fault for one in named]) >= LEAST[n], fault


def test_intervals_of_planted_causes_cover(monkeypatch: pytest.MonkeyPatch) -> None:
    """90% intervals of the causes that are there, 300 shots in 40 rounds: .81 to .94."""
    truth = Truth(depth_bias=-0.6, depth_spread=1.3, side_bias=0.7, side_spread=1.3)
    rng = np.random.default_rng(11)
    with monkeypatch.context() as fast:
        fast.setattr("sgzone.review.why.split.DRAWS", 2)
        wide = [_parts(play(truth, TOUR, 40_000, 400, rng))["loss_per_shot"] for _ in range(3)]
    true = pd.concat(wide, axis=1).mean(axis=1)
    monkeypatch.setattr("sgzone.review.why.split.DRAWS", 300)
    hits = []
    for _ in range(250):
        parts = _parts(play(truth, TOUR, 300, 40, rng)).loc[list(DIRECTIONS)]
        inside = (parts["low"] <= true[parts.index]) & (true[parts.index] <= parts["high"])
        hits.append(inside)
    cover = pd.concat(hits, axis=1).mean(axis=1)
    assert cover.between(0.81, 0.94).all(), cover.to_dict()


def test_one_at_a_time_loses_part_of_the_whole() -> None:
    """The tempting shortcut, removing one factor at a time, does not add up; the split does."""
    truth = Truth(depth_bias=-1.0, depth_spread=1.5, side_bias=0.8, side_spread=1.5)
    strokes = play(truth, TOUR, 20_000, 200, np.random.default_rng(3))
    model = reference_model(TOUR)
    scatter = model.scatter(strokes["lie"], strokes["distance_ft"])
    depth, side = strokes["depth_ft"].to_numpy(), strokes["side_ft"].to_numpy()
    misses = Misses(depth, side, np.zeros(len(strokes), int))
    reference = Reference(scatter.mean_depth, scatter.sd_depth, 0 * depth, scatter.sd_side)
    worth = set_means(misses, reference, model.table, np.ones((1, 1)))[0].sum(axis=1)
    whole = worth[15] - worth[0]
    removed = sum(worth[15] - worth[15 - bit] for bit in (1, 2, 4, 8))
    assert abs(removed - whole) > 0.05 * whole
    parts = _parts(strokes)["loss_per_shot"]
    assert parts[list(DIRECTIONS)].sum() == pytest.approx(whole, abs=0.01)
    assert abs(parts["rest"]) < 0.01


def test_a_benchmark_player_is_rarely_blamed(monkeypatch: pytest.MonkeyPatch) -> None:
    """No fault planted: a cause whose 90% interval lies above 0 comes up in few samples."""
    monkeypatch.setattr("sgzone.review.why.split.DRAWS", 300)
    rng = np.random.default_rng(21)
    blamed = [
        (_parts(play(Truth(), TOUR, 200, 25, rng)).loc[list(DIRECTIONS), "low"] > 0.0).to_numpy()
        for _ in range(150)
    ]
    assert np.mean(blamed) < 0.08  # 5% of intervals lie above a true 0, and biases hardly ever do
