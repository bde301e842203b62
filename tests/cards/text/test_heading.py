"""The line above the holes: who, when, where; and what is asked about it."""

from __future__ import annotations

import pytest

from sgzone.cards import clock
from sgzone.cards.given import Given
from tests.cards.text.typed import errors_of, problems_of, rows_of

HOLE = "1 f112 18"
NED = {"player": "Ned Farrow", "date": "2026-05-14", "round": "1", "course": "Home"}


def above(line: str, given: Given | None = None) -> dict[str, str]:
    """Return what a heading says of the strokes below it."""
    text = f"{line}\n{HOLE}"
    assert errors_of(text, given or Given()) == []
    own = ("hole", "shot", "lie", "distance")
    return {k: v for k, v in rows_of(text, given or Given())[0].items() if k not in own}


def asked(line: str, given: Given | None = None) -> list[str]:
    """Return the questions about a heading."""
    text = f"{line}\n{HOLE}"
    return [f"{p.row} {p.value}: {p.wrong} {p.fix}" for p in errors_of(text, given or Given())]


@pytest.mark.parametrize(
    "line",
    [
        "Ned Farrow, 14 May 2026, Home",
        "Ned Farrow, 2026-05-14, Home",
        "Ned Farrow, 2026-5-14, Home",
        "Ned Farrow, 20260514, Home",
        "Ned Farrow, 14.5.26, Home",
        "Ned Farrow, 14/5/2026, Home",
        "Ned Farrow, 14-May-26, Home",
        "Ned Farrow, May 14th 2026, Home",
        "Ned Farrow, May 14, 2026, Home",
        "Ned Farrow, 14. Mai 2026, Home",
        "Ned Farrow, 14 mayo 2026, Home",
        "Ned Farrow, 14-5-26, Home",
        "Ned Farrow, Thu 14 May 2026, Home",
        "Ned Farrow, Thursday, 14 May 2026, Home",
        "Ned Farrow, thu 14 may, Home",
        "Ned Farrow 14 May 2026 Home",
        "Ned Farrow - 14 May 2026 - Home",
        "Ned Farrow; 14 May 2026; Home",
        "Ned Farrow | 14 May 2026 | Home |",
        "> **Ned Farrow, 14 May 2026, Home".replace("**", ""),
        "• Ned Farrow, 14 May 2026, Home.",
        "[Ned Farrow], 14 May 2026, [Home]",
        "Ned Farrow, 2026-05-14 09:40, Home",
        "player=[Ned Farrow], 14 May 2026, course=Home",
    ],
)
def test_one_heading(line: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(clock.VARIABLE, "2026-05-20")
    assert {**above(line), "course": above(line)["course"].strip(".")} == NED


@pytest.mark.parametrize(
    ("line", "more"),
    [
        ("competition", {"event": "competition"}),
        ("Practice, match", {"event": "practice", "format": "match"}),
        ("round 2", {"round": "2"}),
        ("2nd round, four-ball", {"round": "2", "format": "four-ball"}),
        ("wind=down turf=soft", {"wind": "down", "turf": "soft"}),
        ("event=[club night]", {"event": "club night"}),
        ("foursomes", {"format": "foursomes"}),  # the rules of a card refuse it
    ],
)
def test_what_may_follow(line: str, more: dict[str, str]) -> None:
    assert above(f"Ned Farrow, 14 May 2026, Home, {line}") == NED | more


def test_a_name_in_brackets_keeps_every_sign() -> None:
    found = above("[O\u2019Farrow, N. / 14 May 2025], 14 May 2026, [m]")
    assert found["player"] == "O\u2019Farrow, N. / 14 May 2025"
    assert found["course"] == "m"


@pytest.mark.parametrize("word", ["m", "metres", "Meters"])
def test_metres(word: str) -> None:
    rows = rows_of(f"Ned Farrow, 14 May 2026, Home, {word}\n1 f100 5\n")
    assert [row["distance"] for row in rows] == ["100 m", "5 m"]


@pytest.mark.parametrize(
    ("line", "question"),
    [
        ("Home, 14 May 2026", "is Home the player or the course?"),
        ("14 May 2026, Ned Farrow, Home", "is Ned Farrow the player or the course?"),
        ("14 May 2026", "who played on 14 May 2026?"),
        ("Ned Farrow, 5/6/26, Home", "is this 5 June 2026 or 6 May 2026?"),
        ("Ned Farrow, 12-5-14, Home", "12-5-14: is this"),
        ("Ned Farrow, 14 May, Home", "the year is missing"),
        ("Ned Farrow, 140526, Home", "six digits can be read in three orders"),
        ("Ned Farrow, Fri 15 May 2025, Home", "the day of the week and the date do not agree"),
        ("Ned Farrow, Fri, 14 May 2026, Home", "the day of the week and the date do not agree"),
        ("Ned Farrow, 14 May 2026, Home, windy", "windy: what is it?"),
        ("Ned Farrow, 14 May 2026, Home, 15 May 2026", "two days in one line"),
        ("Ned Farrow, 14 May 2026, Home, hole=3", "its own place"),
        ("Ned Farrow, 14 May 2026, Home, practice, competition", "is here twice"),
    ],
)
def test_asked(line: str, question: str) -> None:
    assert any(question in told for told in asked(line)), asked(line)


def test_what_the_caller_says_settles_who_played() -> None:
    ned = Given(player="Ned Farrow")
    for line in ("Home, 14 May 2026", "ned farrow, 14 May 2026, Home", "14 May 2026, Home"):
        assert above(line, ned) | {"player": "Ned Farrow"} == NED, line
    assert above("14 May 2026, Home, Ned Farrow", ned) == NED
    assert "course" not in above("Ned Farrow, 14 May 2026", ned)
    (told,) = asked("Ada Low, 14 May 2026, Home", ned)
    assert "--as says Ned Farrow" in told


def test_what_the_caller_says_settles_the_day() -> None:
    line = "Ned Farrow, 5/6/26, Home"
    assert above(line, Given(dates="dmy"))["date"] == "2026-06-05"
    assert above(line, Given(dates="mdy"))["date"] == "2026-05-06"
    (note,) = problems_of(f"{line}\n{HOLE}", Given(dates="dmy"))
    assert "the day is read as 5 June 2026" in note.wrong


def test_another_day_of_the_file_settles_the_order() -> None:
    text = f"Ned Farrow, 5/6/26, Home\n{HOLE}\nNed Farrow, 14/5/26, Home\n{HOLE}"
    assert sorted({row["date"] for row in rows_of(text)}) == ["2026-05-14", "2026-06-05"]
    assert errors_of(text) == []


def test_the_day_is_asked_once_a_file() -> None:
    text = f"Ned Farrow, 5/6/26, Home\n{HOLE}\nNed Farrow, 6/7/26, Home\n{HOLE}"
    assert [problem.row for problem in errors_of(text)] == [1]


def test_the_player_goes_on_where_a_later_day_names_none() -> None:
    text = f"Ned Farrow, 14 May 2026, Home\n{HOLE}\n15 May 2026\n2 f80!\nround 2\n3 f70!"
    rows = rows_of(text)[1:]
    assert [(r["player"], r["date"], r["round"], r.get("course")) for r in rows] == [
        ("Ned Farrow", "2026-05-14", "1", "Home"),
        ("Ned Farrow", "2026-05-15", "1", None),
        ("Ned Farrow", "2026-05-15", "2", None),
    ]


def test_a_known_name_settles_a_line_without_a_course() -> None:
    text = f"Ned Farrow, 14 May 2026, Home\n{HOLE}\n15 May 2026, Ned Farrow\n2 f80!"
    assert errors_of(text) == []
    assert rows_of(text)[-1]["player"] == "Ned Farrow"


def test_no_course_is_a_dash() -> None:
    assert "course" not in above("Ned Farrow, 14 May 2026, -, competition")


def test_holes_without_a_line_above_are_asked_about_once() -> None:
    (found,) = errors_of(f"{HOLE}\n2 f80!")
    assert (found.row, found.wrong) == (1, "who played, and when?")
    assert "Ned Farrow, 14 May 2026, Home" in found.fix


def test_a_day_at_the_start_of_a_line_is_no_hole() -> None:
    for line in ("14 May 2026, Ned Farrow, -", "14.5.26 Ned Farrow, -"):
        assert rows_of(f"{line}\n{HOLE}", Given(player="Ned Farrow"))[0]["date"] == "2026-05-14"


def test_strokes_are_no_day() -> None:
    assert errors_of("Ned Farrow, 14 May 2026, Home\n14 f112 18-5-2")[0].column == "hole 14"


KNOWN = Given(known=("Ned Farrow", "Ada Brook"))


@pytest.mark.parametrize(
    ("line", "player", "course"),
    [
        ("Ned Farrow, 14 May 2026", "Ned Farrow", None),
        ("14 May 2026, ned  farrow", "ned farrow", None),
        ("Home, 14 May 2026, Ada Brook", "Ada Brook", "Home"),
        ("Ada Brook, Home, 14 May 2026", "Ada Brook", "Home"),
        ("Home, Ada Brook, 14 May 2026", "Ada Brook", "Home"),
    ],
)
def test_players_of_the_season_file_are_known(line: str, player: str, course: str | None) -> None:
    read = above(line, KNOWN)
    assert (read["player"], read.get("course")) == (player, course)


def test_a_name_that_nobody_bears_is_still_asked() -> None:
    (question,) = asked("Home, 14 May 2026", KNOWN)
    assert "is Home the player or the course?" in question
    assert asked("Ned Farrow, 14 May 2026") != []  # where nobody is known
    two = above("Ned Farrow, 14 May 2026, Ada Brook", KNOWN)  # a course named after a player
    assert (two["player"], two["course"]) == ("Ned Farrow", "Ada Brook")


def test_who_is_asked_for_by_name_goes_before_who_is_known() -> None:
    (question,) = asked("Ned Farrow, 14 May 2026, Home", Given("Ada Brook", known=KNOWN.known))
    assert "--as says Ada Brook" in question
