"""The plain counts on holes written by hand."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from sgzone.questions import counts
from sgzone.review.where.counts import COUNT_COLUMNS, FACTS, hole_endings
from sgzone.season.selection import Selection
from sgzone.season.store import open_store

# One hole a line: strokes as "lie distance[ penalty]", then how the hole ended.
HOLES = [
    "fairway 120yd, green 20ft, green 2ft, holed",  # green hit, two putts
    "fairway 110yd, rough 10yd, green 6ft, holed",  # missed; up and down
    "fairway 40yd, sand 12yd, green 9ft, green 1ft, holed",  # missed; neither
    "rough 30yd, sand 15yd, green 4ft, holed",  # three in all: no up-and-down, a sand save
    "fringe 6yd, holed",  # holed out: up and down
    "rough 20yd p1, rough 20yd, holed",  # penalty makes it three
    "fairway 15yd, green 3ft conceded",  # putt given: up and down
    "rough 12yd, rough 8yd picked_up",  # given up: no
    "sand 30yd, sand 10yd conceded",  # hole given after one stroke: who knows
    "fairway 105yd, green 40ft, green 8ft, green 2ft, holed",  # three putts
    "fairway 50yd, green 5ft, holed",  # 50 yd is outside: no try
]

COLUMNS = [*(name for name in COUNT_COLUMNS if name not in FACTS), "note"]


def card(lines, player="Ada", date="2026-05-01"):
    rows = []
    for hole, line in enumerate(lines, 1):
        steps = [step.strip() for step in line.split(",")]
        ended = steps.pop() if steps[-1] == "holed" else ""
        for shot, step in enumerate(steps, 1):
            lie, distance, *more = step.split()
            rows.append(
                {
                    **{"player": player, "date": date, "hole": hole, "shot": shot, "lie": lie},
                    **{"distance": distance, "penalty": 1 if "p1" in more else 0},
                    "result": next((w for w in more if w in ("conceded", "picked_up")), ""),
                }
            )
        rows[-1]["result"] = rows[-1]["result"] or ended
    return pd.DataFrame(rows)


@pytest.fixture
def store(tmp_path):
    with open_store() as store:
        path = tmp_path / "card.csv"
        card(HOLES).to_csv(path, index=False)
        store.load(path)
        yield store


def pick(frame, measure, band=None):
    row = frame[frame["measure"] == measure]
    return (row[row["band"] == band] if band else row).iloc[0]


def test_up_and_downs_by_hand(store):
    got = pick(counts(store), "up-and-downs")
    # tries: holes 2, 3, 4, 5, 6, 7, 8 (9 stays open); won: 2, 5, 7
    assert got["n"] == 7
    assert got["value"] == pytest.approx(3 / 7)
    assert got["low"] < 3 / 7 < got["high"]
    assert got["note"] == (
        "1 by a conceded putt; 1 picked up, counted as missed; 1 conceded off the green, left out"
    )


def test_sand_saves_by_hand(store):
    got = pick(counts(store), "sand saves")
    assert (got["n"], got["value"]) == (2, 0.5)
    assert got["note"] == "1 conceded off the green, left out"


def test_greens_hit_and_proximity_by_band(store):
    frame = counts(store)
    hit = pick(frame, "greens hit", "100-125 yd")
    assert (hit["n"], hit["value"], hit["unit"]) == (3, pytest.approx(2 / 3), "share")
    near = pick(frame, "median proximity", "100-125 yd")
    assert (near["value"], near["unit"]) == (30.0, "ft")  # 20, 30 (rough), 40 ft
    assert pick(frame, "greens hit", "50-75 yd")["n"] == 1
    short = pick(frame, "greens hit", "0-10 yd")  # the fringe putt that went in
    assert (short["n"], short["value"]) == (1, 1.0)
    assert not ((frame["measure"] == "greens hit") & (frame["band"] == "75-100 yd")).any()


def test_putts_over_the_holes_played_out(store):
    frame = counts(store)
    putts = pick(frame, "putts per round")
    # holed: 1, 2, 3, 4, 5, 6, 10, 11 with 2, 1, 2, 1, 0, 0, 3, 1 putts
    assert (putts["n"], putts["counted"]) == (8, "holes")
    assert putts["value"] == pytest.approx(10 / 8 * 18)
    assert putts["note"] == "2 holes conceded, left out; 1 hole picked up, left out"
    assert pick(frame, "three-putts per round")["value"] == pytest.approx(1 / 8 * 18)


def test_putts_per_round_has_an_interval_from_two_rounds(store, tmp_path):
    path = tmp_path / "more.csv"
    card(HOLES[:5], date="2026-05-02").to_csv(path, index=False)
    store.load(path)
    got = pick(counts(store), "putts per round")
    assert got["rounds"] == 2
    assert got["low"] < got["value"] < got["high"]


def test_endings(store):
    assert hole_endings(store) == {"holed": 8, "conceded": 2, "picked_up": 1}


def test_two_players_are_told_apart_unless_one_is_chosen(store, tmp_path):
    path = tmp_path / "ben.csv"
    card(HOLES[:2], player="Ben", date="2026-05-03").to_csv(path, index=False)
    store.load(path)
    both = counts(store)
    assert both.columns.tolist() == ["player", *COLUMNS]
    ben = both[both["player"] == "Ben"]
    assert pick(ben, "up-and-downs")["value"] == 1
    alone = counts(store, Selection(player="Ben"))
    assert alone.columns.tolist() == COLUMNS
    assert np.allclose(alone["value"], ben["value"], equal_nan=True)


def test_nothing_chosen_has_a_header_only(store):
    got = counts(store, Selection(player="Nobody"))
    assert got.columns.tolist() == COLUMNS
    assert got.empty
