"""Thousands of made-up holes: the SQL gives the curve itself, and every hole adds up."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from scipy.interpolate import PchipInterpolator

from sgzone.benchmarks import benchmark
from sgzone.resources import data_path
from sgzone.scoring import check_totals, round_sizes, round_sums, scored
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.terms import BENCHMARK_NAMES, LIES, PARTS, ZONE_FT

HOLES = 1500
EXACT = 1e-9


def made_up_card(holes: int, seed: int) -> pd.DataFrame:
    """Return a valid card of random strokes: any lie, any distance, penalties, all endings."""
    rng = np.random.default_rng(seed)
    strokes = rng.integers(1, 7, holes)
    hole = np.repeat(np.arange(holes), strokes)
    shot = np.concatenate([np.arange(1, n + 1) for n in strokes])
    first, last = shot == 1, shot == np.repeat(strokes, strokes)
    lie = rng.choice(LIES[1:], hole.size)
    lie = np.where(first & (rng.random(hole.size) < 0.3), "tee", lie)
    off = rng.choice([rng.uniform(0.5, 200, hole.size), rng.integers(1, 40, hole.size) * 10.0])
    feet = np.where(lie == "green", rng.uniform(0.1, 199, hole.size), np.maximum(off, 0.5) * 3)
    ending = rng.choice(["holed", "conceded", "picked_up"], hole.size, p=[0.8, 0.1, 0.1])
    penalty = np.where(rng.random(hole.size) < 0.05, rng.integers(1, 3, hole.size), 0)
    card = pd.DataFrame(
        {
            "player": "Random",
            "date": (pd.Timestamp("2026-04-01") + pd.to_timedelta(hole // 30, "D")).strftime(
                "%Y-%m-%d"
            ),
            "hole": hole % 30 + 1,
            "shot": shot,
            "lie": lie,
            "distance": [f"{value!r}ft" for value in feet.tolist()],
            "penalty": np.where(last, 0, penalty),
            "result": np.where(last, ending, ""),
            "club": rng.choice(["46", "50", "54", "58"], hole.size),
        }
    )
    card.attrs["feet"] = feet
    return card.sample(frac=1, random_state=seed)


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Store:
    path = Path(tmp_path_factory.mktemp("random")) / "card.csv"
    made_up_card(HOLES, 5).to_csv(path, index=False)
    store = open_store()
    store.load(path)
    return store


@pytest.mark.parametrize("name", BENCHMARK_NAMES)
def test_every_hole_adds_up(store: Store, name: str) -> None:
    totals = check_totals(store, name)
    assert len(totals) > HOLES * 0.5
    assert totals["difference"].abs().max() < EXACT


@pytest.mark.repeats
@pytest.mark.parametrize("name", BENCHMARK_NAMES)
def test_sql_gives_the_curve_itself(store: Store, name: str) -> None:
    frame = scored(store, name)
    curve = benchmark(name)
    before = curve.expected(frame["lie"], frame["distance_ft"])
    after = curve.expected(frame["end_lie"], frame["end_distance_ft"])
    assert np.abs(before - frame["expected_before"]).max() < EXACT
    assert np.abs(after - frame["expected_after"]).max() < EXACT
    assert set(frame["status"]) == {"scored"}


def test_sql_gives_scipy_pchip_of_the_published_table(store: Store) -> None:
    """The oracle is built here from the file alone, not by the package's benchmark."""
    knots = pd.read_csv(data_path("published/tour_off_green.csv"))
    frame = scored(store, "tour")
    for lie in ("fairway", "rough", "sand", "recovery"):
        table = knots[knots["lie"] == lie]
        oracle = PchipInterpolator(table["distance_yd"], table["strokes"])
        rows = frame[(frame["lie"] == lie) & (frame["distance_yd"] >= 10)]
        assert len(rows) > 50
        wanted = oracle(rows["distance_yd"])
        assert np.abs(wanted - rows["expected_before"]).max() < EXACT


def test_listed_are_the_zone_and_what_follows_it(store: Store) -> None:
    frame = scored(store, "tour")
    inside = frame["distance_ft"] <= ZONE_FT
    assert (frame["part"] == "outside").equals(~inside)
    first = frame.groupby("hole_key")["shot"].transform("min")
    assert inside[frame["shot"] == first].all()
    played = store.frame("SELECT COUNT(*) AS n FROM strokes WHERE played AND distance_ft <= 450")
    assert inside.sum() == played["n"][0]


def test_parts_follow_their_definition(store: Store) -> None:
    frame = scored(store, "tour")
    for part in PARTS:
        rows = frame[frame["part"] == part.name]
        assert len(rows) > 0
        assert rows["lie"].isin(part.lies).all()
        assert (rows["distance_ft"] >= part.low_ft).all()
        assert (rows["distance_ft"] <= part.high_ft).all()


def test_round_sums_are_the_sums_of_the_strokes(store: Store) -> None:
    frame = scored(store, "scratch")
    frame = frame[frame["part"] != "outside"]
    sums = round_sums(store, "scratch", by=["part", "club"])
    by_hand = frame.groupby(["part", "club", "round_key"])["gained"].agg(["count", "sum"])
    both = sums.set_index(["part", "club", "round_key"]).join(by_hand)
    assert (both["n"] == both["count"]).all()
    assert (both["total"] - both["sum"]).abs().max() < EXACT
    assert len(both) == len(by_hand)


def test_round_sums_say_words_in_the_order_of_words(store: Store) -> None:
    """They are grouped by codes: each cell's words, its player and its place are held here."""
    by = ["band", "club", "lie", "part"]
    frame = scored(store, "scratch")
    frame = frame[frame["part"] != "outside"]
    keys = [*by, "player", "round_key"]
    wanted = frame.groupby(keys, dropna=False)["gained"].agg(["count", "sum"]).reset_index()
    wanted = wanted.sort_values(keys, na_position="last", ignore_index=True)
    sums = round_sums(store, "scratch", by=by)
    assert sums["lie"].nunique() == len(LIES)
    assert sums[keys].astype(object).equals(wanted[keys].astype(object))
    assert sums["n"].tolist() == wanted["count"].tolist()
    np.testing.assert_allclose(sums["total"], wanted["sum"], rtol=0, atol=EXACT)


def test_selection_is_by_round(store: Store) -> None:
    days = round_sizes(store)["date"]
    chosen = Selection(since=days[10].date(), until=days[12].date())
    assert round_sizes(store, chosen)["date"].tolist() == days[10:13].tolist()
    assert set(scored(store, "tour", chosen)["date"]) == set(days[10:13])
    assert scored(store, "tour", Selection(player="Nobody")).empty


def test_a_lie_the_benchmark_lacks_stays_listed(store: Store, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text(
        "lie,distance,unit,strokes,source\n"
        "green,1,m,1.0,mine\ngreen,10,m,2.0,mine\ngreen,40,m,2.5,mine\n"
        "fairway,10,m,2.2,mine\nfairway,33.3,m,2.6,mine\nfairway,150,m,3.1,mine\n",
        encoding="utf-8",
    )
    frame = scored(store, str(own))
    assert len(frame) == len(scored(store, "tour"))
    sand = frame[frame["lie"] == "sand"]
    assert set(sand["status"]) == {"no_benchmark"}
    assert sand["gained"].isna().all()
    assert sand["part"].notna().all()
    curve = benchmark(str(own))
    known = frame[frame["status"] == "scored"]
    assert len(known) > 100
    wanted = (
        curve.expected(known["lie"], known["distance_ft"])
        - curve.expected(known["end_lie"], known["end_distance_ft"])
        - 1
        - known["penalty"]
    )
    assert np.abs(wanted - known["gained"]).max() < EXACT
