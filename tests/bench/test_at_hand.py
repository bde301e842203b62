"""What the table at hand is made of: each call works, and the least of several turns is taken."""

from __future__ import annotations

import os
from math import inf
from pathlib import Path

import pytest

from sgzone.cli import VERBS
from tests.bench import at_hand
from tests.bench.at_hand import CALLS, FLOOR, Call, card_of_one_round, least, tell


def test_every_answer_is_timed() -> None:
    """But for what makes others: the demo, a copy, a fit, a field of several players."""
    timed = {call.typed.split()[0] for call in CALLS}
    assert set(VERBS) - timed == {"demo", "backup", "fit", "field"}


def test_the_card_is_of_one_round(tmp_path: Path) -> None:
    lines = card_of_one_round(tmp_path).read_text(encoding="utf-8").splitlines()
    assert len({line.split(",")[1] for line in lines[1:]}) == 1
    assert len(lines) > 20


def test_the_least_of_all_turns_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    seconds = iter([5.0, 9.0, 3.0, 8.0, 4.0, 7.0, 6.0, 6.5, 6.0, 6.5])
    monkeypatch.setattr(at_hand, "processor_time", lambda *_: next(seconds))
    assert least([Call("rounds", 1.0)], {}, {}) == {" ".join(FLOOR): 3.0, "rounds": 6.5}


def test_names_stand_for_files_and_few_turns_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = []

    def note(command: tuple[str, ...], _: dict[str, str]) -> float:
        seen.append(command)
        return 1.0

    monkeypatch.setattr(at_hand, "processor_time", note)
    least([Call("check CARD", 1.0, 1)], {"CARD": "/a.csv"}, {})
    assert seen == [FLOOR, ("-m", "sgzone", "check", "/a.csv")]


def test_work_costs_processor_time_and_sleep_does_not() -> None:
    work = at_hand.processor_time(("-c", "sum(range(10**7))"), dict(os.environ))
    sleep = at_hand.processor_time(("-c", "import time; time.sleep(0.4)"), dict(os.environ))
    assert 0 < sleep < work < inf


def test_the_table_says_what_met_its_goal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    costs = {" ".join(FLOOR): 0.5, "rounds": 0.2, "summary": 2.0, at_hand.TEAM.typed: 6.0}
    calls = tuple(call for call in CALLS if call.typed in costs)
    monkeypatch.setattr(at_hand, "CALLS", calls)
    monkeypatch.setattr(at_hand, "LOADED", ())
    monkeypatch.setattr(at_hand, "least", lambda *_: costs)
    lines = list(tell(tmp_path, tmp_path / "squad.duckdb", ""))
    assert [line.split()[-1] for line in lines[1:]] == ["met", "missed", "met"]
    assert "rounds                                     0.40   goal  0.50" in lines[1]
