"""Cards wrong in every row: the first of each kind in full, the rest as an exact count."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta
from itertools import count
from pathlib import Path

import pytest

from sgzone.errors import MOST_OF_A_KIND, DataError, Problem, first_of_a_kind, number_of
from sgzone.season.reading import check_card
from sgzone.season.store import open_store
from tests.hard.calls import call, inside

HEADER = "player,date,hole,shot,lie,distance,result\n"
ROWS = 2500


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three cards: wrong lies everywhere, rows of two cells, the header after every row.

    Every player has a day of his own: rounds of one day are compared with each other.
    """
    folder = tmp_path_factory.mktemp("many")
    days = [date(2018, 1, 1) + timedelta(days=n) for n in range(ROWS)]
    rows = [f"P{n},{day},1,1,gren,3,holed\n" for n, day in enumerate(days)]
    late = "Late,2026-05-14,1,1,green,3,holled\n"
    (folder / "lies.csv").write_text(HEADER + "".join(rows) + late)
    (folder / "ragged.csv").write_text(HEADER + "Ada,2026-05-14\n" * ROWS)
    (folder / "heads.csv").write_text(HEADER + (rows[0].replace("gren", "green") + HEADER) * ROWS)
    return folder


def test_the_first_thousand_and_a_count() -> None:
    endless = (Problem("f", row, "lie", "", "wrong", "fix") for row in count(2))
    kept = first_of_a_kind(endless, 1_000_000)
    assert [p.row for p in kept] == list(range(2, MOST_OF_A_KIND + 3))
    assert [p.times for p in kept] == [1] * MOST_OF_A_KIND + [1_000_000 - MOST_OF_A_KIND]
    assert number_of(kept) == 1_000_000


@pytest.mark.parametrize("total", [0, 1, MOST_OF_A_KIND, MOST_OF_A_KIND + 1])
def test_so_many_stand_alone(total: int) -> None:
    every = [Problem("f", row, "lie", "", "wrong", "fix") for row in range(total)]
    assert first_of_a_kind(every, total) == every


@pytest.mark.parametrize(
    ("file", "column", "number"),
    [("lies.csv", "lie", ROWS), ("ragged.csv", "", ROWS)],
)
def test_counts_of_each_way_to_be_wrong(home: Path, file: str, column: str, number: int) -> None:
    problems = check_card(home / file)
    kind = problems[problems["column"] == column]
    assert len(kind) == MOST_OF_A_KIND + 1
    assert kind["times"].sum() == number
    assert kind["row"].tolist() == [2 + n for n in range(MOST_OF_A_KIND + 1)]


def test_a_header_in_every_other_row_is_one_note(home: Path) -> None:
    note = check_card(home / "heads.csv").iloc[0]
    assert note["severity"] == "note"
    assert (
        note["wrong"] == f"the header once more, passed over: rows 3, 5, 7, 9 and {ROWS - 4} more"
    )


@pytest.mark.long
def test_every_form_gives_the_exact_total(home: Path) -> None:
    """One wrong lie a row, and one wrong result in the last row of all."""
    with inside(home):
        rows = call("check", "lies.csv", "--format", "json").json()
        text = call("check", "lies.csv", "--format", "csv").out
        table = call("check", "lies.csv")
    assert sum(row["times"] for row in rows) == ROWS + 1
    assert [(r["row"], r["column"]) for r in rows if r["row"] > ROWS] == [(ROWS + 2, "result")]
    assert sum(int(row["times"]) for row in csv.DictReader(io.StringIO(text))) == ROWS + 1
    assert f"... and {ROWS - 999} more (by column: lie 1500, result 1)." in table.out
    assert f"{ROWS + 1:,} errors in lies.csv" in table.err


def test_a_refused_load_says_how_many(home: Path) -> None:
    with inside(home):
        done = call("load", "lies.csv", "--db", "s.duckdb")
    assert f"lies.csv: {ROWS + 1} problems, nothing of this file was loaded" in done.err
    assert f"... and {ROWS - 999} more" in done.err


def test_rounds_that_are_there_already(home: Path) -> None:
    good = (home / "lies.csv").read_text().replace("gren", "green").replace("holled", "holed")
    (home / "good.csv").write_text(good)
    (home / "again.csv").write_text(good.replace(",3,", ",4,"))
    with open_store(None) as store, inside(home):
        assert store.load("good.csv").rows == ROWS + 1
        with pytest.raises(DataError, match=f"again.csv: {ROWS + 1} problems"):
            store.load("again.csv")
