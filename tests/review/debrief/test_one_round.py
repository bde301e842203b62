"""One round: values worked out by hand, sums that agree with the rest of the package."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pandas as pd
import pytest

import sgzone as sg
from sgzone.errors import CallError
from sgzone.review.debrief.one_round import MOST, STROKES, debrief
from sgzone.season.selection import Selection
from sgzone.season.store import Store, open_store
from sgzone.terms import OUTSIDE
from tests.demo_season import demo_file
from tests.review.debrief.hand_rounds import (
    GOOD,
    LOST,
    PLAIN,
    SAVED,
    THREE,
    WATER,
    card,
    season,
)


def test_one_round_by_hand(tmp_path: Path) -> None:
    """Four holes: 1.0, 0.0, -1.2 and -1.0; the first round has no usual."""
    with season(tmp_path, card([GOOD, PLAIN, THREE, WATER], course="Home")) as (store, curve):
        found = debrief(store, curve)
    assert (found.player, found.date, found.round) == ("Ada", date(2026, 5, 1), 1)
    assert (found.course, found.event, found.holes_played) == ("Home", None, 4)
    assert (found.compared, found.left_out, found.same_day) == (0, 0, 1)
    total = found.total.set_index("part")["gained"]
    assert total.to_dict() == pytest.approx({"off_green": 0.3, "putting": -1.5, "total": -1.2})
    parts = found.parts.set_index("part")
    assert parts["gained"].to_dict() == pytest.approx(
        {
            **{"approach_100_150": 0.9 + 0.6 - 1.3, "chip_0_30": 0.1},
            **{"putt_0_10": 0.1 + 0.02 - 0.92 + 0.02, "putt_10_30": -0.62 + 0.2},
            "putt_30_up": -0.3,
        }
    )
    assert parts["shots"].to_dict() == {
        **{"approach_100_150": 3, "chip_0_30": 1, "putt_0_10": 4, "putt_10_30": 2},
        "putt_30_up": 1,
    }
    assert found.parts[["usual", "better", "equal", "worse"]].isna().all(axis=None)
    holes = found.holes.groupby("hole")["gained"].sum()
    assert holes.to_dict() == pytest.approx({1: 1.0, 2: 0.0, 3: -1.2, 4: -1.0})


def test_the_worst_and_the_best_are_those_that_lost_and_gained_most(tmp_path: Path) -> None:
    with season(tmp_path, card([GOOD, PLAIN, THREE, WATER])) as (store, curve):
        found = debrief(store, curve)
    worst = found.worst
    assert worst["gained"].tolist() == pytest.approx([-1.3, -0.92, -0.62, -0.3])
    assert worst[["hole", "shot"]].to_numpy().tolist() == [[4, 1], [3, 2], [2, 2], [3, 1]]
    assert worst.loc[0, ["lie", "end_lie", "penalty"]].tolist() == ["fairway", "rough", 1]
    assert found.best["gained"].tolist() == pytest.approx([0.9, 0.6, 0.2, 0.1, 0.1])
    assert found.best[["hole", "shot"]].to_numpy().tolist()[-2:] == [[1, 2], [4, 2]]


@pytest.mark.long
def test_a_round_stands_among_the_others_of_as_many_holes(tmp_path: Path) -> None:
    rounds = [
        card([GOOD, GOOD], date="2026-05-01"),  # +2
        card([PLAIN, PLAIN], date="2026-05-02"),  # 0
        card([GOOD, WATER], date="2026-05-03"),  # 0
        card([THREE, WATER], date="2026-05-04"),  # -2.2
        card([WATER], date="2026-05-05"),  # one hole: not compared
        card([GOOD, WATER], date="2026-05-06"),  # 0
    ]
    with season(tmp_path, *rounds) as (store, curve):
        found = debrief(store, curve)
        third = debrief(store, curve, date=date(2026, 5, 3))
        short = debrief(store, curve, date=date(2026, 5, 5))
        earlier = debrief(store, curve, Selection(until=date(2026, 5, 3)))
    assert (found.compared, found.left_out) == (4, 1)
    whole = found.total.set_index("part").loc["total"]
    assert whole["usual"] == pytest.approx((2 + 0 + 0 - 2.2) / 4)
    assert whole[["compared", "better", "equal", "worse"]].tolist() == [4, 1, 2, 1]
    # approaches: +1.8, +1.2, -0.4, -1.3 of one, and -0.4 here; the third round is level
    approach = found.parts.set_index("part").loc["approach_100_150"]
    assert approach[["better", "equal", "worse"]].tolist() == [2, 1, 1]
    # only the fourth round has a long putt, and this one none
    assert "putt_30_up" not in set(found.parts["part"])
    # a chip was played in three rounds
    chip = found.parts.set_index("part").loc["chip_0_30"]
    assert chip[["compared", "better", "equal", "worse"]].tolist() == [2, 0, 2, 0]
    assert third.total["better"].tolist()[-1] == 1
    assert (short.compared, short.left_out) == (0, 5)
    assert (earlier.date, earlier.compared) == (date(2026, 5, 3), 2)


@pytest.mark.long
def test_strokes_without_a_value_leave_the_round_without_a_place(tmp_path: Path) -> None:
    rounds = [
        card([GOOD, GOOD], date="2026-05-01"),
        card([GOOD, LOST], date="2026-05-02"),
        card([GOOD, WATER], date="2026-05-03"),
    ]
    with season(tmp_path, *rounds) as (store, curve):
        lost = debrief(store, curve, date=date(2026, 5, 2))
        last = debrief(store, curve)
    whole = lost.total.set_index("part").loc["total"]
    assert (lost.unended, lost.unvalued, lost.picked_up) == (1, 0, 1)
    assert whole["gained"] == pytest.approx(1.0)
    assert whole["usual"] == pytest.approx((2.0 + 0.0) / 2)
    assert whole[["better", "equal", "worse"]].isna().all()
    putts = lost.parts.set_index("part").loc["putt_0_10"]  # all of these have a value
    assert putts[["compared", "better", "equal", "worse"]].tolist() == [2, 1, 1, 0]
    # and no other round is set beside what is not known whole
    assert last.total.set_index("part").loc["total", "compared"] == 1


@pytest.mark.long
def test_a_lie_that_the_curve_lacks_is_counted(tmp_path: Path) -> None:
    blocked = "recovery 40yd, fairway 20yd, green 3ft, holed"
    with season(tmp_path, card([blocked, PLAIN])) as (store, curve):
        found = debrief(store, curve)
    assert (found.unended, found.unvalued) == (0, 1)
    recovery = found.parts.set_index("part").loc["recovery"]
    assert (recovery["shots"], recovery["unscored"]) == (0, 1)
    assert pd.isna(recovery["gained"])


@pytest.mark.long
def test_what_starts_outside_is_listed_and_in_no_sum(tmp_path: Path) -> None:
    away = "fairway 140yd, rough 170yd, green 11ft, holed"
    with season(tmp_path, card([away])) as (store, curve):
        found = debrief(store, curve)
    assert found.outside == 1
    assert (found.strokes["part"] == OUTSIDE).tolist() == [False, True, False]
    assert found.total["gained"].iloc[-1] == pytest.approx(3.3 - (2.2 + 1.6) - 1 + 0.2, abs=0.1)
    assert found.holes["shots"].sum() == 2


def test_a_hole_without_a_stroke_in_the_zone_keeps_its_place(tmp_path: Path) -> None:
    far = "tee 210yd picked_up"
    with season(tmp_path, card([GOOD, far, SAVED])) as (store, curve):
        found = debrief(store, curve)
    empty = found.holes[found.holes["hole"] == 2]
    assert len(empty) == 1
    assert empty["part"].isna().all()
    assert (empty["shots"].item(), empty["ending"].item()) == (0, "picked_up")
    assert sorted(set(found.holes["hole"])) == [1, 2, 3]


def test_a_round_of_one_day_is_chosen_by_its_number(tmp_path: Path) -> None:
    both = pd.concat([card([GOOD]), card([WATER], round_=2)])
    with season(tmp_path, both) as (store, curve):
        last = debrief(store, curve)
        first = debrief(store, curve, round=1)
        with pytest.raises(CallError, match="No round 3 on 2026-05-01; that day has round 1, 2"):
            debrief(store, curve, round=3)
        with pytest.raises(CallError, match=r"No round on 2026-05-09 here\. Nearest: 2026-05-01"):
            debrief(store, curve, date=date(2026, 5, 9))
    assert (last.round, last.same_day, first.round) == (2, 2, 1)
    assert first.total["gained"].iloc[-1] == pytest.approx(1.0)


def test_notes_go_with_their_strokes(tmp_path: Path) -> None:
    rows = card([GOOD, WATER])
    rows["note"] = ["", "", "=1+1 \x1b[31m <b>pulled</b>", "", ""]
    with season(tmp_path, rows) as (store, curve):
        found = debrief(store, curve)
    assert found.worst["note"].iloc[0] == "=1+1 \x1b[31m <b>pulled</b>"
    assert found.strokes["note"].notna().sum() == 1
    assert tuple(found.strokes.columns) == STROKES


@pytest.mark.long
def test_what_the_call_must_say(tmp_path: Path) -> None:
    two = pd.concat([card([GOOD]), card([GOOD], player="Bo")])
    with season(tmp_path, two) as (store, curve):
        with pytest.raises(CallError, match="rounds of 2 players"):
            debrief(store, curve)
        with pytest.raises(CallError, match="is no day"):
            debrief(store, curve, date="2026-05-01")  # type: ignore[arg-type]
        with pytest.raises(CallError, match='No player "Cy"'):
            debrief(store, curve, Selection("Cy"))
        with pytest.raises(CallError, match="no round to look back on"):
            debrief(store, curve, Selection("Bo", since=date(2027, 1, 1)))
        assert sg.debrief(store, curve, player="Bo").player == "Bo"
        with pytest.raises(CallError, match="the round of that day"):
            sg.debrief(store, curve, player="Bo", round=0)


@pytest.mark.long
def test_every_round_of_the_demo_adds_up_and_agrees_with_the_other_answers() -> None:
    with open_store(demo_file(), read_only=True) as store:
        every = sg.strokes_gained(store)
        zone = every[every["part"] != OUTSIDE]
        sums = zone.groupby(["date", "round"])["gained"].sum()
        days = [day.date() for day in sorted(set(every["date"]))]
        # each by itself is some hundred milliseconds
        for day in days[::6]:
            found = sg.debrief(store, date=day)
            rows = every[(every["date"].dt.date == day) & (every["round"] == found.round)]
            listed = found.strokes[list(rows.columns)]
            pd.testing.assert_frame_equal(listed, rows.reset_index(drop=True))
            whole = found.total["gained"].iloc[-1]
            assert whole == pytest.approx(sums[pd.Timestamp(day), found.round], abs=1e-9)
            assert found.total["gained"].iloc[:2].sum() == pytest.approx(whole, abs=1e-9)
            assert found.parts["gained"].sum() == pytest.approx(whole, abs=1e-9)
            assert found.holes["gained"].sum() == pytest.approx(whole, abs=1e-9)
            assert found.holes["shots"].sum() == found.total["shots"].iloc[-1]
            assert len(set(found.holes["hole"])) == found.holes_played
            assert len(found.best) <= MOST
            assert found.worst["gained"].max() < 0 < found.best["gained"].min()
            for frame in (found.total, found.parts, found.counts):
                placed = frame.dropna(subset="better")
                counted = placed[["better", "equal", "worse"]].sum(axis=1)
                assert counted.tolist() == placed["compared"].tolist()


def _in_all(store: Store, day: pd.Timestamp, number: int) -> pd.Series:
    return sg.debrief(store, date=day.date(), round=number).total.iloc[-1]


def test_the_best_of_all_rounds_has_none_better() -> None:
    with open_store(demo_file(), read_only=True) as store:
        every = sg.strokes_gained(store)
        zone = every[every["part"] != OUTSIDE]
        keys = ["date", "round"]
        whole = zone.groupby(keys)["gained"].agg(["sum", "size", "count"])
        holes = store.rounds().set_index(keys)["holes"]
        whole = whole[whole["size"] == whole["count"]]
        alike = whole[holes.reindex(whole.index) == 18]
        best, worst = alike["sum"].idxmax(), alike["sum"].idxmin()
        first, last = (_in_all(store, *key) for key in (best, worst))
    assert (first["better"], first["worse"]) == (0, len(alike) - 1)
    assert (last["better"], last["worse"]) == (len(alike) - 1, 0)


def test_auto_is_the_nearest_standard() -> None:
    with open_store(demo_file(), read_only=True) as store:
        found = sg.debrief(store, "auto")
        assert found.benchmark == "scratch"
        assert repr(found).startswith("Debrief('Wrenna Oddlethorpe', 2026-10-21, round 1, ")
