"""Cells by hand: what counts, over which rounds, and who leans on whom."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.review.where.cells import adjusted, estimates, gather
from tests.review.sums import drawn_season, round_sums_of, sizes_of

STROKES = pd.DataFrame(
    [
        (0, "chip_0_30", "rough", "2026-05", "competition", -0.5),
        (0, "chip_0_30", "fairway", "2026-05", "competition", 0.5),
        (1, "chip_0_30", "rough", "2026-05", None, -0.4),
        (1, "putt_0_10", "green", "2026-05", None, 0.1),
        (2, "putt_0_10", "green", "2026-06", None, np.nan),
    ],
    columns=["round_key", "part", "lie", "month", "event", "gained"],
).assign(player="Ada")


def gathered(keys, sizes=None):
    sizes = sizes_of(4) if sizes is None else sizes
    return gather(round_sums_of(STROKES, keys), sizes, keys)


def row(cells, values, **keys):
    chosen = np.ones(len(cells.keys), bool)
    for name, word in keys.items():
        column = cells.keys[name]
        chosen &= column.isna() if word is None else column == word
    return values[chosen.to_numpy()].squeeze()


def test_counts_scored_strokes_their_rounds_and_what_is_left_out():
    cells = gathered(["part"])
    assert row(cells, cells.shots, part="chip_0_30") == 3
    assert row(cells, cells.rounds, part="chip_0_30") == 2
    assert row(cells, cells.shots, part="putt_0_10") == 1
    assert row(cells, cells.unscored, part="putt_0_10") == 1
    assert row(cells, cells.putts, part="putt_0_10") == 1
    assert row(cells, cells.design, part="chip_0_30").tolist() == pytest.approx([0, 2 / 3, 0, 1])


def test_per_round_divides_by_all_holes_recorded():
    sizes = sizes_of(4).assign(holes=[18, 18, 9, 9])
    got = estimates(gathered(["part"], sizes), 0.8)
    assert sorted(got["gained_per_round"]) == pytest.approx([-0.4 / 3, 0.1 / 3])


def test_per_round_of_a_month_is_over_the_rounds_of_that_month():
    cells = gathered(["month"])
    got = estimates(cells, 0.8)["gained_per_round"].to_numpy()
    assert row(cells, got, month="2026-05") == pytest.approx(-0.3 / 2)
    assert np.isnan(row(cells, got, month="2026-06"))  # nothing scored there


def test_a_missing_key_is_a_cell_of_its_own():
    cells = gathered(["event"])
    assert row(cells, cells.shots, event="competition") == 2
    assert row(cells, cells.shots, event=None) == 2
    assert row(cells, cells.over.rounds, event=None) == 2


def test_no_keys_is_one_cell_of_everything():
    cells = gathered([])
    assert cells.shots.tolist() == [4]
    assert estimates(cells, 0.8)["gained_per_shot"].tolist() == pytest.approx([-0.3 / 4])


def test_keys_that_say_nothing_of_the_place_tell_only_putts_apart():
    cells = gathered(["month"])
    assert row(cells, cells.design, month="2026-05") == pytest.approx(1 / 4)


def test_players_do_not_lean_on_each_other():
    rng = np.random.default_rng(1)
    ada = drawn_season(rng, truth=0.0)
    ben = drawn_season(rng, truth=-0.4, player="Ben").assign(
        round_key=lambda f: f["round_key"] + 40
    )
    sizes = pd.concat(
        [sizes_of(40), sizes_of(40, player="Ben").assign(round_key=lambda f: f["round_key"] + 40)]
    )
    alone = gather(round_sums_of(ada, ["part"]), sizes_of(40), ["part"])
    both = gather(
        round_sums_of(pd.concat([ada, ben]), ["player", "part"]), sizes, ["player", "part"]
    )
    ours = both.keys["player"] == "Ada"
    assert adjusted(both, 0.8)[ours].reset_index(drop=True).equals(adjusted(alone, 0.8))
    assert both.over.rounds.tolist() == [40] * len(both.keys)
