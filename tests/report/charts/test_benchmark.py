"""The chart of a fitted benchmark draws both curves, the band and the strokes, lie by lie."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks.fit import fit_benchmark
from sgzone.benchmarks.shown import curve_table, point_table
from sgzone.report.charts.benchmark import benchmark_curves
from tests.benchmarks.squads import TOUR, Level, sample


def test_both_curves_the_band_and_the_strokes() -> None:
    rng = np.random.default_rng(8)
    rows = sample(Level(0.6), 150, rng).assign(round_key=rng.integers(20, size=600))
    fitted = fit_benchmark("squad", TOUR, rows)
    curves, points = curve_table(fitted, TOUR), point_table(rows)
    spec = benchmark_curves(curves, points, "squad", "tour").to_dict()
    titles = [panel["layer"][0]["encoding"]["x"]["title"] for panel in spec["vconcat"]]
    assert titles == [
        *("from the fairway, yd", "from the rough, yd", "from the sand, yd"),
        "from the green, ft",
    ]
    rough = spec["vconcat"][1]
    band, lines, whiskers, dots = (
        pd.DataFrame(spec["datasets"][layer["data"]["name"]]) for layer in rough["layer"]
    )
    want = curves[curves["lie"] == "rough"]
    assert band["low"].to_numpy() == pytest.approx(want["low"].to_numpy())
    assert band["high"].to_numpy() == pytest.approx(want["high"].to_numpy())
    assert band["distance"].to_numpy() == pytest.approx(want["distance_ft"].to_numpy() / 3)
    for name, column in (("squad", "fitted"), ("tour", "base")):
        drawn = lines[lines["curve"] == name]["strokes"].to_numpy()
        assert drawn == pytest.approx(want[column].to_numpy())
    seen = points[points["lie"] == "rough"]
    assert dots["strokes"].tolist() == pytest.approx(seen["strokes"].tolist())
    assert dots["n"].sum() == 150
    assert whiskers["low"].tolist() == pytest.approx(seen["low"].tolist(), nan_ok=True)
    encoding = rough["layer"][1]["encoding"]
    assert encoding["color"]["scale"]["domain"] == ["squad", "tour"]
    assert (
        encoding["strokeDash"]["scale"]["range"][0] != encoding["strokeDash"]["scale"]["range"][1]
    )
    assert rough["layer"][0]["encoding"]["y"]["title"] == "strokes to hole out"
