"""Changes over simulated seasons of nine parts: false alarms, what is found, ranges that hold."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
import pytest
from numpy.typing import NDArray
from statsmodels.stats.multitest import multipletests

from sgzone.review.trend import LEAST_IN_SHORT, SHORT_SEASON
from sgzone.stats.change import CHANCE, Change, changes, enough, halves
from sgzone.terms import MIN_ROUNDS
from tests.study.sizes import Size

Floats = NDArray[np.float64]

RATES = np.array([7.5, 4.4, 0.8, 5.1, 1.0, 0.3, 16.0, 8.7, 3.5])
"""Strokes a round: approach, wedge, pitch, chip, sand, recovery, putts short, middling and long."""
APPROACH, WEDGE, SHORT_PUTTS = 0, 1, 6
SPREAD, ROUND_SD = 0.33, 0.035
FAMILY = np.array([*np.zeros(len(RATES), int), 1])

STEPS = {"wedge": (WEDGE, 0.20), "approach": (APPROACH, 0.20), "short putts": (SHORT_PUTTS, 0.07)}
"""A step up half-way, strokes a shot; a ramp has the same difference of its halves."""


class Season(NamedTuple):
    """What was found, the true step of every part and the total, and which were judged."""

    found: Change
    step: Floats
    asked: NDArray[np.bool_]

    @property
    def alone(self) -> Floats:
        """The smaller of both p-values, uncorrected."""
        return np.minimum(self.found.step.p, self.found.line.p)

    def any_part(self, called: NDArray[np.bool_]) -> bool:
        """Return whether a part that is judged is called, the total left out."""
        return bool((called & self.asked)[:-1].any())


def _season(rng: np.random.Generator, rounds: int, part: int, gain: Floats) -> Season:
    """Play a season in which one part gains ``gain`` more strokes a shot, round by round."""
    weight = rng.poisson(RATES, (rounds, len(RATES))).astype(float)
    mean = np.zeros_like(weight)
    mean[:, part] = gain
    mean += rng.normal(0, ROUND_SD, (rounds, 1))
    total = rng.normal(weight * mean, SPREAD * np.sqrt(weight))
    total = np.column_stack([total, total.sum(axis=1)])
    weight = np.column_stack([weight, np.ones(rounds)])
    cut, least = halves(rounds), MIN_ROUNDS if rounds >= SHORT_SEASON else LEAST_IN_SHORT
    asked = enough(weight, cut, least)
    found = changes(total, weight, cut, asked, FAMILY, rng)
    step = np.zeros(len(RATES) + 1)
    step[part] = gain[cut[1] :].mean() - gain[: cut[0]].mean()
    step[-1] = RATES[part] * step[part]
    return Season(found, step, asked)


@cache
def _level(size: Size, rounds: int) -> tuple[Season, ...]:
    rng, n = np.random.default_rng(rounds), size.of(1200, 80)
    return tuple(_season(rng, rounds, 0, np.zeros(rounds)) for _ in range(n))


@cache
def _changing(size: Size, name: str, ramp: bool) -> tuple[Season, ...]:
    part, step = STEPS[name]
    gain = np.linspace(-step, step, 40) if ramp else np.repeat([0.0, step], 20)
    rng, n = np.random.default_rng(part + 10 * ramp), size.of(400, 50)
    return tuple(_season(rng, 40, part, gain) for _ in range(n))


def _limit(n: int) -> float:
    return CHANCE + 3 * float(np.sqrt(CHANCE * (1 - CHANCE) / n))


@pytest.mark.parametrize("rounds", [10, 20, 40])
def test_level_seasons_are_called_a_change_in_one_of_twenty(size, rounds):
    """Any part, and the total by itself."""
    seasons = _level(size, rounds)
    assert np.mean([s.any_part(s.found.called) for s in seasons]) <= _limit(len(seasons))
    assert np.mean([s.found.called[-1] for s in seasons]) <= _limit(len(seasons))


@pytest.mark.parametrize("rounds", [10, 20, 40])
def test_each_part_by_itself_would_be_called_too_often(size, rounds):
    """The control: without the correction some part is called in a third of level seasons."""
    seasons = _level(size, rounds)
    wrong = np.mean([s.any_part(s.alone < CHANCE) for s in seasons])
    assert wrong > max(_limit(len(seasons)), size.least(0.3, len(seasons)))


@pytest.mark.parametrize("rounds", [10, 20, 40])
def test_the_ranges_hold_all_parts_at_once(size, rounds):
    seasons = _level(size, rounds)
    held = np.mean([_held(s) for s in seasons])
    assert held >= size.least(0.95, len(seasons))
    alone = np.mean([_held(s, 0.05) for s in seasons])
    assert alone < size.least(0.95, len(seasons))  # the control: 95% for each by itself


def test_the_ranges_hold_a_change(size):
    seasons = _changing(size, "wedge", ramp=False)
    assert np.mean([_held(s) for s in seasons]) >= size.least(0.95, len(seasons))


def _held(season: Season, chance: float | None = None) -> bool:
    step = season.found.step
    half = step.half_width(season.found.alpha if chance is None else chance)
    inside = np.abs(step.value - season.step) <= half
    return bool(inside[:-1][season.asked[:-1]].all())


@pytest.mark.parametrize(
    ("name", "least"), [("wedge", 0.7), ("approach", 0.9), ("short putts", 0.2)]
)
def test_a_step_is_found(size, name, least):
    seasons = _changing(size, name, ramp=False)
    part = STEPS[name][0]
    assert np.mean([s.found.called[part] for s in seasons]) >= size.least(least, len(seasons))
    others = [np.delete(s.found.called[:-1], part).any() for s in seasons]
    assert np.mean(others) <= _limit(len(seasons))


def test_a_ramp_is_found_by_the_line_where_the_halves_miss_it(size):
    """Both tests together find more ramps than the halves by themselves, at the same level."""
    both, by_halves = [], []
    for name, (part, _) in STEPS.items():
        seasons = _changing(size, name, ramp=True)
        both += [s.found.called[part] for s in seasons]
        by_halves += [_holm(s, s.found.step.p)[part] for s in seasons]
    assert np.mean(both) > np.mean(by_halves)


def _holm(season: Season, p: Floats) -> NDArray[np.bool_]:
    """Return which parts Holm's correction of one test would call."""
    called = np.zeros(len(p), bool)
    judged = np.flatnonzero(season.asked[:-1])
    called[judged] = multipletests(p[judged], CHANCE, "holm")[0]
    return called
