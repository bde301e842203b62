"""A file of several tables: whole or not at all, and no two of them against each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pandas as pd
import pytest

from sgzone.cards.given import Given
from sgzone.cards.reader import TextTable, read_table
from sgzone.errors import CallError, DataError
from sgzone.season import loading, reading
from sgzone.season.reading import acting, find_problems, read_card
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import HEADER, card_text, write

ONE = card_text("1,1,fairway,100", "1,2,green,20", "1,3,green,2")
TWO = card_text("4,1,rough,40", "4,2,green,9").replace("-14", "-15")
LOG = "player,date,minutes,part,club\nAda,2026-05-14,30,putt_0_10,\n"
MORE_LOG = LOG.replace("30,putt_0_10", "20,chip_0_30")
BROKEN = TWO.replace("rough", "trees")


@pytest.fixture
def store() -> Iterator[Store]:
    with open_store() as made:
        yield made


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A file whose tables lie beside it, one file each, in the order of their names."""
    path = write(tmp_path, "", "book.csv")

    def tables(path: str | Path, given: Given) -> list[TextTable]:
        if not (files := sorted(Path(path).parent.glob("sheet*.csv"))):
            return [read_table(path)]
        read = [(file, read_table(file)) for file in files if given.sheet in (None, file.stem)]
        return [replace(text, file=f"book.csv, {file.stem}") for file, text in read]

    for module in (loading, reading):
        monkeypatch.setattr(module, "read_tables", tables)
    return path


def sheets(book: Path, texts: Sequence[str]) -> Path:
    for old in book.parent.glob("sheet*.csv"):
        old.unlink()
    for place, text in enumerate(texts, 1):
        write(book.parent, text, f"sheet{place}.csv")
    book.write_text("\n".join(texts))
    return book


def rows(store: Store) -> int:
    return sum(len(store.frame(f"SELECT 1 FROM {t}")) for t in ("strokes", "practice_log"))


def test_every_table_loads_and_again_does_nothing(store: Store, book: Path) -> None:
    path = sheets(book, [ONE, TWO, LOG])
    report = store.load(path)
    assert (report.kinds, report.kind, report.rows) == (("shot", "shot", "log"), "shot", 6)
    assert report.sentence == "book.csv: shot card (2 sheets), practice log, 6 rows loaded"
    assert store.rounds()["file"].tolist() == ["book.csv, sheet1", "book.csv, sheet2"]
    loads = store.frame("SELECT * FROM loads")
    again = store.load(path)
    assert (again.rows, again.in_place) == (0, 6)
    assert store.frame("SELECT * FROM loads").equals(loads)
    store.rename("Ada", "Bea")  # the very file, under a corrected name
    assert store.load(path).rows == 0


def test_one_faulty_table_refuses_the_file(store: Store, book: Path) -> None:
    path = sheets(book, [ONE, BROKEN, LOG.replace("30", "x")])
    with pytest.raises(DataError, match="2 problems, nothing of this file was loaded") as caught:
        store.load(path)
    places = [(problem.file, problem.column) for problem in caught.value.problems]
    assert places == [("book.csv, sheet2", "lie"), ("book.csv, sheet3", "minutes")]
    assert find_problems(path) == [*caught.value.problems]
    assert rows(store) == 0
    assert store.frame("SELECT * FROM loads").empty


@pytest.mark.long
def test_the_same_round_on_two_sheets(store: Store, book: Path) -> None:
    path = sheets(book, [ONE, ONE])
    assert find_problems(path) == []
    report = store.load(path)
    assert (report.rows, report.in_place) == (3, 3)
    path = sheets(book, [TWO, TWO.replace("green,9", "green,8")])
    (problem,) = find_problems(path)
    assert "this round is in book.csv, sheet1 too, with other values, first at hole 4" in (
        problem.wrong
    )
    assert "number the rounds of the day" in problem.fix
    for replaced in (False, True):
        with pytest.raises(DataError) as caught:
            store.load(path, replace=replaced)
        assert caught.value.problems == (problem,)
    assert len(store.rounds()) == 1


def test_two_sheets_of_a_day_do_not_replace_each_other(store: Store, book: Path) -> None:
    store.load(sheets(book, [LOG.replace("30", "45"), MORE_LOG]))
    assert store.load(sheets(book, [LOG, MORE_LOG]), replace=True).rows == 2
    minutes = store.frame("SELECT minutes FROM practice_log ORDER BY minutes")
    assert minutes["minutes"].tolist() == [20, 30]


def test_an_empty_sheet_is_passed_over(store: Store, book: Path) -> None:
    empty = f"{HEADER}\n,\ufeff,,,,,,\n"
    assert store.load(sheets(book, [empty, ONE])).kinds == ("shot",)
    with pytest.raises(DataError, match="no rows"):
        store.load(sheets(book, [empty, empty]))


def test_a_frame_of_several_tables(book: Path) -> None:
    frame = read_card(sheets(book, [ONE, TWO]))
    assert frame["hole"].tolist() == [1, 1, 1, 4, 4]
    with pytest.raises(CallError, match="shot card and practice log"):
        read_card(sheets(book, [ONE, LOG]))
    pd.testing.assert_frame_equal(read_card(book, sheet="sheet1"), frame[:3])


def test_an_answer_that_changes_nothing_is_known(book: Path) -> None:
    path = sheets(book, [ONE, TWO])
    assert acting(path, Given(sheet="sheet2", player="Bea")) == {"sheet"}
    assert acting(path, Given(new_player=True)) == set()
    sheets(book, [])
    assert acting(path, Given(sheet="May")) == {"sheet"}  # that it is no table is said first
