"""A user's own benchmark: what is read, what is refused, what it says where it has no knots."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sgzone.benchmarks import Benchmark, benchmark
from sgzone.errors import DataError
from sgzone.terms import BENCHMARK_NAMES, EVERY_LIE, LIES

HEADER = "lie,distance,unit,strokes,source\n"
GOOD = HEADER + (
    "green,3,ft,1.1,team 2025\n"
    "green,10,ft,1.7,team 2025\n"
    "green,30,ft,2.1,team 2025\n"
    "green,60,ft,2.4,team 2025\n"
    "Bunker,10,yd,2.6,team 2025\n"
    "sand,40,yd,3.0,team 2025\n"
    "fairway,40,yd,2.7,team 2025\n"
    "fairway,137.16,m,3.1,team 2025\n"
)


def own(folder: Path, text: str, name: str = "team.csv") -> Benchmark:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return benchmark(str(path))


def problems(folder: Path, text: str) -> list[tuple[int | None, str, str]]:
    with pytest.raises(DataError) as caught:
        own(folder, text)
    assert caught.value.problems
    assert all(problem.wrong and problem.fix for problem in caught.value.problems)
    return [(problem.row, problem.column, problem.value) for problem in caught.value.problems]


def test_knots_come_back_and_lacking_lies_have_no_value(tmp_path: Path) -> None:
    team = own(tmp_path, GOOD)
    assert team.name == "team.csv"
    assert team.lies == ("fairway", "sand", "green")
    values = team.expected(["green", "sand", "fairway", "holed"], [10, 120, 450, 0])
    np.testing.assert_allclose(values, [1.7, 3.0, 3.1, 0.0], rtol=0, atol=1e-12)
    lacking = [lie for lie in LIES if lie not in team.lies]
    assert set(lacking) >= {"tee", "rough", "recovery", "fringe"}
    assert np.isnan(team.expected(lacking, 60)).all()
    assert set(team.status(lacking, 60)) == {""}
    assert set(team.knots["source"]) == {"team 2025"}


def test_rules_outside_its_knots(tmp_path: Path) -> None:
    team = own(tmp_path, GOOD)
    # putts from 10 ft 1.7 + sand's surplus over a 30 ft putt at its first knot, 2.6 - 2.1
    assert team.expected("sand", 10) == pytest.approx(2.2)
    # fairway starts at 120 ft, putts end at 60 ft: the chord to 450 ft gives 2.7 - 60 (0.4 / 330)
    # there, and nearer in it is putts plus what that is over the 60 ft putt
    assert team.expected("fairway", 60) == pytest.approx(2.7 - 60 * 0.4 / 330)
    assert team.expected("fairway", 30) == pytest.approx(2.1 + 2.7 - 60 * 0.4 / 330 - 2.4)
    assert set(team.status("fairway", [30, 90])) == {"extrapolated"}
    assert team.expected("green", 1) == pytest.approx(1.1)
    assert team.expected("sand", 60 * 3) == pytest.approx(3.0 + 20 * 0.4 / 30)
    assert team.status(["sand", "sand", "sand"], [29, 31, 200]).tolist() == [
        "extrapolated",
        "published",
        "extrapolated",
    ]


def test_putts_that_reach_the_first_knot_carry_it_in(tmp_path: Path) -> None:
    text = GOOD.replace("fairway,40", "fairway,15")
    # 45 ft lies between putts, so nearer in it is putts plus the surplus at 45 ft
    team = own(tmp_path, text)
    putt = float(team.expected("green", 45))
    assert team.expected("fairway", 10) == pytest.approx(1.7 + 2.7 - putt)


def test_without_putts_there_is_nothing_before_the_first_knot(tmp_path: Path) -> None:
    text = HEADER + "rough,20,yd,2.6,me\nrough,60,yd,2.9,me\n"
    rough = own(tmp_path, text)
    assert np.isnan(rough.expected("rough", 59.9))
    assert rough.status("rough", 59.9) == ""
    assert rough.expected("rough", 60) == pytest.approx(2.6)
    assert rough.cells()["x_lo"].min() == 60
    assert np.isnan(rough.expected("green", 10))


def test_a_tee_leans_on_the_fairway(tmp_path: Path) -> None:
    text = HEADER + (
        "fairway,50,yd,2.6,me\nfairway,150,yd,3.0,me\ntee,100,yd,2.9,me\ntee,200,yd,3.3,me\n"
    )
    both = own(tmp_path, text)
    # fairway 75 yd 2.7 + the tee's surplus at 100 yd, 2.9 - 2.8
    assert both.expected("tee", 225) == pytest.approx(2.8)


@pytest.mark.parametrize("name", BENCHMARK_NAMES)
def test_a_named_curve_written_out_and_read_back_is_the_same(name: str, tmp_path: Path) -> None:
    named = benchmark(name)
    path = tmp_path / "copy.csv"
    named.knots.to_csv(path, index=False)
    copy = benchmark(path)
    feet = np.linspace(0, 2100, 4201)
    for lie in copy.lies:
        np.testing.assert_array_equal(copy.expected(lie, feet), named.expected(lie, feet))
    assert set(named.lies) - set(copy.lies) == {lie.name for lie in EVERY_LIE if lie.mean_of}


def test_every_problem_is_named_at_once(tmp_path: Path) -> None:
    text = HEADER + (
        "green,3,ft,1.1,me\n"  # 2
        "green,3.5,ft,1.2,me\n"  # 3: closer than 1 ft
        "\n"
        "trees,30,yd,3.2,me\n"  # 5
        "rough,ten,yd,2.4,me\n"  # 6
        "rough,20,miles,2.6,me\n"  # 7
        "rough,30,yd,nan,me\n"  # 8
        "rough,40,yd,27,me\n"  # 9
        "rough,50,yd,2.9,\n"  # 10
        "green,80,yd,2.9,me\n"  # 11: over 200 ft
        "sand,-4,yd,2.9,me\n"  # 12
        "fringe,10,yd,2.0,me\n"  # 13: alone
        "rough,60,yd,0.9,me\n"  # 14
    )
    assert sorted(problems(tmp_path, text)) == [
        (3, "distance", "3.5"),
        (5, "lie", "trees"),
        (6, "distance", "ten"),
        (7, "unit", "miles"),
        (8, "strokes", "nan"),
        (9, "strokes", "27"),
        (10, "source", ""),
        (11, "distance", "80"),
        (12, "distance", "-4"),
        (12, "lie", "sand"),
        (13, "lie", "fringe"),
        (14, "strokes", "0.9"),
    ]


def test_knots_a_foot_apart_are_kept(tmp_path: Path) -> None:
    text = HEADER + "green,3,ft,1.1,me\ngreen,4,ft,1.2,me\n"
    assert own(tmp_path, text).expected("green", 4) == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "is empty"),
        ("lie,distance,strokes\ngreen,3,1.1\n", "unit, source"),
        (HEADER, "1 problem"),
        (HEADER + "green,3,ft,1,1,me\ngreen,4,ft,1,2,me\n", "more cells than the header"),
        (HEADER + "green,3,ft,1.1,me\ngreen,4,ft,1,2,me\n", "more cells than the header"),
    ],
)
def test_files_that_are_no_benchmark(text: str, word: str, tmp_path: Path) -> None:
    with pytest.raises(DataError, match=word) as caught:
        own(tmp_path, text)
    assert len(caught.value.problems) == 1


def test_binary_is_no_benchmark(tmp_path: Path) -> None:
    path = tmp_path / "photo.csv"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe\x00\x01")
    with pytest.raises(DataError, match=r"photo\.csv cannot be read"):
        benchmark(path)


def test_a_curve_that_falls_under_one_stroke_is_refused(tmp_path: Path) -> None:
    text = HEADER + "green,10,ft,1.9,me\ngreen,12,ft,1.8,me\n"
    assert problems(tmp_path, text) == [(None, "strokes", "green")]


def test_a_file_called_tour_is_not_taken_for_the_tour(tmp_path: Path) -> None:
    assert own(tmp_path, GOOD, "tour.csv").name == "tour.csv"
    with pytest.raises(DataError):
        own(tmp_path, HEADER, "tour.csv")


def test_a_column_may_say_what_each_row_rests_on(tmp_path: Path) -> None:
    head, *rows = GOOD.splitlines()
    text = "\n".join([head + ",status", *(f"{row}," for row in rows[:-1]), rows[-1] + ",Derived"])
    team = own(tmp_path, text)
    assert team.status("green", [3, 20]).tolist() == ["published"] * 2
    assert team.status("fairway", 440) == "derived"
    wrong = text.replace("Derived", "measured")
    assert problems(tmp_path, wrong) == [(9, "status", "measured")]
