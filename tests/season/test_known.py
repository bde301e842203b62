"""Names: the same player in other capitals and blanks, and a name that is like another one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from sgzone.cards.given import Given
from sgzone.errors import DataError, Problem
from sgzone.season import known
from sgzone.season.reading import find_problems
from sgzone.season.store import Store, open_store
from tests.season.cardfiles import card_text, write

CARD = card_text("1,1,fairway,100", "1,2,green,20", "1,3,green,2")


def card_of(name: str, day: int = 14) -> str:
    return CARD.replace("Ada", f'"{name}"').replace("-14", f"-{day}")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store() as made:
        made.load(write(tmp_path, card_of("Ned Farrow"), "first.csv"))
        yield made


@pytest.mark.parametrize("name", ["ned farrow", "NED  FARROW", "Ned\u00a0Farrow", " nEd Farrow "])
def test_capitals_and_blanks_make_no_other_player(name: str, store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, card_of(name, 15))
    report = store.load(path)
    assert store.players() == ["Ned Farrow"]
    (note,) = report.notes
    assert (note.severity, note.row, note.value) == ("note", 2, name.strip(" \u00a0"))
    assert note.wrong == 'read as "Ned Farrow": only capitals or blanks differ'
    assert store.load(path).rows == 0
    assert find_problems(path) == []  # a check knows nobody


def test_a_text_card_leaves_out_the_course_of_a_known_player(store: Store, tmp_path: Path) -> None:
    text = "ned farrow, 15 May 2026\n1 f112 18 2\n2 f100 20 2\n"
    path = write(tmp_path, text, "round.txt")
    assert store.load(path).rows == 6
    assert store.players() == ["Ned Farrow"]
    other = write(tmp_path, text.replace("ned farrow", "Home"), "other.txt")
    assert "is Home the player or the course?" in the_question(store, other).wrong


def the_question(store: Store, path: Path) -> Problem:
    with pytest.raises(DataError) as caught:
        store.load(path)
    (problem,) = caught.value.problems
    return problem


@pytest.mark.repeats
@pytest.mark.parametrize(
    "name", ["Ned Farow", "Ned Farrov", "Nde Farrow", "Ned Fárrow", "ned farow"]
)
def test_a_letter_away_is_asked_with_both_ways_out(name: str, store: Store, tmp_path: Path) -> None:
    path = write(tmp_path, card_of(name, 15))
    problem = the_question(store, path)
    assert problem.wrong == (
        f"{name} looks like Ned Farrow (who is in the season file): the same player?"
    )
    assert problem.fix == f"Write Ned Farrow, or add --new-player if {name} is another person."
    assert store.load(path, new_player=True).rows == 3
    assert store.players() == sorted([name, "Ned Farrow"])
    assert store.load(path).rows == 0
    assert store.load(write(tmp_path, card_of(name, 16), "next.csv")).rows == 3  # known by now


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("A. Hill", "B. Hill"),
        ("Ned Farrow 1", "Ned Farrow 2"),
        ("Player 11", "Player 12"),
        ("Ada", "Ida"),
        ("Ann Lee", "Amy Lee"),
        ("Ned Farrow", "Ned Farraday"),
        ("Ned Farrow", "Ned Farrowby"),
    ],
)
def test_two_people_are_not_asked_about(one: str, other: str, tmp_path: Path) -> None:
    with open_store() as store:
        store.load(write(tmp_path, card_of(one)))
        assert store.load(write(tmp_path, card_of(other, 15), "b.csv")).rows == 3
        assert store.players() == sorted([one, other])


def test_two_spellings_in_one_file(tmp_path: Path) -> None:
    text = card_of("Ned Farrow") + card_of("NED FARROW", 15).split("\n", 1)[1]
    path = write(tmp_path, text + card_of("Ned Farow", 16).split("\n", 1)[1])
    note, error = find_problems(path)
    assert (note.row, note.value, note.severity) == (5, "NED FARROW", "note")
    assert (error.row, error.value) == (8, "Ned Farow")
    assert "looks like Ned Farrow (row 2): the same player?" in error.wrong
    assert find_problems(path, Given(new_player=True)) == [note]
    with open_store() as store:
        assert store.load(path, new_player=True).rows == 9
        assert store.players() == ["Ned Farow", "Ned Farrow"]


def test_a_name_corrected_in_the_season_file_is_not_asked_again(
    store: Store, tmp_path: Path
) -> None:
    path = write(tmp_path, card_of("Ned Farow", 15))
    store.load(path, new_player=True)
    store.rename("Ned Farow", "Ned Farrow")
    assert store.load(path).rows == 0  # the very file is in place


def test_the_nearest_name_is_asked_for(store: Store, tmp_path: Path) -> None:
    store.load(write(tmp_path, card_of("Ned Marrow", 15), "b.csv"), new_player=True)
    problem = the_question(store, write(tmp_path, card_of("Ned Farro", 16)))
    assert "looks like Ned Farrow" in problem.wrong


def test_many_names_are_not_all_held_against_each_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = card_of("Ned Farrow") + card_of("Ned Farow", 15).split("\n", 1)[1]
    path = write(tmp_path, text)
    assert len(find_problems(path)) == 1
    monkeypatch.setattr(known, "MOST_PAIRS", 3)
    (note,) = find_problems(path)
    assert note.severity == "note"
    assert "2 new names are too many" in note.wrong
