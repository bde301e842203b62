"""Words from probabilities, and how often they are wrong."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.stats.shrink import Posterior, held_back, shrink, verdicts

MARGIN = 0.03


def normal(mean, sd):
    return Posterior(np.ones((len(mean), 1)), np.array([mean]).T, np.array([sd]).T)


@pytest.mark.parametrize(
    ("mean", "sd", "word"),
    [
        (-0.10, 0.04, "clear loss"),  # P(loss > .03) = Phi(1.75) = .96
        (-0.07, 0.04, "probable loss"),  # Phi(1) = .84
        (0.10, 0.04, "clear gain"),
        (0.07, 0.04, "probable gain"),
        (0.00, 0.02, "level"),  # P(|.| <= .03) = .866
        (0.00, 0.05, "not settled"),
        (-0.04, 0.02, "not settled"),
    ],
)
def test_words_off_the_green(mean, sd, word):
    assert verdicts(normal([mean], [sd]), MARGIN).tolist() == [word]


def test_a_word_that_the_cells_own_strokes_speak_against_is_held_back():
    words = ["probable loss", "clear gain", "probable loss", "level", "clear loss", "clear gain"]
    own = [0.02, -0.01, -0.02, 0.5, np.nan, 0.0]
    assert held_back(words, own).tolist() == [True, True, False, False, False, False]


def seasons(count, tau, seed, adjusted=True, bar=MARGIN):
    """Return truth and words of many simulated seasons of 9 cells."""
    rng = np.random.default_rng(seed)
    truths, words = [], []
    for _ in range(count):
        n = np.array([300, 250, 90, 140, 60, 20, 600, 350, 200])
        truth = rng.normal(0, tau, 9)
        y = truth + rng.normal(0, 0.33 / np.sqrt(n))
        # the plausible wrong rule: each cell on its own
        posterior = shrink(y, 0.33**2 / n) if adjusted else normal(y, 0.33 / np.sqrt(n))
        truths.append(truth)
        words.append(verdicts(posterior, bar))
    return np.array(truths), np.array(words)


def any_clear(words):
    return np.mean([any("clear" in word for word in row) for row in words])


def test_a_benchmark_player_seldom_gets_a_false_clear_and_without_margin_often():
    assert any_clear(seasons(400, 0.0, 11)[1]) <= 0.05
    assert any_clear(seasons(400, 0.0, 11, adjusted=False, bar=0.0)[1]) > 0.30


def test_clear_words_seldom_have_the_wrong_sign():
    truth, words = seasons(400, 0.06, 12)
    clear_loss, clear_gain = words == "clear loss", words == "clear gain"
    wrong = (clear_loss & (truth > 0)) | (clear_gain & (truth < 0))
    assert (clear_loss | clear_gain).sum() > 200
    assert wrong.sum() / (clear_loss | clear_gain).sum() < 0.06
