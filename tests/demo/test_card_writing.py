"""How a simulated player writes a card down: rounding, where it starts, how holes end."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.demo.card import give_putts, pick_up, written_distance, zone_rows


@pytest.mark.parametrize(
    ("lie", "feet", "measured", "written"),
    [
        ("green", 3.3, None, 3.5), ("green", 0.1, None, 0.5), ("green", 4.9, None, 5.0),
        ("green", 17.6, "paced", 18), ("fringe", 22.2, "paced", 22),
        ("fairway", 301.0, "laser", 100), ("rough", 302.0, "laser", 101),
        ("rough", 50.0, "paced", 17), ("rough", 70.0, "paced", 25), ("sand", 66.0, "guess", 20),
        ("rough", 1.0, "paced", 1),
    ],
)  # fmt: skip
def test_written_distance(lie, feet, measured, written):
    words = np.array([lie], dtype=object), np.array([measured], dtype=object)
    assert written_distance(words[0], np.array([feet]), words[1])[0] == written


def test_a_card_starts_at_the_first_stroke_inside_and_keeps_what_leaves_again():
    strokes = pd.DataFrame(
        {
            "hole_id": [0, 0, 0, 1, 1, 2, 2, 2],
            "lie": ["tee", "fairway", "green", "tee", "green", "tee", "rough", "rough"],
        }
    )
    distance = np.array([380, 150, 20, 145, 9, 400, 149, 151.0])
    rows = zone_rows(strokes, distance, np.zeros(8, dtype=bool))
    assert rows.tolist() == [False, True, True, True, True, False, True, True]
    whole = zone_rows(strokes, distance, strokes["hole_id"].to_numpy() == 0)
    assert whole.tolist() == [True, True, True, True, True, False, True, True]


def card(**columns):
    n = len(columns["shot"])
    usual = {
        "hole_id": 0, "lie": "green", "distance": 1.0, "unit": "ft", "penalty": 0, "par": 4,
        "result": None, "club": "58", "swing": None, "measured": None, "format": "stableford",
        "intended_yd": np.nan, "carry_yd": np.nan, "effective_yd": np.nan,
        "depth_ft": np.nan, "side_ft": np.nan,
    }  # fmt: skip
    frame = pd.DataFrame({name: [value] * n for name, value in usual.items()}, dtype=object)
    frame = frame.assign(**columns)
    return frame.astype({"shot": int, "penalty": int, "par": int, "hole_id": int})


def test_only_short_last_putts_of_match_rounds_are_given():
    rows = card(
        shot=[3, 4, 3, 3, 4],
        hole_id=[0, 0, 1, 2, 2],
        distance=[20.0, 2.0, 1.0, 30.0, 4.0],
        result=[None, "holed", "holed", None, "holed"],
    )
    out = pd.concat(give_putts(np.random.default_rng(k), rows.copy(), True) for k in range(40))
    given = out[out["result"] == "conceded"]
    assert 10 < len(given) < 40
    assert set(given["shot"]) == {4}
    assert set(given["hole_id"]) == {0}
    assert given["club"].isna().all()
    assert not (give_putts(np.random.default_rng(0), rows, False)["result"] == "conceded").any()


def test_a_stableford_hole_ends_where_it_scores_nothing():
    rows = card(shot=[4, 5, 6, 7], result=[None, None, None, "holed"])
    out = pick_up(np.random.default_rng(1), rows)
    assert out["shot"].tolist() == [4, 5, 6]  # par 4: the sixth would be a double bogey
    assert out["result"].fillna("").tolist() == ["", "", "picked_up"]
    assert out["club"].isna().tolist() == [False, False, True]


def test_penalties_count_towards_giving_up_and_stroke_play_goes_on():
    rows = card(
        shot=[2, 3, 4, 5], penalty=[1, 0, 0, 0], result=[None, None, None, "holed"], lie="green"
    )
    ends = set()
    for seed in range(30):
        out = pick_up(np.random.default_rng(seed), rows.copy())
        ends.add((len(out), bool(out["lie"].isna().iloc[-1])))
    assert ends == {(4, False), (2, True)}  # the sixth with the penalty, or the ball was lost
    stroke_play = pick_up(np.random.default_rng(1), rows.assign(format="stroke"))
    pd.testing.assert_frame_equal(stroke_play, rows.assign(format="stroke"))
