"""A fitted benchmark: the base without strokes, moved by them, rising, with n and band."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import Benchmark, benchmark, fit
from sgzone.benchmarks.fit import NODES_FT, PRIOR, STROKE_SD, fit_benchmark
from sgzone.terms import BENCHMARK_NAMES, WOMEN_NAMES
from tests.benchmarks.squads import NO_STROKES, TOUR, Level, known, play, sample

FEET = np.arange(1.0, 2100.0)


def _rms(fitted: Benchmark, level: Level) -> float:
    knots = known(fitted)
    truth = [
        level.expected(lie, np.array([feet]))[0]
        for lie, feet in zip(knots["lie"], knots["feet"], strict=True)
    ]
    return float(np.sqrt(np.mean((knots["strokes"] - truth) ** 2)))


@pytest.mark.parametrize("name", [*BENCHMARK_NAMES, *WOMEN_NAMES])
def test_without_strokes_it_is_the_base_falls_and_all(name: str) -> None:
    base = benchmark(name)
    fitted = fit_benchmark("squad", base, NO_STROKES)
    assert fitted.lies == base.lies
    for lie in base.lies:
        assert (fitted.expected(lie, FEET) == base.expected(lie, FEET)).all(), lie
        assert (fitted.status(lie, FEET) == base.status(lie, FEET)).all(), lie
    assert (fitted.knots["n"] == 0).all()
    assert fitted.knots[["low", "high"]].isna().all().all()
    assert fitted.players == ()


def test_a_lie_without_strokes_keeps_the_bases_curve() -> None:
    rows = play(Level(0.5), "rough", 200, np.random.default_rng(1))
    fitted = fit_benchmark("squad", TOUR, rows)
    for lie in ("tee", "fairway", "sand", "recovery", "green", "fringe"):
        assert (fitted.expected(lie, FEET) == TOUR.expected(lie, FEET)).all(), lie
    assert (fitted.expected("rough", FEET) > TOUR.expected("rough", FEET)).all()


def test_curves_put_together_after_every_lie_come_out_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Only the green's and the fairway's are run into by others: without them it differs."""
    rng = np.random.default_rng(4)
    rows = pd.concat([play(Level(1.0), lie, 40, rng) for lie in TOUR.lies if lie != "fringe"])
    near = rows[rows["lie"] != "green"].assign(distance_ft=9.0)  # nearer than the first knots
    rows = pd.concat([rows, near], ignore_index=True)
    found = fit_benchmark("squad", TOUR, rows).knots
    monkeypatch.setattr(fit, "_LEANED_ON", TOUR.lies)
    pd.testing.assert_frame_equal(fit_benchmark("squad", TOUR, rows).knots, found, check_exact=True)
    for left in ((), ("green",), ("fairway",)):
        monkeypatch.setattr(fit, "_LEANED_ON", left)
        other = fit_benchmark("squad", TOUR, rows).knots
        assert not other["strokes"].equals(found["strokes"]), left


def test_one_stroke_by_hand() -> None:
    rows = NO_STROKES.copy()
    rows.loc[0] = [1, "Ada", "sand", 60.0, 5.0, 0.0]
    fitted = fit_benchmark("squad", TOUR, rows)
    # at the node 20 yd: prior variance v, shift = v / (v + sd^2) x (5 - 2.53)
    middle = np.log(NODES_FT).mean()
    # the tee lines of tour and amateur-90 are 0.46 strokes apart at 20 yd
    level = 0.5 * 0.46
    v = PRIOR.common**2 + PRIOR.tilt**2 * (np.log(60) - middle) ** 2 + PRIOR.local**2 + level**2
    knot = fitted.knots.query("lie == 'sand' and distance == 20").iloc[0]
    assert knot["strokes"] == pytest.approx(2.53 + v / (v + STROKE_SD**2) * (5 - 2.53))
    half = 1.6448536 * np.sqrt(v * STROKE_SD**2 / (v + STROKE_SD**2))
    assert (knot["high"] - knot["low"]) / 2 == pytest.approx(half, rel=1e-6)
    assert (knot["n"], knot["status"], knot["source"]) == (1, "derived", "squad+broadie2012")


def test_the_shift_goes_on_inside_the_first_knot_and_beyond_the_zone() -> None:
    rows = play(Level(0.6), "fairway", 400, np.random.default_rng(2))
    fitted = fit_benchmark("squad", TOUR, rows)
    moved = fitted.expected("fairway", FEET) - TOUR.expected("fairway", FEET)
    assert moved[:30] == pytest.approx(np.full(30, moved[29]))
    # but for the cubic between the base's knots on either side of the added one at 150 yd
    assert moved[480:] == pytest.approx(np.full(len(moved) - 480, moved[480]), abs=3e-4)
    far = fitted.knots.query("lie == 'fairway' and distance > 150")
    assert set(far["status"]) == {"extrapolated"}
    assert set(far["n"]) == {0}


def test_two_hundred_strokes_a_lie_are_enough_and_wrong_units_are_seen() -> None:
    level = Level(0.5)
    rng = np.random.default_rng(4)
    right, wrong = [], []
    for _ in range(8):
        rows = sample(level, 200, rng)
        right.append(_rms(fit_benchmark("squad", TOUR, rows), level))
        off = rows["lie"] != "green"
        yards = rows.assign(distance_ft=rows["distance_ft"].where(~off, rows["distance_ft"] / 3))
        wrong.append(_rms(fit_benchmark("squad", TOUR, yards), level))
    assert np.sqrt(np.mean(np.square(right))) < 0.06
    assert np.sqrt(np.mean(np.square(wrong))) > 0.10


@pytest.mark.parametrize("seed", range(12))
def test_it_rises_where_the_base_does(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rows = sample(Level(rng.uniform(-0.3, 1.2), 0.3, rng.uniform(0, 6)), 40, rng)
    fitted = fit_benchmark("squad", TOUR, rows)
    for lie in ("fairway", "rough", "sand", "green"):
        base = TOUR.knots[TOUR.knots["lie"] == lie].sort_values("distance")
        falls = np.flatnonzero(np.diff(base["strokes"]) < 0)
        feet = np.arange(1.0, 91.0 if lie == "green" else 1800.0)
        per = 1.0 if lie == "green" else 3.0
        free = np.zeros(len(feet), bool)
        for place in falls:
            left, right = base["distance"].iloc[[place, place + 1]] * per
            free |= (feet >= left) & (feet <= right)
        climbs = ~(free[1:] & free[:-1])
        assert (np.diff(fitted.expected(lie, feet))[climbs] >= -1e-9).all(), lie
    assert (fitted.knots["strokes"] >= 1).all()


def test_putts_move_by_what_goes_in_and_by_three_putts() -> None:
    feet = np.repeat([5.0, 40.0], [200, 200])
    base = fit_benchmark("squad", TOUR, NO_STROKES).expected("green", [5.0, 40.0])
    rows = pd.DataFrame({"round_key": 1, "player": "Ada", "lie": "green", "distance_ft": feet})
    # from 5 ft half go in (tour: 77%), no three-putts; from 40 ft none go in, a third three-putts
    strokes = np.concatenate([np.tile([1.0, 2.0], 100), np.resize([2.0, 2.0, 3.0], 200)])
    rows = rows.assign(strokes=strokes, holed=(strokes == 1).astype(float))
    fitted = fit_benchmark("squad", TOUR, rows)
    near, far = fitted.expected("green", [5.0, 40.0])
    assert base[0] + 0.15 < near < 1.55
    assert base[1] + 0.15 < far < 2.40
    calm = rows.assign(strokes=np.minimum(strokes, 2))
    assert fit_benchmark("squad", TOUR, calm).expected("green", 40.0) < far - 0.15


def test_knots_say_how_many_strokes_and_what_they_carry() -> None:
    rows = play(Level(0.5), "fairway", 300, np.random.default_rng(5))
    rows = rows[rows["distance_ft"].between(150, 330)]
    knots = fit_benchmark("squad", TOUR, rows).knots.query("lie == 'fairway'")
    assert knots["n"].sum() == len(rows)
    status = knots.set_index("distance")["status"]
    assert status[[60.0, 100.0]].tolist() == ["fitted", "fitted"]
    assert status[[10.0, 20.0, 140.0, 200.0]].tolist() == ["extrapolated"] * 4
    assert (knots["low"] <= knots["strokes"]).all()
    assert (knots["strokes"] <= knots["high"]).all()


def test_an_own_curve_in_metres_may_be_the_base(tmp_path: object) -> None:
    text = (
        "lie,distance,unit,strokes,source\n"
        "green,1,m,1.1,x\ngreen,10,m,2.0,x\nfairway,20,m,2.5,x\nfairway,120,m,3.0,x\n"
    )
    path = tmp_path / "base.csv"  # type: ignore[operator]
    path.write_text(text)
    base = benchmark(path)
    rows = sample(Level(0.5), 100, np.random.default_rng(6))
    fitted = fit_benchmark("squad", base, rows)
    assert fitted.lies == ("fairway", "green")
    assert set(fitted.knots["unit"]) == {"m"}
    nodes = fitted.knots.query("lie == 'fairway'")["distance"] / 0.9144
    assert {40.0, 70.0, 100.0} <= set(nodes.round(6))
