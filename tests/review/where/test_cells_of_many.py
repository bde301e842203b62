"""Cells of many players at once against plain sums and against each player alone."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sgzone.review.where import cells as cells_module
from sgzone.review.where.cells import HOLES_PER_ROUND, adjusted, estimates, gather
from tests.review.sums import round_sums_of

LIES = ("fairway", "rough", "sand", "green")
MONTHS = np.array(["2026-05", "2026-06", None], object)
PARTS = np.array(["chip_0_30", "putt_0_10", "wedge_50_100", None], object)


def drawn(seed, players):
    """Return strokes and rounds of several players, everything drawn, rows in a random order."""
    rng = np.random.default_rng(seed)
    rounds = rng.permutation(np.repeat(np.arange(players), 4))
    names = np.array([f"Player {k}" for k in range(players)], object)
    sizes = pd.DataFrame(
        {
            "player": names[rounds],
            "round_key": 10 * np.arange(len(rounds)) + 7,
            "holes": rng.choice([9, 18], len(rounds)),
        }
    )
    of = rng.integers(len(rounds), size=25 * players)
    strokes = pd.DataFrame(
        {
            "player": names[rounds[of]],
            "round_key": sizes["round_key"].to_numpy()[of],
            "part": PARTS[rng.integers(len(PARTS), size=len(of))],
            "lie": rng.choice(LIES, len(of)),
            "month": MONTHS[of % len(MONTHS)],
            "gained": np.where(rng.random(len(of)) < 0.1, np.nan, rng.normal(0, 0.3, len(of))),
        }
    )
    return strokes, sizes


def plainly(strokes, sizes, keys):
    """Return the counts of each cell one after the other, by the keys, missing as ``none``."""
    found = {}
    judged = [name for name in keys if name in ("player", "month")]
    known = strokes.fillna({"part": "none", "month": "none"})
    holes = sizes.set_index("round_key")["holes"] / HOLES_PER_ROUND
    for key, own in known.groupby(keys):
        scored = own[own["gained"].notna()]
        same = (known[judged] == own[judged].iloc[0]).all(axis=1)
        over = known.loc[same, "round_key"].unique()
        if judged == ["player"]:
            over = sizes.loc[sizes["player"] == key[0], "round_key"]
        found[key] = {
            "shots": len(scored),
            "unscored": len(own) - len(scored),
            "rounds": scored["round_key"].nunique(),
            "judged": len(over),
            "weight": holes.loc[over].sum(),
            "square": (holes.loc[over] ** 2).sum(),
            "gained_per_shot": scored["gained"].mean(),
            "rough": (scored["lie"] == "rough").sum() / max(len(scored), 1),
        }
    return found


@settings(max_examples=15)
@given(st.integers(0, 10**6), st.integers(1, 5), st.sampled_from(["part", "month"]))
def test_cells_hold_what_plain_counting_finds(seed, players, key):
    strokes, sizes = drawn(seed, players)
    keys = ["player", key]
    cells = gather(round_sums_of(strokes, keys), sizes, keys)
    expected = plainly(strokes, sizes, keys)
    values = estimates(cells, 0.8)
    assert len(cells.keys) == len(expected)
    assert (np.diff(cells.cell) >= 0).all()
    for place, own in enumerate(cells.keys.fillna({key: "none"}).itertuples(index=False)):
        want = expected[tuple(own)]
        assert cells.shots[place] == want["shots"]
        assert cells.unscored[place] == want["unscored"]
        assert cells.rounds[place] == want["rounds"]
        assert cells.over.rounds[place] == want["judged"]
        assert cells.over.weight[place] == pytest.approx(want["weight"])
        assert cells.over.square[place] == pytest.approx(want["square"])
        assert values["gained_per_shot"][place] == pytest.approx(
            want["gained_per_shot"], abs=1e-12, nan_ok=True
        )
        if key == "part":
            assert cells.design[place, 1] == pytest.approx(want["rough"])


@pytest.mark.long
@settings(max_examples=15)
@given(st.integers(0, 10**6), st.integers(2, 5))
def test_no_value_of_a_player_hangs_on_who_else_is_there_or_on_the_block(seed, players):
    strokes, sizes = drawn(seed, players)
    keys = ["player", "part"]

    def table(rows, rounds, at_a_time=cells_module.CELLS_AT_A_TIME):
        cells = gather(round_sums_of(rows, keys), rounds, keys)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(cells_module, "CELLS_AT_A_TIME", at_a_time)
            found = pd.concat([estimates(cells, 0.8), adjusted(cells, 0.8)], axis=1)
        return pd.concat([cells.keys, found], axis=1)

    together = table(strokes, sizes)
    for at_a_time in (1, 7):
        pd.testing.assert_frame_equal(table(strokes, sizes, at_a_time), together, check_exact=True)
    for name in together["player"].unique():
        alone = table(strokes[strokes["player"] == name], sizes[sizes["player"] == name])
        ours = together[together["player"] == name].reset_index(drop=True)
        pd.testing.assert_frame_equal(alone, ours, check_exact=True)


def test_a_player_with_a_stroke_a_cell_has_no_adjusted_value_and_the_others_have():
    strokes = pd.DataFrame(
        [("Ada", 0, "chip_0_30", -0.1), ("Ada", 0, "putt_0_10", 0.2)]
        + [("Ben", 1, "chip_0_30", g) for g in (-0.3, 0.1, 0.2)],
        columns=["player", "round_key", "part", "gained"],
    ).assign(lie="rough")
    sizes = pd.DataFrame({"player": ["Ada", "Ben"], "round_key": [0, 1], "holes": 18})
    keys = ["player", "part"]
    cells = gather(round_sums_of(strokes, keys), sizes, keys)
    got = adjusted(cells, 0.8)["shrunk_per_shot"]
    assert got.isna().tolist() == (cells.keys["player"] == "Ada").tolist()
