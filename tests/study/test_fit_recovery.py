"""Fitted benchmarks against known truth: error, cover of the band, wrong units, real putting."""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.benchmarks.fit import fit_benchmark
from sgzone.benchmarks.outcomes import outcomes
from sgzone.benchmarks.placing import bands_of
from sgzone.demo.player import Player
from sgzone.demo.presets import strong_amateur, tour_level
from sgzone.demo.simulate import write_cards
from sgzone.season.store import open_store
from tests.benchmarks.squads import TOUR, Level, known, sample
from tests.study.sizes import SMALL, Size

LIES = ("fairway", "rough", "sand", "green")
PER_STROKE = 0.7  # sd of the strokes that are left, at most
PLAYERS = {"strong amateur": strong_amateur("A"), "tour level": tour_level()}


def _scores(fitted: Benchmark, level: Level) -> pd.DataFrame:
    knots = known(fitted)
    truth = np.concatenate(
        [level.expected(str(lie), rows["feet"].to_numpy()) for lie, rows in knots.groupby("lie")]
    )
    knots = pd.concat([rows for _, rows in knots.groupby("lie")])
    inside = (knots["low"] <= truth) & (truth <= knots["high"])
    return pd.DataFrame({"square": (knots["strokes"] - truth) ** 2, "inside": inside})


def _study(
    n: int, size: Size, wave: float = 0.03, *, in_yards: bool = False
) -> tuple[float, float]:
    rng = np.random.default_rng(n)
    found = []
    for _ in range(_samples(size)):
        level = Level(rng.uniform(0, 0.7), wave, rng.uniform(0, 2 * np.pi))
        rows = sample(level, n, rng)
        if in_yards:
            near = rows["distance_ft"].where(rows["lie"] == "green", rows["distance_ft"] / 3)
            rows = rows.assign(distance_ft=near)
        found.append(_scores(fit_benchmark("squad", TOUR, rows), level))
    table = pd.concat(found)
    return float(np.sqrt(table["square"].mean())), float(table["inside"].mean())


def _samples(size: Size) -> int:
    return size.of(40, 12)


def _covers(cover: float, size: Size, n: int) -> bool:
    return size.least(0.85, n) <= cover <= size.most(0.99, n)


def _most(error: float, size: Size, n: int) -> float:
    """Return the largest root mean square of n errors whose true one is ``error``."""
    return error * (1 + 3 * size.small / np.sqrt(2 * n))


@pytest.mark.parametrize(("n", "most"), [(50, 0.095), (200, 0.06), (800, 0.04)])
def test_error_and_cover_at_known_levels(size: Size, n: int, most: float) -> None:
    error, cover = _study(n, size)
    curves = _samples(size) * len(LIES)  # the knots of one curve err together
    assert error < _most(most, size, curves)
    assert _covers(cover, size, curves)


def test_a_larger_wave_of_their_own_is_followed_too(size: Size) -> None:
    error, cover = _study(200, size, wave=0.05)
    curves = _samples(size) * len(LIES)
    assert error < _most(0.06, size, curves)
    assert _covers(cover, size, curves)


def test_feet_read_as_yards_fail_the_same_check(size: Size) -> None:
    error, cover = _study(200, size, in_yards=True)
    curves = _samples(size) * len(LIES)
    assert error > _most(0.06, size, curves)
    assert not _covers(cover, size, curves)


@pytest.fixture(scope="module", params=PLAYERS)
def strokes(request: pytest.FixtureRequest, size: Size) -> pd.DataFrame:
    """Return very many strokes of a simulated player, by lie and band with a known mean."""
    return _played(PLAYERS[request.param], size)


def _enough(size: Size) -> int:
    """Return how many strokes of a lie and band make its mean the truth."""
    return size.of(1500, 300)


def _played(player: Player, size: Size) -> pd.DataFrame:
    with tempfile.TemporaryDirectory() as folder, open_store() as store:
        path = Path(folder) / "many.parquet"
        write_cards(path, size.of(200_000, 30_000), seed=5, player=player)
        store.load(path)
        rows = outcomes(store, TOUR)
    rows = rows[rows["lie"].isin(LIES)]
    rows = rows.assign(
        cell=rows["lie"] + " " + bands_of(rows["lie"] == "green", rows["distance_ft"]).astype(str)
    )
    return rows[rows.groupby("cell")["strokes"].transform("size") >= _enough(size)]


@pytest.mark.parametrize("base", ["tour", "scratch", "amateur-90"])
def test_error_and_cover_on_simulated_players(strokes: pd.DataFrame, size: Size, base: str) -> None:
    table = _studied(strokes, benchmark(base), size)
    error = np.sqrt((table["error"] ** 2).mean())
    curves = _samples(size) // 2 * len(LIES)
    # what is taken as the truth is itself a mean of strokes
    unsure = size.small * PER_STROKE / np.sqrt(_enough(size))
    assert error < np.hypot(_most(0.06, size, curves), unsure)
    assert _covers(table["inside"].mean(), size, curves)


def test_a_base_two_levels_off_is_left_behind(strokes: pd.DataFrame, size: Size) -> None:
    table = _studied(strokes, benchmark("amateur-90"), size)
    error, before = (np.sqrt((table[name] ** 2).mean()) for name in ("error", "start_error"))
    assert error < _most(0.2, size, _samples(size) // 2 * len(LIES)) * before


@pytest.mark.small_study
def test_curves_of_strokes_one_too_few_fail_the_small_form() -> None:
    """The planted fault: every eighth hole is written down a stroke short."""
    rows = _played(PLAYERS["tour level"], SMALL)
    short = rows["strokes"] - (np.arange(len(rows)) % 8 == 0)
    table = _studied(rows, benchmark("scratch"), SMALL, read=rows.assign(strokes=short))
    curves = _samples(SMALL) // 2 * len(LIES)
    unsure = PER_STROKE / np.sqrt(_enough(SMALL))
    assert np.sqrt((table["error"] ** 2).mean()) > np.hypot(_most(0.06, SMALL, curves), unsure)
    assert not _covers(table["inside"].mean(), SMALL, curves)


def _studied(
    strokes: pd.DataFrame, start: Benchmark, size: Size, read: pd.DataFrame | None = None
) -> pd.DataFrame:
    """Return error and cover by cell of curves fitted to 200 strokes a lie, sample after sample."""
    rng = np.random.default_rng(3)
    cells = strokes.groupby("cell")
    truth = cells["strokes"].mean()
    tested = cells.sample(size.of(400, 200), random_state=1)
    read = strokes if read is None else read
    found = []
    for _ in range(_samples(size) // 2):
        seed = int(rng.integers(2**31))
        fitted = fit_benchmark("player", start, read.groupby("lie").sample(200, random_state=seed))
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
