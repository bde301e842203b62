"""A card that takes finishes for putts is refused; a true one, however good, is not."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator
from scipy.special import expit

from sgzone.errors import DataError, Problem
from sgzone.season import belief
from sgzone.season.belief import tour_share
from sgzone.season.reading import find_problems
from sgzone.season.store import open_store
from sgzone.season.tails import at_least
from tests.season.cardfiles import card_text, write

FINISHES = (22, 18, 31, 9, 20, 26, 14, 28, 19, 24, 12, 30)
TYPED = [
    row
    for hole, feet in enumerate(FINISHES[:12], 1)
    for row in (f"{hole},1,fairway,90", f"{hole},2,green,{min(feet, 30)}")
]


def by_hand(chances: list[float], successes: int) -> float:
    """Add up every way in which so many or more go in."""
    total = 0.0
    for ways in product((0, 1), repeat=len(chances)):
        if sum(ways) >= successes:
            total += float(
                np.prod([p if hit else 1 - p for p, hit in zip(chances, ways, strict=True)])
            )
    return total


@pytest.mark.parametrize("successes", range(-1, 8))
def test_the_tail_is_the_sum_of_all_ways(successes: int) -> None:
    chances = [0.999, 0.5, 0.07, 0.23, 0.88, 0.0, 1.0]
    wanted = by_hand(chances, successes)
    assert at_least(np.array(chances), successes) == pytest.approx(wanted, rel=1e-12)


def test_a_tail_too_small_for_a_difference_from_one(monkeypatch: pytest.MonkeyPatch) -> None:
    assert at_least(np.full(100, 0.01), 100) == pytest.approx(1e-200, rel=1e-9)
    chances = np.random.default_rng(1).uniform(size=3000)
    whole = at_least(chances, 1580)
    monkeypatch.setattr("sgzone.season.tails._BLOCK", 100)
    assert 1e-6 < whole < 1e-2
    assert at_least(chances, 1580) == pytest.approx(whole, abs=1e-13)


def test_the_share_is_the_published_one_at_its_knots() -> None:
    feet = np.array([1.0, 2, 10, 20, 30, 60])
    assert tour_share(feet) == pytest.approx([0.999, 0.99, 0.40, 0.15, 0.07, 0.02], abs=1e-12)
    assert tour_share(np.array([0.2]))[0] == pytest.approx(0.999)
    far = tour_share(np.arange(1.0, 200.0))
    assert (np.diff(far) < 0).all()
    assert 0 < far[-1] < 0.005


def test_between_its_knots_it_is_the_smooth_curve_of_a_library() -> None:
    place, logit = belief._published()
    curve = PchipInterpolator(place, logit)
    feet = np.linspace(1, 60, 400)
    assert tour_share(feet) == pytest.approx(expit(curve(np.log1p(feet))), abs=1e-12)
    far = np.array([75.0, 120.0])
    logit_far = logit[-1] + float(curve(place[-1], 1)) * (np.log1p(far) - place[-1])
    assert tour_share(far) == pytest.approx(expit(logit_far), abs=1e-12)


def problems(tmp_path: Path, *rows: str) -> list[Problem]:
    return find_problems(write(tmp_path, card_text(*rows)))


def test_finishes_typed_as_second_rows_are_refused_once(tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, *TYPED)
    assert (problem.severity, problem.row, problem.column) == ("error", 2, "result")
    assert problem.value == "Ada, 2026-05-14, 1"
    assert problem.wrong == (
        "12 of 12 putts count as holed, half of them from 21 ft or more: beyond belief"
    )
    assert "to_lie and to_distance" in problem.fix
    assert "write holed" in problem.fix
    text = card_text(*TYPED)
    both = text + text.split("\n", 1)[1].replace("-14", "-15")
    (problem,) = find_problems(write(tmp_path, both))
    assert problem.wrong.endswith("beyond belief (and 1 more round)")
    with open_store() as store, pytest.raises(DataError, match="beyond belief"):
        store.load(write(tmp_path, both))


def test_each_way_out_is_one(tmp_path: Path) -> None:
    holed = [row + ",,holed" if "green" in row else row for row in TYPED]
    assert problems(tmp_path, *holed) == []
    played_out = [
        row for n in range(1, 13) for row in (*TYPED[2 * n - 2 : 2 * n], f"{n},3,green,2")
    ]
    assert problems(tmp_path, *played_out) == []


def test_a_few_such_holes_are_noted(tmp_path: Path) -> None:
    (note,) = problems(tmp_path, *TYPED[:10])
    assert (note.severity, note.column) == ("note", "result")
    assert "5 of 5 putts count as holed" in note.wrong
    assert "fewer than 1 round in 1,000 on tour" in note.wrong


def test_putts_of_other_holes_are_no_part_of_it(tmp_path: Path) -> None:
    """A hole marked holed says so itself; misses and putts before a concession count against."""
    marked = [f"{n},1,green,25,,holed" for n in range(13, 37)]
    (problem,) = problems(tmp_path, *TYPED, *marked)
    assert problem.wrong.startswith("12 of 12 putts")
    for feet, told in (("20", ["note"]), ("4", [])):
        missed = [f"{n},1,green,{feet}" for n in range(13, 19)]
        given = [f"{n},2,green,1,,conceded" for n in range(13, 19)]
        found = problems(tmp_path, *TYPED, *missed, *given)
        assert [problem.severity for problem in found] == told
        assert all("12 of 18 putts" in problem.wrong for problem in found)


def season_text(rounds: int, rows: list[str]) -> str:
    head, *lines = card_text(*rows).splitlines()
    days = [f"2025-{1 + n // 28:02}-{1 + n % 28:02}" for n in range(rounds)]
    return "\n".join([head, *(line.replace("2026-05-14", day) for day in days for line in lines)])


def test_rounds_that_are_each_possible_are_refused_together(tmp_path: Path) -> None:
    rows = [f"{n},1,green,{feet}" for n, feet in enumerate((4, 5, 6, 8, 10, 12, 15, 7), 1)]
    text = season_text(12, rows)
    found = find_problems(write(tmp_path, text))
    (error,) = (problem for problem in found if problem.severity == "error")
    assert error.value == "Ada"
    assert error.wrong.startswith("96 of 96 putts count as holed")
    assert error.wrong.endswith("in 12 rounds: beyond belief")
    mine = card_text("1,1,green,20", "1,2,green,1").replace("Ada", "Bea").split("\n", 1)[1]
    found = find_problems(write(tmp_path, text + "\n" + mine))
    (error,) = (problem for problem in found if problem.severity == "error")
    assert error.value == "Ada"


def test_tap_ins_left_out_are_no_crime(tmp_path: Path) -> None:
    rows = [row for n in range(1, 10) for row in (f"{n},1,green,{12 + n}", f"{n},2,green,3")]
    assert find_problems(write(tmp_path, season_text(30, rows))) == []


def test_straight_lines_leave_no_strange_round_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is passed over without its exact chance is far from being noted."""
    draw = np.random.default_rng(5)
    least = 1.0
    for _ in range(3000):
        feet = np.exp(draw.uniform(0, np.log(80), draw.integers(1, 40)))
        share = tour_share(feet)
        made = draw.random(len(feet)) < np.clip(share * draw.uniform(1, 4), 0, 1)
        putts = belief.Putts(np.zeros(len(feet), np.int64), feet, made)
        if not len(putts.lucky(1.0, belief._LUCKY)):
            least = min(least, putts.chance())
    assert belief.STRANGE * 3 < least < 0.1
