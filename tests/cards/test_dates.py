"""Days no card can have: before 1970 an error, after tomorrow asked; in every kind of file."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pandas as pd
import pytest

from sgzone.cards.clock import VARIABLE, today
from sgzone.cards.columns import columns_of
from sgzone.cards.tables import TABLE
from sgzone.errors import CallError, Problem
from sgzone.season.reading import find_problems
from tests.hard import books
from tests.hard.calls import call, inside

ROWS = {
    "shot": {"player": "Ada", "hole": "1", "shot": "1", "lie": "green", "distance": "3"},
    "log": {"player": "Ada", "minutes": "30", "part": "putt_0_10"},
    "test": {"player": "Ada", "block": "1", "target_yd": "50", "club": "54"},
    "bag": {"player": "Ada", "club": "54", "in_play_from": "2026-01-02"},
}
DATES = [
    (kind, column.name) for kind in TABLE for column in columns_of(kind) if column.kind == "date"
]
LAST = "2026-05-15"  # tomorrow, on the day these tests set
NEVER = ("0000-01-01", "0001-01-01", "1026-05-14", "1899-12-30", "1969-12-31")
TO_COME = ("2026-05-16", "2062-05-14", "9999-12-31")


@pytest.fixture(autouse=True)
def _day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, "2026-05-14")


def errors(path: Path) -> list[Problem]:
    return [problem for problem in find_problems(path) if problem.severity == "error"]


def table(kind: str, column: str, days: tuple[str, ...]) -> pd.DataFrame:
    """Return a sound table but for the days of one column; each row another player's."""
    rows = [ROWS[kind] | {"player": f"P{n}", column: day} for n, day in enumerate(days)]
    return pd.DataFrame(rows)


@pytest.mark.repeats
@pytest.mark.parametrize(("kind", "column"), DATES)
@pytest.mark.parametrize("ending", ["csv", "parquet"])
def test_every_date_of_every_table(tmp_path: Path, kind: str, column: str, ending: str) -> None:
    days = (*NEVER, LAST, *TO_COME)
    path = tmp_path / f"card.{ending}"
    frame = table(kind, column, days)
    frame.to_csv(path, index=False) if ending == "csv" else frame.to_parquet(path)
    told = [problem for problem in errors(path) if problem.column == column]
    early = [(p.row, p.value) for p in told if "before 1970" in p.wrong]
    asked = [p for p in told if "a day to come" in p.wrong]
    first = [(n, day) for n, day in enumerate(days, 2) if day != LAST]
    assert [*early, *((p.row, p.value) for p in asked)] == first
    for problem in asked:
        assert "clock wrong? (Today is 2026-05-14.)" in problem.wrong
        assert "Correct the date here" in problem.fix
        assert "set the clock" in problem.fix
        assert ("leave it blank while" in problem.fix) == (column == "in_play_to")


@pytest.mark.long
def test_the_first_day_and_tomorrow_are_days(tmp_path: Path) -> None:
    for kind, column in DATES:
        days = (LAST,) if column == "in_play_to" else ("1970-01-01", LAST)
        table(kind, column, days).to_csv(tmp_path / "card.csv", index=False)
        assert not errors(tmp_path / "card.csv"), kind


def test_a_round_to_come_is_asked_once(tmp_path: Path) -> None:
    frame = pd.concat([table("shot", "date", ("2026-06-01",)).assign(hole=n) for n in range(1, 10)])
    frame.to_csv(tmp_path / "card.csv", index=False)
    (problem,) = errors(tmp_path / "card.csv")
    assert problem.row == 2


def test_days_of_a_workbook(tmp_path: Path) -> None:
    cells = [books.number(value, books.DAY) for value in ("0.5", "1", "25568", "46158", "46157")]
    sheet = books.card_of([{"date": inside} for inside in cells])
    told = [(p.row, p.value) for p in errors(books.write(tmp_path / "card.xlsx", sheet))]
    expected = ["12:00:00", "1900-01-01", "1969-12-31", "2026-05-16"]
    assert told == list(enumerate(expected, 2))


def test_times_of_a_table_in_parquet(tmp_path: Path) -> None:
    frame = table("shot", "date", (LAST,) * 3)
    frame["date"] = [datetime(1, 1, 1), datetime(2026, 5, 14), datetime(9999, 12, 31)]
    frame.to_parquet(tmp_path / "card.parquet")
    assert [(p.row, p.value[:10]) for p in errors(tmp_path / "card.parquet")] == [
        (2, "0001-01-01"),
        (4, "9999-12-31"),
    ]


@pytest.mark.long
def test_the_clock_is_read_anew_for_every_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    table("shot", "date", ("2026-06-01",)).to_csv(tmp_path / "card.csv", index=False)
    with inside(tmp_path):
        assert call("load", "card.csv").code == 1
        monkeypatch.setenv(VARIABLE, "2026-05-31")
        assert call("load", "card.csv").code == 0
        monkeypatch.setenv(VARIABLE, "31.5.2026")
        assert "must be a date" in call("load", "card.csv").err
    monkeypatch.setenv(VARIABLE, "31.5.2026")
    with pytest.raises(CallError, match="31"):
        today()
    monkeypatch.delenv(VARIABLE)
    assert today() == date.today()
