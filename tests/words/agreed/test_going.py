"""How agreements are told: lead, lines, what would settle them, chances."""

from __future__ import annotations

from math import nan
from typing import Any

import pandas as pd
import pytest

from sgzone.review.agreed.going import GOING_COLUMNS
from sgzone.words.agreed import chart
from sgzone.words.agreed.going import added, care, lead, line, notes, settling, shown
from sgzone.words.digits import rows
from sgzone.words.say import METRIC, Say

PUTTS: dict[str, Any] = {
    **{"agreement": 1, "player": "Ada", "day": pd.Timestamp(2026, 6, 30), "text": "hole out"},
    **{"part": None, "measure": "holed", "from_ft": 4.0, "to_ft": 5.0, "target": 0.75},
    **{"due": pd.Timestamp(2026, 8, 1), "closed": pd.NaT, "unit": "share", "before": 0.67},
    **{"before_low": 0.6, "before_high": 0.74, "since": 0.72, "since_low": 0.65},
    **{"since_high": 0.78, "change": 0.05, "change_low": -0.04, "change_high": 0.14},
    **{"shots_before": 120, "shots_since": 61, "rounds_before": 20, "rounds_since": 9},
    **{"p": 0.4, "verdict": "not settled", "gap": 0.08, "more": 234.0, "met": 0.31},
}
NOTHING = dict.fromkeys(GOING_COLUMNS[11:], nan) | {"unit": None, "verdict": ""}
ALONE = {"measure": None, "target": nan, "due": pd.NaT, "from_ft": nan, "to_ft": nan}
SLEEP = PUTTS | NOTHING | ALONE | {"agreement": 2, "text": "sleep", "rounds_since": 9}
SLEEP |= {"rounds_before": 20, "shots_before": 0, "shots_since": 0}


def table(*of: dict[str, Any]) -> pd.DataFrame:
    frame = pd.DataFrame(list(of), columns=list(GOING_COLUMNS))
    return frame.astype(dict.fromkeys(("day", "due", "closed"), "datetime64[us]"))


def row(**more: Any) -> Any:
    return next(rows(table(PUTTS | more)))


def test_lead_counts_the_open_ones() -> None:
    better, worse = PUTTS | {"verdict": "better since"}, PUTTS | {"verdict": "worse since"}
    few, done = PUTTS | {"verdict": "too few"}, PUTTS | {"closed": pd.Timestamp(2026, 7, 1)}
    assert lead(table(better, worse, PUTTS, few, SLEEP, done)) == (
        "5 open agreements: 1 better, 1 worse, 1 not settled, 1 with too few shots yet and 1 "
        "with nothing to count.",
    )
    assert lead(table(done)) == ("No open agreement; 1 agreement done.",)
    assert lead(table())[0] == "No agreement yet."


def test_a_line_of_the_report() -> None:
    assert line(row(), Say()) == (
        "hole out: 67% before, 72% since 30 June 2026 (65 to 78%, 61 putts): not settled."
    )
    assert line(row(verdict="better since"), Say()).endswith(": better.")
    assert line(row(verdict="too few"), Say()).endswith(": too few yet.")
    assert line(row(since=nan), Say()) == "hole out: no putts since 30 June 2026."
    assert line(row(before=nan), Say()).startswith("hole out: unknown before, 72%")
    assert line(next(rows(table(SLEEP))), Say()) == "sleep (since 30 June 2026: 9 rounds)."
    assert line(row(text="x" * 200), Say()).startswith(f"{'x' * 60}…: 67%")


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({}, "about 240 putts more would show a change of 8 points."),
        ({"more": 7.0}, "about 7 putts more would show a change of 8 points."),
        ({"more": 0.0}, "only a change of 8 points or more would have shown by now."),
        ({"verdict": "too few"}, "too early: it takes 10 putts in 5 rounds since."),
        (
            {"verdict": "too few", "shots_before": 1, "rounds_before": 1},
            "1 putt in 1 round before is too few to judge by.",
        ),
        (
            {"verdict": "too few", "rounds_before": 4},
            "120 putts in 4 rounds before are too few to judge by.",
        ),
    ],
)
def test_what_would_settle_it(more: dict[str, Any], told: str) -> None:
    assert settling(row(**more), Say())[0] == told


def test_a_verdict_needs_no_more() -> None:
    assert settling(row(verdict="worse since", target=nan), Say()) == ()


@pytest.mark.parametrize(
    ("met", "told"),
    [
        (0.31, "reached already with about 3 chances in 10."),
        (0.96, "reached already with over 19 chances in 20."),
        (0.06, "reached already with about 1 chance in 10."),
        (0.949, "reached already with about 9 chances in 10."),
    ],
)
def test_the_target(met: float, told: str) -> None:
    assert settling(row(met=met), Say())[1] == f"target 75% by 1 August 2026: {told}"


def test_a_target_with_too_few_since() -> None:
    told = settling(row(met=nan, due=pd.NaT), Say())[1]
    assert told == "target 75%; too few putts since to say how near."


def test_cautions_are_told_once_and_where_they_belong() -> None:
    assert care(table(PUTTS, PUTTS), Say())[-1] == (
        "Ranges: 8 in 10. A chance is an estimate, no promise."
    )
    cause, luck = care(table(PUTTS | {"verdict": "better since"}), Say())[-2:]
    assert "a date is not a cause" in cause
    assert "1 season of 10" in luck
    assert care(table(SLEEP), Say()) == ()
    assert notes(table(PUTTS), Say())[-1].startswith("Next: ")
    assert notes(table(PUTTS | {"closed": pd.Timestamp(2026, 7, 1)}), Say()) == ()


def test_the_table_is_open_ones_first_and_cut() -> None:
    done = PUTTS | {"closed": pd.Timestamp(2026, 7, 1)}
    long = PUTTS | {"agreement": 3, "text": "y" * 90}
    seen = shown(table(done, SLEEP, long), Say())
    assert seen["text"].tolist() == ["2. sleep", f"3. {'y' * 40}...", "1. hole out"]
    assert seen["verdict"].tolist() == ["not counted", "not settled", "done"]
    assert seen["before_words"].tolist() == ["", "67%", "67%"]
    assert seen["range_words"].tolist() == ["", "65 to 78%", "65 to 78%"]
    assert shown(table(long), Say(), whole=True)["text"].item() == f"3. {'y' * 90}"


def test_what_was_added() -> None:
    assert added(1, row(), Say()) == (
        "Agreement 1: hole out",
        "Counted: putts holed from 4 to 5 ft, target 75% by 1 August 2026; since means after 30 "
        "June 2026.",
    )
    assert "from 1.2 to 1.5 m" in added(1, row(), Say(METRIC))[1]
    told = added(2, next(rows(table(SLEEP))), Say())[1]
    assert told == "Nothing is counted for it. Add --measure or --part to count."


def test_a_chart_says_what_is_counted() -> None:
    assert chart.title(row()) == "1. hole out"
    told = chart.read(row(), "tour", Say())
    assert told[0] == "Putts holed from 4 to 5 ft: 120 putts before, 61 since. Ranges: 8 in 10."
    assert told[-1] == "A chance is an estimate, no promise."
    part = chart.read(row(measure=None, part="chip_0_30", target=nan, met=nan), "tour", Say())
    assert part[0].startswith("Strokes gained, chip 0-30 yd, against the tour benchmark: 120 shots")
