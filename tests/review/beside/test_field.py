"""Players on different courses, compared by way of the rounds they share."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

from sgzone.questions import field_strength
from sgzone.review.beside.field import FIELD_COLUMNS
from sgzone.review.beside.field import field_table as bare_table
from sgzone.season.selection import Selection
from sgzone.season.store import open_store
from sgzone.words.notes import ALONE, FEW, noted
from tests.season.cardfiles import write

HEADER = "player,date,hole,shot,lie,distance,penalty,result,course"


def field_table(*given: Any, **named: Any) -> pd.DataFrame:
    """Return the table with its notes in words."""
    return noted(bare_table(*given, **named), "field")


def _rounds(*rows: tuple[str, int, str | None, float, int]) -> pd.DataFrame:
    table = pd.DataFrame(rows, columns=["player", "day", "course", "total", "holes"])
    table["date"] = pd.Timestamp("2026-05-01") + pd.to_timedelta(table.pop("day"), unit="D")
    return table.assign(round_key=np.arange(len(table)))


def test_a_hard_course_is_taken_out_by_hand() -> None:
    # B and C each meet A; C's course was 3 harder, which A shows
    table = field_table(
        _rounds(
            *(("A", 1, "Easy", 2.0, 18), ("B", 1, "Easy", 1.0, 18)),
            *(("A", 2, "Hard", -1.0, 18), ("C", 2, "Hard", -1.0, 18)),
        )
    )
    assert list(table.columns) == [*FIELD_COLUMNS[:-1], "note"]
    rows = table.set_index("player")
    assert rows["gained_per_round"].to_dict() == {"A": 0.5, "B": 1.0, "C": -1.0}
    assert rows["against_field"].to_dict() == pytest.approx({"A": 1 / 3, "B": -2 / 3, "C": 1 / 3})
    assert set(rows["note"]) == {FEW}


def test_nine_holes_count_half() -> None:
    table = field_table(
        _rounds(
            *(("A", 1, "X", 2.0, 18), ("B", 1, "X", 0.0, 18)),
            *(("A", 2, "X", 2.0, 9), ("B", 2, "X", 0.0, 9)),
        )
    ).set_index("player")
    # 2 better over 18 holes, 4 better per 18 over 9 holes, weighed 2 : 1
    assert table["against_field"]["A"] - table["against_field"]["B"] == pytest.approx(8 / 3)
    assert table["gained_per_round"]["A"] == pytest.approx(4 / 1.5)


def test_pools_are_not_compared_and_the_lonely_say_so() -> None:
    table = field_table(
        _rounds(
            *(("A", 1, "X", 1.0, 18), ("B", 1, "X", 0.0, 18), ("C", 2, "X", 9.0, 18)),
            *(("D", 3, "X", 5.0, 18), ("E", 3, "X", 1.0, 18)),
            *(("F", 4, None, 0.0, 18), ("G", 4, None, 1.0, 18)),
        )
    ).set_index("player")
    assert table["pool"].fillna(0).to_dict() == {
        "A": 1,
        "B": 1,
        "D": 2,
        "E": 2,
        "C": 0,
        "F": 0,
        "G": 0,
    }
    assert table.loc[["C", "F", "G"], "against_field"].isna().all()
    assert table["note"]["C"] == ALONE
    assert "1 rounds without a course" in table["note"]["F"]
    assert field_table(_rounds()).empty


@pytest.mark.long
def test_known_players_come_back_with_their_intervals() -> None:
    truth = np.array([0.8, 0.2, 0.0, -0.4, -0.6])
    rng = np.random.default_rng(2)
    inside = []
    for _ in range(60):
        rows = []
        for day in range(24):
            hard = rng.normal(0, 3)
            for who in rng.choice(5, size=3, replace=False):
                total = truth[who] + hard + rng.normal(0, 2)
                rows.append(("ABCDE"[who], day, f"course {day % 6}", total, 18))
        table = field_table(_rounds(*rows), 0.8).sort_values("player")
        inside.append((table["low"] <= truth) & (truth <= table["high"]))
    assert 0.74 < np.mean(inside) < 0.86


def test_from_a_season_file(tmp_path: Path) -> None:
    lines = [HEADER]
    for who, putts in (("Ada", 1), ("Bee", 2)):
        lines += [f"{who},2026-05-14,1,{k + 1},green,{10 - 6 * k},,,Links" for k in range(putts)]
    lines += ["Ada,2026-05-15,1,1,green,10,,,Park"]
    with open_store() as store:
        store.load(write(tmp_path, "\n".join(lines) + "\n"))
        table = field_strength(store)
        one = field_strength(store, selection=Selection("Bee"))
    rows = table.set_index("player")
    # one hole of 18: a putt more is 18 strokes per round
    assert rows["against_field"]["Ada"] - rows["against_field"]["Bee"] == pytest.approx(18.0)
    assert rows["rounds"].to_dict() == {"Ada": 2, "Bee": 1}
    assert rows["shared_rounds"].to_dict() == {"Ada": 1, "Bee": 1}
    assert one["player"].tolist() == ["Bee"]
    assert one["against_field"].item() == pytest.approx(rows["against_field"]["Bee"])
