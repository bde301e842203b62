"""Seasons of a simulated golfer: does the range of the standard hold the true one as it says?

The truth is that of very many rounds of the same golfer, by the same definition of the standard;
the simulator knows nothing of it.
"""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.benchmarks.placing import parts_of
from sgzone.demo.courses import CHAMPIONSHIP
from sgzone.demo.presets import strong_amateur
from sgzone.demo.rounds import play_rounds
from sgzone.review.where.plays_like import LEVELS, against_the_family
from sgzone.stats.fieller import ratio_range
from sgzone.terms import OUTSIDE

READ = [one for one in LEVELS if one.rounds is not None]
SEASONS = (10, 20, 40)


@pytest.fixture(scope="module")
def sums(size):
    """A, B and the gap at the starts alone of each round: part -> (rounds, 3)."""
    rounds = size.of(6000, 1200)
    strokes = play_rounds(
        np.random.default_rng(12),
        strong_amateur(),
        CHAMPIONSHIP,
        np.arange(rounds) % len(CHAMPIONSHIP),
    )
    strokes = strokes.assign(part=parts_of(strokes["lie"], strokes["distance_ft"]))
    strokes = strokes[strokes["part"] != OUTSIDE]
    starts = strokes.assign(end_lie="holed", end_distance_ft=0.0)
    gap = against_the_family(starts, 1.0)["gap"]
    values = strokes.assign(**against_the_family(strokes, 1.0), starts=gap)
    values = values.dropna(subset=["against_tour", "gap"])
    found = {}
    for one in READ:
        own = values[values["part"].isin(one.parts)]
        table = own.groupby("round_id")[["against_tour", "gap", "starts"]].sum()
        found[one.name] = table.reindex(range(rounds)).to_numpy()
    return found


def _covered(table, season, *, by_delta=False, gap=1):
    """Return how often seasons of so many rounds hold the k of all rounds, and of how many.

    ``gap``: the column that the seasons take for B.
    """
    known = table[~np.isnan(table).any(axis=1)]
    truth = -known[:, 0].sum() / known[:, 1].sum()
    held = []
    for first in range(0, len(table) - season + 1, season):
        own = table[first : first + season]
        own = own[~np.isnan(own).any(axis=1)]
        middle, low, high = ratio_range(-own[:, 0], own[:, gap], 0.8)
        if by_delta:  # the plain standard error of the sum, normal, as if rounds were many
            rest = own[:, 0] + middle * own[:, 1]
            half = 1.2816 * np.std(rest) * np.sqrt(len(own)) / own[:, 1].sum()
            low, high = middle - half, middle + half
        if not np.isnan(low):
            held.append(low <= truth <= high)
    return np.mean(held), len(held)


@pytest.mark.parametrize("season", SEASONS)
def test_the_range_holds_the_standard_as_often_as_it_says(sums, size, season):
    for one in READ:
        rate, n = _covered(sums[one.name], season)
        error = 3 * np.sqrt(0.8 * 0.2 / n)
        assert 0.78 - error <= rate <= 0.83 + error, (one.name, rate, n)


def test_a_delta_range_of_few_rounds_holds_it_less(sums, size):
    """The control: no t, no factor of few rounds."""
    pairs = [(_covered(t, 10)[0], _covered(t, 10, by_delta=True)[0]) for t in sums.values()]
    ours, delta = np.mean(pairs, axis=0)
    assert delta < ours - 0.03


@pytest.mark.small_study
def test_the_gap_of_the_starts_alone_fails_the_small_form(sums):
    """The planted fault: the gap at the ends of the strokes forgotten."""
    rate, n = _covered(sums["approach_100_150"], 40, gap=2)
    assert rate < 0.78 - 3 * np.sqrt(0.8 * 0.2 / n)
