"""Reports from Python take what reports of the command line take."""

from __future__ import annotations

import inspect
from datetime import date
from pathlib import Path

import pytest

import sgzone as sg
from sgzone.errors import CallError
from sgzone.report import write
from tests.demo_season import demo_file


@pytest.mark.long
def test_a_report_of_one_round_is_of_the_day_asked_for(tmp_path: Path) -> None:
    for n, day in enumerate(("2026-07-21", date(2026, 10, 21))):
        path = tmp_path / f"{n}.html"
        assert sg.write_report(path, demo_file(), kind="round", date=day) == [path]
    first, last = ((tmp_path / f"{n}.html").read_text(encoding="utf-8") for n in (0, 1))
    assert "21 July 2026" in first
    assert "21 July 2026" not in last
    with pytest.raises(CallError, match='write it as "2026-05-14"'):
        sg.write_report(tmp_path / "a.html", demo_file(), kind="round", date="soon")


@pytest.mark.long
def test_each_player_of_a_team_gets_a_page(tmp_path: Path) -> None:
    folder = tmp_path / "players"
    made = sg.write_report(tmp_path / "team.html", demo_file(), kind="team", each=folder)
    assert made == [tmp_path / "team.html", folder / "wrenna-oddlethorpe.html"]
    assert all(path.stat().st_size for path in made)


def test_no_argument_of_the_report_is_missing() -> None:
    def names(function: object) -> set[str]:
        return set(inspect.signature(function).parameters)  # type: ignore[arg-type]

    asked = {"season", "player", "since", "until", "event"}
    assert names(sg.write_report) == (names(write.write_report) - {"store"}) | asked
