"""What is said of one round."""

from __future__ import annotations

from types import SimpleNamespace

import pandas as pd
import pytest

from sgzone.stats.verdict import SIDES
from sgzone.words.rounds import debrief as words
from sgzone.words.say import METRIC, Say
from tests.words.rounds.rounds_told import STROKE, alone, strokes, told


@pytest.mark.parametrize(
    ("better", "equal", "worse", "said"),
    [
        (3, 0, 34, "4th best of 38"),
        (34, 0, 3, "4th worst of 38"),
        (0, 0, 37, "best of 38"),
        (37, 0, 0, "worst of 38"),
        (0, 2, 35, "best of 38, tied"),
        (18, 1, 18, "19th best of 38, tied"),
        (0, 37, 0, "the same in all 38"),
        (1, 0, 0, "worst of 2"),
        (0, 0, 0, ""),
        (pd.NA, pd.NA, pd.NA, ""),
    ],
)
def test_a_place_is_told_from_the_nearer_end(
    better: object, equal: object, worse: object, said: str
) -> None:
    row = SimpleNamespace(better=better, equal=equal, worse=worse)
    assert words.place_words(row) == said


def test_the_round_in_two_sentences() -> None:
    assert words.lead(told(), Say()) == (
        "From 150 yards in you lost 1.68 to tour on 14 May 2026: 4th worst of 38.",
        "Off the green −1.06 (16th best of 38), putting −0.62 (4th best of 38).",
    )
    assert words.typed(words.lead(told(), Say()))[1].startswith("Off the green -1.06 (")
    assert "From 137 m in" in words.lead(told(), Say(METRIC))[0]


def test_the_first_round_is_told_without_the_usual() -> None:
    first = alone()
    assert words.lead(first, Say()) == (
        "From 150 yards in you lost 1.68 to tour on 14 May 2026.",
        "Off the green −1.06, putting −0.62.",
    )
    assert words.counted(first) == (
        "Counted: penalties 1, three-putts 2, putts 33, up-and-downs 3 of 7.",
    )
    assert words.care(first, Say()) == (
        words.NO_VERDICT,
        "No other round of 18 holes to set it beside yet.",
    )
    assert set(words.by_part(first)["place"]) == {""}
    assert set(words.by_count(first)["others"]) == {""}


def test_a_round_without_putts_or_values() -> None:
    whole = told().total
    dry = whole.assign(shots=[13, 0, 13], gained=[-1.06, float("nan"), -1.06])
    assert words.lead(told(total=dry), Say())[1] == "Off the green −1.06 (16th best of 38)."
    none = whole.assign(shots=0, gained=float("nan"))
    assert words.lead(told(total=none), Say()) == (f"14 May 2026: {words.NO_STROKES}",)


def test_counts_have_the_usual_in_brackets_and_no_chance_is_not_told() -> None:
    assert words.counted(told()) == (
        "Counted (the usual in brackets): penalties 1 (0.2), three-putts 2 (1.1), "
        "putts 33 (31.0), up-and-downs 3 of 7 (2.9).",
    )
    table = words.by_count(told()).set_index("measure")
    assert "sand saves" not in table.index
    assert table.loc["three-putts", "others"] == "32 better, 2 same, 3 worse"
    assert table.loc["up-and-downs", "this"] == "3 of 7"


def test_at_most_three_lines_of_care_whatever_there_is() -> None:
    much = told(
        left_out=7,
        compared=39,
        same_day=2,
        picked_up=1,
        conceded=2,
        unended=2,
        unvalued=1,
        outside=1,
    )
    lines = words.care(much, Say())
    assert lines == (
        "No verdict, no cause: one round has too few strokes to tell skill from luck.",
        "Usual: your 39 other rounds of 18 holes; by part, those with such a shot.",
        "Left out: 7 rounds of other length and 2 rounds with skipped strokes. 2 strokes skipped: "
        "finish not written down; 1 stroke skipped: the standard has no value there. 1 hole picked "
        "up: the real loss is larger. 2 given putts not counted. 1 later stroke from beyond 150 "
        "yards not counted. 2 rounds that day: --round chooses.",
    )


def test_parts_are_the_worst_first_and_the_total_last() -> None:
    table = words.by_part(told())
    assert table["part"].tolist() == ["approach_100_150", "putt_0_10", "chip_0_30", "total"]
    assert table["place"].tolist()[1] == "19th best of 38, tied"
    whole = words.by_part(told(), halves=True)["part"].tolist()
    assert whole[-3:] == ["off the green", "putting", "total"]


def test_no_verdict_is_said_of_one_round() -> None:
    said = " ".join(
        (*words.lead(told(), Say()), *words.counted(told()), *words.care(told(), Say()))
    )
    assert not [verdict for verdict in SIDES if verdict in said]


def test_a_note_is_cut_to_the_room_that_80_columns_leave() -> None:
    long = (*STROKE[:-1], "pulled\nit\x1b[31m \u202e" + "x" * 200)
    table = words.told_short(told(worst=strokes(long)), Say())
    note = table["note"].iloc[0]
    assert note.startswith("pulled\\nit")
    assert note.endswith("…")
    texts = table[["start", "club", "end"]].astype(str).map(len).max().tolist()
    assert 4 + 4 + sum(texts) + 7 + 6 + 7 * 2 + len(note) == 80
    assert words.told_on_paper(strokes(long), Say(), notes=False).columns[-1] != "note"
    assert len(words.told_on_paper(strokes(long), Say(), notes=True)["note"].iloc[0]) == 101


def test_what_a_hole_gained_stands_in_its_first_row() -> None:
    holes = pd.concat([told().holes.assign(hole=7)], ignore_index=True)
    sums = words.by_hole(told(holes=holes))["hole_gained"]
    assert sums[0] == pytest.approx(-0.37)
    assert sums.isna().tolist() == [False, True]


def test_a_report_s_title_and_subtitle() -> None:
    assert words.title(told()) == "Ada Low: the round of 14 May 2026"
    assert words.title(told(same_day=2, round=2)).endswith("14 May 2026, round 2")
    assert words.subtitle(told()) == "Home, competition, 18 holes, against the tour benchmark"
    assert words.subtitle(told(course=None, event=None)).startswith("18 holes, against")
