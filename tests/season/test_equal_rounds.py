"""What is there with equal values is passed over; with other values it is refused or replaced."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from sgzone.errors import DataError
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import HEADER, card_text, write
from tests.season.test_store import BAG, LOG, TEST

WIDE = HEADER + ",course,event,par,club,note,mood"
ROUND = card_text(
    "1,1,fairway,100,1,,Home,practice,4,52,,calm",
    "1,3,green,20,,,,,,,low,",
    "1,4,green,2,,,,,,,,",
    header=WIDE,
)
FILE = "SELECT file_name FROM loads"


@pytest.fixture
def store() -> Iterator[Store]:
    with open_store() as made:
        yield made


@pytest.fixture
def card(store: Store, tmp_path: Path) -> Path:
    path = write(tmp_path, ROUND)
    store.load(path)
    return path


SAME = {
    "an alias, and blanks": ROUND.replace(",green,20,", ", putt ,20 ft,"),
    "its unit written out": ROUND.replace(",100,", ",300 ft,"),
    "other numbers of the strokes": ROUND.replace("1,3,green", "1,2,green").replace(
        "1,4,green", "1,3,green"
    ),
    "course, event and par in every row": ROUND.replace("20,,,,,", "20,,,Home,practice,4").replace(
        "2,,,,,,", "2,,,Home,practice,4,"
    ),
    "an unknown column of other cells": ROUND.replace("calm", "wild"),
    "without the unknown column": "\n".join(
        line.rsplit(",", 1)[0] for line in ROUND.strip().splitlines()
    ),
    "result written": ROUND.replace("2,,,,,,,,", "2,,holed,,,,,,"),
    "rows in another order": "\n".join([ROUND.splitlines()[0], *ROUND.strip().splitlines()[:0:-1]]),
}


@pytest.mark.parametrize("text", SAME.values(), ids=SAME)
def test_equal_values_are_passed_over(text: str, store: Store, card: Path, tmp_path: Path) -> None:
    assert text != ROUND
    report = store.load(write(tmp_path, text, "other.csv"))
    assert (report.rows, report.in_place) == (0, 3)
    assert "all 3 rows are in the season file already" in report.sentence
    assert store.frame(FILE)["file_name"].tolist() == ["card.csv"]  # what adds nothing leaves none


OTHER = {
    "a distance": ROUND.replace(",20,", ",20.5,"),
    "a lie": ROUND.replace("fairway", "rough"),
    "a penalty": ROUND.replace(",100,1,", ",100,0,")
    .replace("1,3,", "1,2,")
    .replace("1,4,", "1,3,"),
    "a note": ROUND.replace("low", "high"),
    "a note more": ROUND.replace("52,,", "52,thin,"),
    "a club less": ROUND.replace(",52,", ",,"),
    "a course": ROUND.replace("Home", "Away"),
    "a par": ROUND.replace("practice,4", "practice,5"),
    "an end": ROUND.replace("2,,,,,,,,", "2,,conceded,,,,,,"),
    "a hole more": ROUND + "Ada,2026-05-14,2,1,green,9,,,,,,,,\n",
    "a stroke less": ROUND.replace("Ada,2026-05-14,1,4,green,2,,,,,,,,\n", ""),
    "a stroke twice over": ROUND + "Ada,2026-05-14,1,5,green,2,,,,,,,,\n",
}


@pytest.mark.repeats
@pytest.mark.parametrize("text", OTHER.values(), ids=OTHER)
def test_other_values_are_refused_then_replaced(
    text: str, store: Store, card: Path, tmp_path: Path
) -> None:
    assert text != ROUND
    path = write(tmp_path, text, "other.csv")
    before = store.frame("SELECT * FROM strokes")
    with pytest.raises(DataError) as caught:
        store.load(path)
    (problem,) = (p for p in caught.value.problems if p.severity == "error")
    assert problem.value == "Ada, 2026-05-14, 1"
    hole = 2 if text is OTHER["a hole more"] else 1
    assert f"with other values, first at hole {hole} (from card.csv" in problem.wrong
    assert store.frame("SELECT * FROM strokes").equals(before)
    assert store.load(path, replace=True).rows == text.strip().count("\n")
    assert store.rounds()["file"].tolist() == ["other.csv"]


def test_what_is_new_in_a_file_loads(store: Store, card: Path, tmp_path: Path) -> None:
    new = ROUND.split("\n", 1)[1].replace("-14", "-15")
    path = write(tmp_path, ROUND + new, "season.csv")
    report = store.load(path)
    assert (report.rows, report.in_place) == (3, 3)
    assert "3 rows loaded; 3 rows there before" in report.sentence
    assert store.rounds()["file"].tolist() == ["card.csv", "season.csv"]
    assert store.load(path).rows == 0
    other = write(
        tmp_path,
        (ROUND + new).replace("Ada,2026-05-15,1,4,green,2", "Ada,2026-05-15,1,4,green,3"),
        "c.csv",
    )
    report = store.load(other, replace=True)
    assert (report.rows, report.in_place) == (3, 3)  # the equal round stays where it was
    assert store.rounds()["file"].tolist() == ["card.csv", "c.csv"]


@pytest.mark.parametrize("text", [LOG, TEST, BAG])
def test_other_tables_by_their_values(text: str, store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, text))
    head, first, second = text.strip().splitlines()
    turned = write(tmp_path, "\n".join([head, second, first]), "turned.csv")
    assert store.load(turned).rows == 0
    part = write(tmp_path, "\n".join([head, first]), "part.csv")
    if text is not TEST:  # half a block is another block
        assert store.load(part).rows == 0
    else:
        with pytest.raises(DataError, match="this block is in the season file already"):
            store.load(part)


def test_a_day_of_a_log_is_replaced_whole_unless_it_is_equal(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, LOG))
    assert (
        store.load(write(tmp_path, LOG.replace("\n", "\n\n", 1), "same.csv"), replace=True).rows
        == 0
    )
    fewer = write(tmp_path, "\n".join(LOG.splitlines()[:2]), "fewer.csv")
    assert store.load(fewer).rows == 0
    assert store.load(fewer, replace=True).rows == 1
    assert store.frame("SELECT part FROM practice_log")["part"].tolist() == ["putt_0_10"]
