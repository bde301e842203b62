"""Practice log, test blocks and bag: what they must keep, and what is stored."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.season.reading import find_problems, read_card
from sgzone.season.store import open_store
from tests.season.cardfiles import write

LOG = "player,date,minutes,part,club,balls,note\n"
TEST = "player,date,block,target_yd,club,carry_yd,ball,surface\n"
BAG = "player,club,loft_deg,bounce_deg,in_play_from,in_play_to\n"

BROKEN = {
    "log, blank minutes": (LOG + "Ada,2026-05-14,,chip_0_30,,,\n", 2, "minutes", "blank"),
    "log, 601 minutes": (LOG + "Ada,2026-05-14,601,chip_0_30,,,\n", 2, "minutes", "0 to 600 min"),
    "log, unknown part": (LOG + "Ada,2026-05-14,30,chipping,,,\n", 2, "part", "not a known word"),
    "log, blank part": (LOG + "Ada,2026-05-14,30,,,,\n", 2, "part", "blank"),
    "log, half a ball": (LOG + "Ada,2026-05-14,30,chip_0_30,,1.5,\n", 2, "balls", "whole number"),
    "log, the same entry twice": (
        LOG + "Ada,2026-05-14,30,chip_0_30,,,\n\nAda,2026-05-14,20,chip_0_30,,,\n",
        4,
        "player",
        "is in row 2 already",
    ),
    "test, swapped date": (
        TEST + "Ada,1/2/26,a,80,52,78,,\n",
        2,
        "date",
        "is this 1 February 2026 or 2 January 2026?",
    ),
    "test, target in words": (TEST + "Ada,2026-05-14,a,far,52,78,,\n", 2, "target_yd", "a number"),
    "test, target missing": (TEST + "Ada,2026-05-14,a,,52,78,,\n", 2, "target_yd", "blank"),
    "bag, out before in": (
        BAG + "Ada,52,52,10,2026-05-14,2026-05-13\n",
        2,
        "in_play_to",
        "before it came into play (2026-05-14)",
    ),
    "bag, loft 81": (BAG + "Ada,52,81,10,2026-05-14,\n", 2, "loft_deg", "outside 0 to 80 deg"),
    "bag, blank first day": (BAG + "Ada,52,52,10,,\n", 2, "in_play_from", "blank"),
    "bag, the same club twice": (
        BAG + "Ada,52,52,10,2026-05-14,\nAda,52,54,10,2026-05-14,\n",
        3,
        "player",
        "is in row 2 already",
    ),
}


@pytest.mark.parametrize("case", BROKEN)
def test_breaks_exactly_one_rule(case: str, tmp_path: Path) -> None:
    text, row, column, words = BROKEN[case]
    problems = find_problems(write(tmp_path, text))
    assert [(p.severity, p.row, p.column) for p in problems] == [("error", row, column)]
    assert words in problems[0].wrong


def test_what_is_stored(tmp_path: Path) -> None:
    files = {
        "log": LOG + "Ada,2026-05-14,30,Chip 0-30,56,40,one hand\nAda,2026-05-14,5,chip_0_30,,,\n",
        "test": TEST + "Ada,2026-05-14,a,80,52,78.5,Own,mat\nAda,2026-05-14,a,80,52,81,own,mat\n",
        "bag": BAG + "Ada,52,52,10,2026-05-14,\nAda,56,56,12,2026-01-01,2026-05-13\n",
    }
    with open_store() as store:
        for kind, text in files.items():
            assert store.load(write(tmp_path, text, f"{kind}.csv")).kind == kind
        log = store.frame("SELECT minutes, part, club, balls FROM practice_log ORDER BY source_row")
        assert log.iloc[0].tolist() == [30.0, "chip_0_30", "56", 40]
        balls = store.frame("SELECT target_yd, carry_yd, ball FROM test_balls ORDER BY source_row")
        assert balls.to_numpy().tolist() == [[80.0, 78.5, "own"], [80.0, 81.0, "own"]]
        bag = store.frame("SELECT club, in_play_to::VARCHAR AS until FROM bag ORDER BY club")
        assert bag["until"].fillna("").tolist() == ["", "2026-05-13"]
        assert store.rounds().empty
    assert read_card(write(tmp_path, files["bag"]))["loft_deg"].tolist() == [52.0, 56.0]
