"""Every hole worked by hand comes out to the printed digits, and adds up."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from sgzone.scoring import check_totals, round_sums, scored, strokes_gained
from sgzone.season.store import Store, open_store
from tests.scoring.holes import HOLES, card_rows

NAMES = list(HOLES)


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Store:
    rows = [row for n, name in enumerate(NAMES, 1) for row in card_rows(n, HOLES[name][0])]
    path = Path(tmp_path_factory.mktemp("holes")) / "worked.csv"
    pd.DataFrame(rows).to_csv(path, index=False)
    store = open_store()
    store.load(path)
    return store


@pytest.fixture(scope="module")
def gained(store: Store) -> pd.DataFrame:
    return strokes_gained(store, "tour")


@pytest.mark.parametrize("name", NAMES)
def test_hole_by_hand(gained: pd.DataFrame, name: str) -> None:
    got = gained[gained["hole"] == NAMES.index(name) + 1]["gained"].tolist()
    wanted = [float("nan") if value is None else value for value in HOLES[name][1]]
    assert got == pytest.approx(wanted, abs=1e-9, nan_ok=True)


def test_no_other_strokes_are_listed(gained: pd.DataFrame) -> None:
    assert len(gained) == sum(len(wanted) for _, wanted in HOLES.values())


def test_every_hole_adds_up(store: Store) -> None:
    totals = check_totals(store, "tour")
    assert len(totals) == len(HOLES)
    assert totals["difference"].abs().max() < 1e-9


def test_status_says_why_a_value_is_missing(gained: pd.DataFrame) -> None:
    assert (gained["gained"].isna() == (gained["status"] == "unknown_end")).all()
    assert (gained["status"] == "unknown_end").sum() == 2


def test_outside_stroke_is_listed_but_not_in_the_totals(store: Store, gained: pd.DataFrame) -> None:
    outside = gained[gained["part"] == "outside"]
    assert outside["distance_yd"].tolist() == [160.0]
    assert outside["band"].isna().all()
    parts = round_sums(store, "tour", by=["part"])
    assert "outside" not in set(parts["part"])
    assert parts["n"].sum() == len(gained) - 2 - 1
    assert parts["total"].sum() == pytest.approx(
        gained["gained"].sum() - outside["gained"].sum(), abs=1e-9
    )


def test_conceded_and_picked_up_rows_are_no_strokes(gained: pd.DataFrame) -> None:
    conceded = gained[gained["hole"] == NAMES.index("putt conceded") + 1]
    assert conceded["end_lie"].tolist() == ["green"]
    assert conceded["end_distance_yd"].tolist() == [1.0]


def test_holed_is_written_as_holed_at_nought(gained: pd.DataFrame) -> None:
    tap_in = gained[gained["hole"] == NAMES.index("tap-in") + 1].iloc[0]
    assert (tap_in["end_lie"], tap_in["end_distance_yd"]) == ("holed", 0.0)


def test_dropping_the_penalty_fails_the_worked_holes(store: Store) -> None:
    """Negative control: the formula without its last term misses the holes with a penalty only."""
    frame = scored(store, "tour")
    wrong = frame["expected_before"] - frame["expected_after"] - 1
    missed = set(frame.loc[(wrong - frame["gained"]).abs() > 1e-9, "hole"])
    with_penalty = {
        number
        for number, name in enumerate(NAMES, 1)
        if any(" p" in row.removesuffix("picked_up") for row in HOLES[name][0])
    }
    assert missed == with_penalty


def test_reading_feet_as_yards_fails_the_worked_holes(tmp_path: Path) -> None:
    rows = [row for n, name in enumerate(NAMES, 1) for row in card_rows(n, HOLES[name][0])]
    for row in rows:
        if row["lie"] == "green" and row["distance"].isdigit():
            row["distance"] = str(min(int(row["distance"]), 66)) + "yd"
    path = tmp_path / "wrong.csv"
    frame = pd.DataFrame(rows)
    last = ~frame.duplicated("hole", keep="last")
    frame.loc[last & (frame["result"] == ""), "result"] = "holed"
    frame.to_csv(path, index=False)
    with open_store() as store:
        store.load(path)
        gained = strokes_gained(store, "tour")
    right = pd.Series([v for name in NAMES for v in HOLES[name][1]], dtype=float)
    assert len(gained) == len(right)
    off = (gained["gained"] - right).abs() > 0.05
    assert off.mean() > 0.5
