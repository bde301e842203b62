"""The curves against the printed figures they stand on. Each check names its source.

Tolerances are those of the printed digits unless stated. The same checks, run on curves that read
feet as yards, must fail.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from sgzone.benchmarks import benchmark
from sgzone.benchmarks.sources import anchor, read_published
from sgzone.terms import BENCHMARK_NAMES
from sgzone.units import parse_distance, to_ft

Expected = Callable[[str, str, float], float]
TEE_LINE = "tee line J = a + b d, "


def curve(name: str, lie: str, distance_ft: float) -> float:
    return float(benchmark(name).expected(lie, distance_ft))


def feet_as_yards(name: str, lie: str, distance_ft: float) -> float:
    return float(benchmark(name).expected(lie, distance_ft * 3))


def prints_as(value: float, printed: str) -> bool:
    decimals = len(printed.partition(".")[2])
    return float(f"{value:.{decimals}f}") == float(printed)


def check_tour_off_green(expected: Expected) -> None:
    """broadie2012, Table B.1."""
    for row in read_published("tour_off_green.csv").itertuples():
        assert prints_as(expected("tour", row.lie, float(row.distance_yd) * 3), row.strokes), row


def check_putts(expected: Expected) -> None:
    """broadie2014, putting tables (table B); broadie2011, Figure 1 table (table A) for 90 ft."""
    rows = read_published("expected_putts.csv")
    far = (rows["table"] == "A") & (rows["distance_ft"] == "90")
    used = rows[far | ((rows["table"] == "B") & (rows["status"] != "memory"))]
    assert len(used) == 16 + 15 + 15 + 1
    for row in used.itertuples():
        assert prints_as(expected(row.population, "green", float(row.distance_ft)), row.putts), row


def check_two_putt_distance(expected: Expected) -> None:
    """broadie2012: putts average 2.0 from 33 ft on tour and from 19 ft for a 90-golfer."""
    for name in ("tour", "amateur-90"):
        feet = anchor(name, "distance where putts average 2.0", "green").value
        assert prints_as(expected(name, "green", feet), "2.0"), name


def check_worked_examples(expected: Expected) -> None:
    """tour_putting_2011, broadie2011 and broadie2008 (scratch): gained, one stroke or the whole."""
    for row in read_published("worked_examples.csv").itertuples():
        name = "scratch" if row.example.startswith("scratch") else "tour"
        before = expected(name, *_place(row.start))
        after = 0.0 if row.end == "holed" else expected(name, *_place(row.end))
        putts = re.match(r"(\d) putt", row.shot)
        strokes = int(putts[1]) if putts else 1
        assert prints_as(before, row.expected_before), row
        assert prints_as(after, row.expected_after), row
        assert prints_as(before - after - strokes, row.gained), row


def _place(text: str) -> tuple[str, float]:
    """Read ``140 yd tee``, ``14 ft green``, ``33 ft`` (a putt)."""
    match = re.fullmatch(r"(.*?)\s*(tee|green)?", text)
    assert match is not None
    return match[2] or "green", parse_distance(match[1], "ft")


def check_amateur_tee(expected: Expected) -> None:
    """A 90-golfer's 150 yd tee shot: broadie2008's line, and usga_rating's bogey yardage rating."""
    here = expected("amateur-90", "tee", to_ft(150, "yd"))
    intercept = anchor("amateur-90", TEE_LINE + "intercept a", "par-3 to par-5 tees").value
    slope = anchor("amateur-90", TEE_LINE + "slope b", "d in yd").value
    assert intercept + slope * 150 == pytest.approx(3.78)
    assert here == pytest.approx(intercept + slope * 150, abs=0.025)

    rating = read_published("course_rating.csv").set_index(["quantity", "group"])["value"]
    formula = rating[("bogey yardage rating", "men")]
    match = re.fullmatch(r"yards/(\d+) \+ ([\d.]+)", formula)
    assert match is not None
    per_hole = 150 / float(match[1]) + float(match[2]) / 18
    assert here == pytest.approx(per_hole, abs=0.05)


def check_scratch_tee(expected: Expected) -> None:
    """broadie2008: a scratch golfer takes 3.2 from a 140 yd par-3 tee."""
    printed = anchor("scratch", "expected strokes", "140 yd par-3 tee").value
    assert expected("scratch", "tee", to_ft(140, "yd")) == pytest.approx(printed, abs=0.05)


CHECKS = [
    check_tour_off_green,
    check_putts,
    check_two_putt_distance,
    check_worked_examples,
    check_amateur_tee,
    check_scratch_tee,
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_the_curve_gives_the_printed_figures(check: Callable[[Expected], None]) -> None:
    check(curve)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_reading_feet_as_yards_fails_the_same_check(check: Callable[[Expected], None]) -> None:
    with pytest.raises(AssertionError):
        check(feet_as_yards)


@pytest.mark.parametrize("name", BENCHMARK_NAMES)
def test_every_knot_in_use_lies_on_its_curve(name: str) -> None:
    chosen = benchmark(name)
    knots = chosen.knots
    feet = np.where(knots["unit"] == "yd", knots["distance"] * 3, knots["distance"])
    assert set(knots["unit"]) == {"yd", "ft"}
    np.testing.assert_allclose(
        chosen.expected(knots["lie"], feet), knots["strokes"], rtol=0, atol=1e-12
    )
