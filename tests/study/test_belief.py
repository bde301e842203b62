"""Cards that are true and cards whose second rows are finishes: which of them are refused.

True rounds are those of a simulated golfer as far as the greens; there every putt goes in with the
tour's share of that distance, or with better odds, and what is missed leaves a short one.
"""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.demo.courses import CHAMPIONSHIP
from sgzone.demo.presets import strong_amateur
from sgzone.demo.rounds import play_rounds
from sgzone.season.belief import BEYOND, FILE_ODDS, STRANGE, Putts, tour_share
from tests.study.sizes import Size

SEASON = 40
BETTER = {0.0: 1.0, 1.0: 1.4, 1.8: 1.78}
"""Putts made a round more than the tour makes from there -> times the tour's odds."""
MOST_NOTED = {0.0: 0.002, 1.0: 0.006, 1.8: 0.02}
TYPED = {8: 0.50, 9: 0.74, 10: 0.88, 12: 0.98}
"""Holes of one round typed as start and finish -> least share of such rounds refused."""
TYPED_FILE = {10: 0.24, 12: 0.66, 14: 0.91}
"""The same over several rounds, none of which is refused by itself."""


@pytest.fixture(scope="module")
def strokes(size: Size):
    """Strokes of a simulated golfer's rounds."""
    rounds = size.of(1600, 400)
    course = np.arange(rounds) % len(CHAMPIONSHIP)
    return play_rounds(np.random.default_rng(19), strong_amateur(), CHAMPIONSHIP, course)


@pytest.fixture(scope="module")
def greens(strokes):
    """First putts of each round, feet."""
    putts = strokes[strokes["lie"] == "green"].drop_duplicates(["round_id", "hole"])
    return [own.to_numpy(float) for _, own in putts.groupby("round_id")["distance_ft"]]


@pytest.fixture(scope="module")
def finishes(strokes):
    """Where wedges from 50 to 125 yards finish on the green, feet."""
    wedge = strokes["distance_ft"].between(150, 375) & (strokes["lie"] != "tee")
    return strokes.loc[wedge & (strokes["end_lie"] == "green"), "end_distance_ft"].to_numpy(float)


def played(seed, greens, odds):
    """Return the putts of each round: every hole is putted out."""
    draw = np.random.default_rng(seed)
    ahead = np.concatenate(greens)
    round_no = np.repeat(np.arange(len(greens)), [len(firsts) for firsts in greens])
    feet, numbers, holed = [], [], []
    while len(ahead):
        share = tour_share(ahead)
        went_in = draw.random(len(ahead)) < share * odds / (1 + share * (odds - 1))
        feet, numbers, holed = [*feet, ahead], [*numbers, round_no], [*holed, went_in]
        ahead, round_no = ahead[~went_in], round_no[~went_in]
        ahead = 0.5 + np.abs(draw.normal(0, 0.12 * ahead))
    putts = Putts(np.concatenate(numbers), np.concatenate(feet), np.concatenate(holed))
    return [*putts.groups(putts.round_no).values()]


def all_in(draw, feet, holes):
    """Return a round of putts of these lengths, each taken as holed."""
    return Putts(np.zeros(holes, np.int64), draw.choice(feet, holes), np.ones(holes, bool))


def together(rounds):
    names = ("round_no", "feet", "counted")
    return Putts(*(np.concatenate([getattr(one, name) for one in rounds]) for name in names))


def files(rounds, length):
    return [together(rounds[n : n + length]) for n in range(0, len(rounds) - length + 1, length)]


def refused(putts, odds=1.0):
    return np.mean([one.chance(odds) < BEYOND for one in putts])


@pytest.mark.parametrize("better", BETTER)
def test_no_true_round_and_no_true_file_is_refused(size: Size, greens, better) -> None:
    rounds = played(3, greens, BETTER[better])
    made = together(rounds)
    gain = (made.counted.sum() - tour_share(made.feet).sum()) / len(rounds)
    assert gain == pytest.approx(better, abs=0.4 if size.small else 0.15)
    assert refused(rounds) == 0
    noted = np.mean([one.chance() < STRANGE for one in rounds])
    assert noted <= size.most(MOST_NOTED[better], len(rounds))
    for length in (9, 18, SEASON):
        assert refused(files(rounds, length), FILE_ODDS) == 0


def test_at_the_odds_of_the_tour_a_good_putters_season_would_be(size: Size, greens) -> None:
    """Hence the doubled odds: the same files are beyond belief without them."""
    rounds = played(3, greens, BETTER[1.8])
    assert refused(files(rounds, SEASON)) > 0.8
    assert refused(files(rounds, SEASON), FILE_ODDS) == 0


def test_finishes_typed_as_putts_are_found(size: Size, finishes) -> None:
    draw, tried = np.random.default_rng(4), size.of(2000, 300)
    assert 15 < np.median(finishes) < 22
    for holes, least in TYPED.items():
        share = refused([all_in(draw, finishes, holes) for _ in range(tried)])
        assert share >= size.least(least, tried), holes
    for holes, least in TYPED_FILE.items():
        share = refused([all_in(draw, finishes, holes) for _ in range(tried)], FILE_ODDS)
        assert share >= size.least(least, tried), holes
    five = [all_in(draw, finishes, 5).chance() for _ in range(tried)]
    assert np.mean(np.array(five) < STRANGE) >= size.least(0.78, tried)


def test_one_round_of_first_putts_is_found_by_round_and_lost_in_a_season(
    size: Size, greens
) -> None:
    draw, tried = np.random.default_rng(5), size.of(800, 200)
    cut = [all_in(draw, greens[n % len(greens)], 14) for n in range(tried)]
    assert refused(cut) >= size.least(0.92, tried)
    seasons = files(played(6, greens, 1.0), SEASON - 1)
    assert refused([together([one, *cut[:1]]) for one in seasons], FILE_ODDS) == 0
