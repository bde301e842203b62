"""The margins and the numbers a verdict needs."""

from __future__ import annotations

import numpy as np
import pytest

from sgzone.review.where.enough import MARGIN, PUTT_MARGIN, judged, margin
from sgzone.stats.shrink import Posterior, verdicts
from sgzone.stats.verdict import NOT_SETTLED
from sgzone.terms import NOT_ENOUGH


def normal(mean, sd):
    return Posterior(np.ones((len(mean), 1)), np.array([mean]).T, np.array([sd]).T)


def test_the_margin_is_smaller_for_putts_and_a_mean_for_a_mix():
    assert margin([0.0, 1.0, 0.5]).tolist() == pytest.approx([MARGIN, PUTT_MARGIN, 0.02])
    assert verdicts(normal([-0.03], [0.011]), PUTT_MARGIN).tolist() == ["clear loss"]
    assert verdicts(normal([-0.03], [0.011]), MARGIN).tolist() == [NOT_SETTLED]


def test_few_shots_or_rounds_get_no_verdict_and_thin_cells_a_note():
    words, held, thin = judged(
        np.full(6, "clear loss", object),
        [9, 10, 100, 29, 30, 10],
        [9, 5, 4, 20, 20, 4],
        [False] * 6,
    )
    assert words.tolist() == [
        *(NOT_ENOUGH, "clear loss", NOT_ENOUGH, "clear loss", "clear loss", NOT_ENOUGH)
    ]
    assert thin.tolist() == [False, True, False, True, False, False]
    assert not held.any()


def test_a_word_held_back_is_told_once_there_are_enough_shots():
    _, held, thin = judged(np.full(3, NOT_SETTLED, object), [9, 12, 80], [9, 9, 9], [True] * 3)
    assert held.tolist() == [False, True, True]
    assert not thin.any()
