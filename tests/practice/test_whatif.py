"""What an improvement is worth: by hand on known misses, and against the split of why."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.benchmarks import benchmark
from sgzone.errors import CallError
from sgzone.practice.whatif import parse_change, what_if
from sgzone.resources import data_path
from sgzone.review.why.reference import reference_model
from sgzone.review.why.split import why
from sgzone.season.store import open_store


@pytest.fixture(scope="module")
def demo():
    with open_store() as store:
        store.load(data_path("demo/season.csv"))
        yield store


def test_by_hand(tmp_path):
    """One lie, one distance: misses about their mean are scaled, the worth read off the table."""
    rng = np.random.default_rng(2)
    rounds, each = 6, 8
    depth = np.round(rng.normal(-8, 15, rounds * each), 1)
    side = np.round(rng.normal(0, 9, rounds * each), 1)
    left = np.maximum(np.round(np.hypot(depth, side), 2), 0.5)
    rows = []
    for place in range(rounds * each):
        same = {
            "player": "Ada",
            "date": f"2026-05-{1 + place // each:02d}",
            "hole": 1 + place % each,
        }
        rows += [
            same
            | {"shot": 1, "lie": "fairway", "distance": "80 yd"}
            | {"depth_ft": depth[place], "side_ft": side[place]},
            same | {"shot": 2, "lie": "green", "distance": f"{left[place]} ft"},
            same | {"shot": 3, "lie": "green", "distance": "1 ft", "result": "holed"},
        ]
    pd.DataFrame(rows).to_csv(tmp_path / "card.csv", index=False)
    with open_store() as store:
        store.load(tmp_path / "card.csv")
        found = what_if(store, "wedge_50_100 long_short_spread -20%")
        bias = what_if(store, "wedge_50_100 long_short_bias -100%")
    table = reference_model(benchmark("tour")).table
    now = np.hypot(depth, side)
    then = np.hypot(depth.mean() + 0.8 * (depth - depth.mean()), side)
    won = (table(now) - table(then)).sum(axis=0)
    # 48 strokes in 48 holes: 18 a round
    assert found.strokes_per_round == pytest.approx(18 * won.mean(), abs=1e-6)
    assert found.median_now_ft == pytest.approx(np.median(now))
    assert found.median_then_ft == pytest.approx(np.median(then))
    assert found.low < found.strokes_per_round < found.high
    assert (found.shots, found.shots_in_part, found.rounds) == (48, 48, 6)
    # towards the benchmark's own mean (a few of its strokes are short, too), noise taken out
    usual = float(reference_model(benchmark("tour")).scatter("fairway", 240.0).mean_depth)
    off = depth.mean() - usual
    kept = np.sign(off) * np.sqrt(off**2 - depth.var() / (len(depth) - 1))
    centred = (table(now) - table(np.hypot(depth - kept, side))).sum(axis=0)
    assert bias.strokes_per_round == pytest.approx(18 * centred.mean(), abs=1e-6)


def test_a_little_is_worth_little_and_more_is_worth_more(demo):
    worth = [
        what_if(demo, f"wedge_50_100 long_short_spread -{p}%").strokes_per_round
        for p in (1, 10, 20, 40)
    ]
    assert worth == sorted(worth)
    assert worth[0] == pytest.approx(worth[1] / 10, rel=0.1)
    wider = what_if(demo, "wedge_50_100 long_short_spread +10%")
    assert wider.strokes_per_round < 0
    assert wider.median_then_ft > wider.median_now_ft


@pytest.mark.long
def test_taking_the_spread_to_the_benchmarks_is_about_what_why_says(demo):
    """The player's spread over the benchmark's is told by why; scaled down to it."""
    split = why(demo)
    row = split[
        (split["part"] == "wedge_50_100")
        & (split["factor"] == "long_short_spread")
        & (split["column"] == "total")
    ].iloc[0]
    smaller = row["reference_sd_ft"] / row["sd_ft"] - 1
    text = f"wedge_50_100 long_short_spread {100 * smaller:.1f}%"
    found = what_if(demo, text)
    assert found.strokes_per_round == pytest.approx(row["loss_per_round"], rel=0.3)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("wedges spread -20", "is no change"),
        ("putt_0_10 long_short_spread -20%", "no split"),
        ("wedge_50_100 penalty -20%", "The causes are"),
        ("wedge_50_100 long_short_spread -120%", "from -100%"),
        ("wedge_50_100 long_short_spread 0%", "other than 0"),
    ],
)
def test_what_cannot_be_asked_is_said(text, said):
    with pytest.raises(CallError, match=said):
        parse_change(text)


def test_too_few_directions_are_refused(tmp_path):
    text = "player,date,hole,shot,lie,distance,result\n"
    text += "Ada,2026-05-01,1,1,fairway,80,\nAda,2026-05-01,1,2,green,9,holed\n"
    (tmp_path / "card.csv").write_text(text, encoding="utf-8")
    with open_store() as store:
        store.load(tmp_path / "card.csv")
        with pytest.raises(CallError, match="0 strokes with direction and 30"):
            what_if(store, "wedge_50_100 long_short_spread -20%")
