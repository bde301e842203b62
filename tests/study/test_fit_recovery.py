"""Fitted benchmarks against known truth: error, cover of the band, wrong units, real putting."""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.benchmarks.calibration import bands_of
from sgzone.benchmarks.fit import fit_benchmark
from sgzone.benchmarks.outcomes import outcomes
from sgzone.demo.player import Player
from sgzone.demo.presets import strong_amateur, tour_level
from sgzone.demo.simulate import write_cards
from sgzone.season.store import open_store
from tests.benchmarks.squads import TOUR, Level, known, sample

pytestmark = pytest.mark.study

LIES = ("fairway", "rough", "sand", "green")
ROWS = 200_000
ENOUGH = 1500  # strokes of a lie and band, for its mean to be taken as the truth
SAMPLES = 40
PLAYERS = {"strong amateur": strong_amateur("A"), "tour level": tour_level()}


def _scores(fitted: Benchmark, level: Level) -> pd.DataFrame:
    knots = known(fitted)
    truth = np.concatenate(
        [level.expected(str(lie), rows["feet"].to_numpy()) for lie, rows in knots.groupby("lie")]
    )
    knots = pd.concat([rows for _, rows in knots.groupby("lie")])
    inside = (knots["low"] <= truth) & (truth <= knots["high"])
    return pd.DataFrame({"square": (knots["strokes"] - truth) ** 2, "inside": inside})


def _study(n: int, wave: float = 0.03, *, in_yards: bool = False) -> tuple[float, float]:
    rng = np.random.default_rng(n)
    found = []
    for _ in range(SAMPLES):
        level = Level(rng.uniform(0, 0.7), wave, rng.uniform(0, 2 * np.pi))
        rows = sample(level, n, rng)
        if in_yards:
            near = rows["distance_ft"].where(rows["lie"] == "green", rows["distance_ft"] / 3)
            rows = rows.assign(distance_ft=near)
        found.append(_scores(fit_benchmark("squad", TOUR, rows), level))
    table = pd.concat(found)
    return float(np.sqrt(table["square"].mean())), float(table["inside"].mean())


@pytest.mark.parametrize(("n", "most"), [(50, 0.095), (200, 0.06), (800, 0.04)])
def test_error_and_cover_at_known_levels(n: int, most: float) -> None:
    error, cover = _study(n)
    assert error < most
    assert 0.85 <= cover <= 0.99


def test_a_larger_wave_of_their_own_is_followed_too() -> None:
    error, cover = _study(200, wave=0.05)
    assert error < 0.06
    assert 0.85 <= cover <= 0.99


def test_feet_read_as_yards_fail_the_same_check() -> None:
    error, cover = _study(200, in_yards=True)
    assert error > 0.06
    assert cover < 0.85


@pytest.fixture(scope="module", params=PLAYERS)
def strokes(request: pytest.FixtureRequest) -> pd.DataFrame:
    """Return very many strokes of a simulated player, by lie and band with a known mean."""
    return _played(PLAYERS[request.param])


def _played(player: Player) -> pd.DataFrame:
    with tempfile.TemporaryDirectory() as folder, open_store() as store:
        path = Path(folder) / "many.parquet"
        write_cards(path, ROWS, seed=5, player=player)
        store.load(path)
        rows = outcomes(store, TOUR)
    rows = rows[rows["lie"].isin(LIES)]
    rows = rows.assign(cell=rows["lie"] + " " + bands_of(rows).astype(str))
    return rows[rows.groupby("cell")["strokes"].transform("size") >= ENOUGH]


@pytest.mark.parametrize("base", ["tour", "scratch", "amateur-90"])
def test_error_and_cover_on_simulated_players(strokes: pd.DataFrame, base: str) -> None:
    table = _studied(strokes, benchmark(base))
    assert np.sqrt((table["error"] ** 2).mean()) < 0.06
    assert 0.85 <= table["inside"].mean() <= 0.99


def test_a_base_two_levels_off_is_left_behind(strokes: pd.DataFrame) -> None:
    table = _studied(strokes, benchmark("amateur-90"))
    error, before = (np.sqrt((table[name] ** 2).mean()) for name in ("error", "start_error"))
    assert error < 0.2 * before


def _studied(strokes: pd.DataFrame, start: Benchmark) -> pd.DataFrame:
    """Return error and cover by cell of curves fitted to 200 strokes a lie, sample after sample."""
    rng = np.random.default_rng(3)
    cells = strokes.groupby("cell")
    truth = cells["strokes"].mean()
    tested = cells.sample(400, random_state=1)
    found = []
    for _ in range(SAMPLES // 2):
        seed = int(rng.integers(2**31))
        fitted = fit_benchmark(
            "player", start, strokes.groupby("lie").sample(200, random_state=seed)
        )
        found.append(_by_cell(fitted, start, strokes, tested, truth))
    return pd.concat(found)


def _by_cell(
    fitted: Benchmark,
    start: Benchmark,
    strokes: pd.DataFrame,
    tested: pd.DataFrame,
    truth: pd.Series,
) -> pd.DataFrame:
    """Return error and cover by cell; the mean of a cell is asked at a sample of its strokes."""
    low, high = (_at_end(fitted, tested, end) for end in ("low", "high"))
    table = pd.DataFrame(
        {
            "cell": tested["cell"],
            "value": fitted.expected(tested["lie"].to_numpy(object), tested["distance_ft"]),
            "low": low,
            "high": high,
            "start": start.expected(tested["lie"].to_numpy(object), tested["distance_ft"]),
        }
    )
    means = table.groupby("cell").mean()
    whole = start.expected(strokes["lie"].to_numpy(object), strokes["distance_ft"])
    # the sample's own places are a little nearer or farther than all of the cell's
    moved = means["start"] - pd.Series(whole, index=strokes.index).groupby(strokes["cell"]).mean()
    want = truth + moved
    below = means["value"] + means["low"] <= want
    above = want <= means["value"] + means["high"]
    return pd.DataFrame(
        {
            "error": means["value"] - want,
            "start_error": means["start"] - want,
            "inside": below & above,
        }
    )


def _at_end(fitted: Benchmark, tested: pd.DataFrame, end: str) -> np.ndarray:
    """Return the band's end less the curve at each stroke; nearer than the first knot its own."""
    half = np.zeros(len(tested))
    for lie, knots in fitted.knots.groupby("lie"):
        here = (tested["lie"] == lie).to_numpy()
        feet = knots["distance"].to_numpy(float) * (1 if lie == "green" else 3)
        gap = (knots[end] - knots["strokes"]).to_numpy(float)
        half[here] = np.interp(tested["distance_ft"].to_numpy(float)[here], feet, gap)
    return half
