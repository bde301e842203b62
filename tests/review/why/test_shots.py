"""Rounds are numbered as they were played, whatever key the season file gave them."""

from __future__ import annotations

import numpy as np

from sgzone.benchmarks import benchmark
from sgzone.review.why.reference import reference_model
from sgzone.review.why.shots import part_shots
from tests.review.shots import Truth, play


def test_the_order_in_which_cards_were_loaded_does_not_change_a_rounds_number():
    curve = benchmark("tour")
    rows = play(Truth(), curve, 60, 8, np.random.default_rng(2))
    model = reference_model(curve)
    later_first = rows.assign(round_key=100 - rows["round_key"])
    number = part_shots(rows, model).round
    assert number.max() == 7
    assert part_shots(later_first, model).round.tolist() == number.tolist()
