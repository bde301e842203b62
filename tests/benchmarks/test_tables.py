"""The five named benchmarks by value: knots, shares of the gap, statuses, rules."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.sources import read_published, sources
from sgzone.benchmarks.tables import K_SCRATCH, named_knots, share_of_gap
from sgzone.errors import CallError
from sgzone.terms import BENCHMARK_NAMES, KNOT_STATUSES, LIES
from sgzone.units import to_ft


def test_shares_of_the_gap() -> None:
    shares = {name: round(share_of_gap(name), 4) for name in BENCHMARK_NAMES}
    assert shares == {
        "tour": 0.0,
        "scratch": 0.30,
        "amateur-80": 0.5333,
        "amateur-90": 1.0,
        "amateur-100": 1.4667,
    }


def test_scratch_share_follows_from_putting_tables_and_from_a_par_three() -> None:
    """0.30 within a hundredth, both from the mean ratio of the tables and from 3.2 at 140 yd."""
    table = read_published("expected_putts.csv").query("table == 'B'")
    putts = table.pivot(index="distance_ft", columns="population", values="putts").astype(float)
    ratio = (putts["scratch"] - putts["tour"]) / (putts["amateur-90"] - putts["tour"])
    assert ratio.count() == 15
    assert ratio.mean() == pytest.approx(K_SCRATCH, abs=0.01)
    tour, amateur = (float(benchmark(n).expected("tee", 420)) for n in ("tour", "amateur-90"))
    assert (3.2 - tour) / (amateur - tour) == pytest.approx(K_SCRATCH, abs=0.01)


def test_every_knot_has_a_source_and_a_status() -> None:
    keys = set(sources()["key"])
    for name in BENCHMARK_NAMES:
        knots = named_knots(name)
        assert set(knots["status"]) <= set(KNOT_STATUSES)
        assert {key for joined in knots["source"] for key in joined.split("+")} <= keys


def test_status_of_knots() -> None:
    def statuses(name: str, lie: str) -> set[str]:
        knots = named_knots(name)
        return set(knots.loc[knots["lie"] == lie, "status"])

    assert {s for lie in ("tee", "sand", "green") for s in statuses("tour", lie)} == {"published"}
    assert statuses("scratch", "sand") == {"derived"}
    assert statuses("amateur-90", "sand") == {"uncertain"}
    assert statuses("amateur-90", "rough") == {"derived"}
    assert statuses("amateur-90", "green") == {"published"}
    assert statuses("amateur-100", "green") == {"derived"}


def test_the_far_putt_is_the_one_that_was_seen_in_print() -> None:
    """Table A's 2.36 at 90 ft; table B's 2.40 is from memory and not used."""
    assert benchmark("tour").expected("green", 90) == pytest.approx(2.36)
    far = named_knots("tour").query("lie == 'green' and distance == 90")
    assert far["source"].tolist() == ["broadie2011"]


@pytest.mark.parametrize(
    ("name", "lie", "distance", "unit", "strokes"),
    [
        # putts 15 ft 1.78 + rough's surplus over 30 ft at 10 yd, 2.34 - 1.98
        ("tour", "rough", 5, "yd", 2.14),
        # fairway 60 yd 2.70 + tee's surplus at 100 yd, 2.92 - 2.80
        ("tour", "tee", 60, "yd", 2.82),
        # both: 1.78 + (2.18 - 1.98) + 0.12
        ("tour", "tee", 5, "yd", 2.10),
        # mean of a 60 ft putt 2.21 and fairway 20 yd 2.40
        ("tour", "fringe", 20, "yd", 2.305),
        # mean of a 15 ft putt 1.78 and fairway 5 yd 1.98
        ("tour", "fringe", 15, "ft", 1.88),
        ("tour", "green", 0.5, "ft", 1.00),
        # chord 60 to 90 ft: 2.36 + 30 (2.36 - 2.21) / 30
        ("tour", "green", 120, "ft", 2.51),
        # chord 580 to 600 yd: 4.89 + 50 (4.89 - 4.82) / 20
        ("tour", "fairway", 650, "yd", 5.065),
        # 2.80 + k (0.41 + 0.25)
        ("scratch", "fairway", 100, "yd", 2.998),
        ("amateur-90", "fairway", 100, "yd", 3.46),
        ("amateur-100", "fairway", 100, "yd", 3.768),
        # 1.61 + 8/15 (1.82 - 1.61)
        ("amateur-80", "green", 10, "ft", 1.722),
        ("amateur-100", "green", 10, "ft", 1.918),
        # amateur-90's own last two putts: 2.51 + 30 (2.51 - 2.41) / 10
        ("amateur-90", "green", 90, "ft", 2.81),
    ],
)
def test_rules_by_hand(name: str, lie: str, distance: float, unit: str, strokes: float) -> None:
    value = float(benchmark(name).expected(lie, to_ft(distance, unit)))
    assert value == pytest.approx(strokes, abs=1e-9)


@pytest.mark.parametrize(
    ("lie", "yards", "strokes"),
    [
        ("fairway", 150, "3.73"),
        ("fairway", 100, "3.46"),
        ("fairway", 50, "3.20"),
        ("fairway", 20, "2.86"),
        ("rough", 15, "2.93"),
        ("sand", 12, "2.89"),
    ],
)
def test_ninety_golfer_off_the_green(lie: str, yards: float, strokes: str) -> None:
    value = float(benchmark("amateur-90").expected(lie, yards * 3))
    assert value == pytest.approx(float(strokes), abs=0.005 + 1e-9)


def test_between_knots_it_is_scipys_curve_in_the_printed_unit() -> None:
    """PCHIP does not depend on the unit: through the yards of the table it is the same curve."""
    rows = read_published("tour_off_green.csv").query("lie == 'sand'").astype({"strokes": float})
    yards = rows["distance_yd"].astype(float)
    printed = PchipInterpolator(yards, rows["strokes"])
    at = np.linspace(10, 600, 977)
    ours = benchmark("tour").expected("sand", at * 3)
    np.testing.assert_allclose(ours, printed(at), rtol=0, atol=1e-11)


@pytest.mark.parametrize(
    ("name", "lie", "distance_ft", "status"),
    [
        ("tour", "fairway", 450, "published"),
        ("tour", "fairway", 29, "extrapolated"),
        ("tour", "fairway", 30, "published"),
        ("tour", "tee", 299, "extrapolated"),
        ("tour", "tee", 300, "published"),
        ("tour", "rough", 1801, "extrapolated"),
        ("tour", "green", 90, "extrapolated"),
        ("tour", "green", 89, "published"),
        ("tour", "green", 0.5, "extrapolated"),
        ("tour", "fringe", 60, "derived"),
        ("tour", "fringe", 15, "extrapolated"),
        ("scratch", "rough", 300, "derived"),
        ("scratch", "green", 45, "published"),
        ("amateur-90", "sand", 45, "uncertain"),
        ("amateur-90", "sand", 15, "uncertain"),
        ("amateur-90", "green", 70, "extrapolated"),
        ("amateur-80", "green", 20, "derived"),
        ("tour", "holed", 0, ""),
    ],
)
def test_status_by_distance(name: str, lie: str, distance_ft: float, status: str) -> None:
    assert benchmark(name).status(lie, distance_ft) == status


def test_levels_are_ordered_everywhere() -> None:
    """Better players need fewer strokes from every lie, at every whole foot of the zone."""
    feet = np.arange(1, 451)
    for lie in LIES:
        levels = np.stack([benchmark(name).expected(lie, feet) for name in BENCHMARK_NAMES])
        assert (np.diff(levels, axis=0) >= -1e-12).all(), lie


def test_expected_takes_words_and_arrays() -> None:
    tour = benchmark("tour")
    assert tour.lies == LIES
    assert tour.expected("green", 10).shape == ()
    values = tour.expected(["green", "holed", None, "fairway"], [10, np.nan, 10, np.nan])
    np.testing.assert_array_equal(values, [1.61, 0.0, np.nan, np.nan])
    assert tour.expected(["green", "fairway"], [[30], [90]]).shape == (2, 2)
    assert np.isnan(tour.expected("green", -1))
    with pytest.raises(CallError, match="'fairwy' is not a lie"):
        tour.expected("fairwy", 100)


def test_unknown_name_lists_the_names() -> None:
    with pytest.raises(CallError, match="tour, scratch, amateur-80, amateur-90, amateur-100"):
        benchmark("amateur-95")


def test_a_named_benchmark_is_built_once() -> None:
    assert benchmark("tour") is benchmark("tour")
