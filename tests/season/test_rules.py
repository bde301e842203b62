"""Each rule of the card: a tiny card that breaks it and nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import sgzone
from sgzone.cards.shot_rules import SHOT_RULES
from sgzone.errors import DataError, Problem
from sgzone.season.loading import take
from sgzone.season.opening import connect
from sgzone.season.reading import check_card, find_problems, read_card
from tests.season.cardfiles import HEADER, card_text, write
from tests.season.finishes import FINISH_ERRORS, FINISH_FINE

OK = ("1,1,fairway,100", "1,2,green,20", "1,3,green,2")
PLACE = ("lie", "distance", "to_distance")
LONG = "x" * 81


def with_column(name: str, value: str) -> str:
    """Return a valid hole with one more column whose cell in row 2 is ``value``."""
    first = f"{OK[0]},,,{value}"
    return card_text(first, *OK[1:], header=f"{HEADER},{name}")


def whole(*lines: str) -> str:
    return "\n".join([HEADER, *lines]) + "\n"


OTHER = "Ada,2026-05-14,2,1,green,2,,"

ERRORS = FINISH_ERRORS | {
    "blank player": (whole(",2026-05-14,1,1,green,2,,", OTHER), 2, "player", "blank"),
    "long player": (whole(f"{LONG},2026-05-14,1,1,green,2,,"), 2, "player", "80 characters"),
    "swappable date": (whole("Ada,03/04/2026,1,1,green,2,,"), 2, "date", "is this 3 April 2026 or"),
    "date without year": (whole("Ada,14 May,1,1,green,2,,"), 2, "date", "the year is missing"),
    "date in words": (whole("Ada,mid May,1,1,green,2,,"), 2, "date", "not a date"),
    "no such day": (whole("Ada,2026-02-30,1,1,green,2,,"), 2, "date", "not a date"),
    "hole 37": (card_text("37,1,green,2"), 2, "hole", "outside 1 to 36"),
    "half a hole": (card_text("1.5,1,green,2"), 2, "hole", "not a whole number"),
    "shot 0": (card_text("1,0,green,2"), 2, "shot", "outside 1 to 30"),
    "round x": (with_column("round", "x"), 2, "round", "not a whole number"),
    "unknown lie": (card_text("1,1,fairwy,100", *OK[1:]), 2, "lie", "not a known lie"),
    "trees": (card_text("1,1,Trees,100", *OK[1:]), 2, "lie", "was the shot at the green blocked"),
    "greenside": (card_text("1,1,greenside,9", *OK[1:]), 2, "lie", "sand or rough?"),
    "fr": (card_text("1,1,FR,9 yd", *OK[1:]), 2, "lie", "fringe, fairway or rough?"),
    "drop": (card_text("1,1,drop,90", *OK[1:]), 2, "lie", "rough or fairway?"),
    "blank lie": (card_text("1,1,,100", *OK[1:]), 2, "lie", "blank"),
    "blank distance": (card_text("1,1,fairway,", *OK[1:]), 2, "distance", "blank"),
    "decimal comma": (card_text('1,1,fairway,"87,5",,', "1,2,green,2"), 2, "distance", "comma"),
    "distance in words": (card_text("1,1,fairway,far", *OK[1:]), 2, "distance", "not a distance"),
    "zero distance": (card_text("1,1,fairway,0", *OK[1:]), 2, "distance", "above 0"),
    "negative distance": (card_text("1,1,fairway,-5", *OK[1:]), 2, "distance", "above 0"),
    "12 inches": (card_text("1,1,green,7'12\""), 2, "distance", "12 inches"),
    "701 yd": (card_text("1,1,tee,701", *OK[1:]), 2, "distance", "over 700 yd"),
    "putt of 201 ft": (card_text("1,1,green,201", "1,2,green,2"), 2, "distance", "over 200 ft"),
    "putt of 70 yd": (card_text("1,1,green,70yd", "1,2,green,2"), 2, "distance", "over 200 ft"),
    "bare on fringe": (card_text("1,1,fringe,12", "1,2,green,2"), 2, "distance", "feet or yards"),
    "bare without lie": (card_text(OK[0], "1,2,,12,,picked_up"), 3, "distance", "feet or yards"),
    "unknown unit": (with_column("unit", "furlong"), 2, "unit", "not a known word"),
    "penalty 4": (card_text("1,1,fairway,100,4", *OK[1:]), 2, "penalty", "outside 0 to 3"),
    "unknown result": (card_text(*OK[:2], "1,3,green,2,,lip"), 4, "result", "not a known word"),
    "holed, then a stroke": (
        card_text(OK[0], "1,2,green,20,,holed", OK[2]),
        3,
        "result",
        "shot 3 of the hole follows in row 4",
    ),
    "picked up, then a stroke": (
        card_text(OK[0], "1,2,green,20,,picked_up", OK[2]),
        3,
        "result",
        "before the last row",
    ),
    "ends off the green": (
        card_text("1,1,fairway,100", "1,2,rough,10"),
        3,
        "result",
        "did this go in, or is the hole unfinished?",
    ),
    "ends 31 ft away": (card_text(OK[0], "1,2,green,31"), 3, "result", "did this go in"),
    "repeated shot": (card_text(*OK, "1,3,green,1"), 5, "shot", "is in row 4 already"),
    "missing shot": (card_text(OK[0], "1,3,green,2"), 3, "shot", "a stroke is missing"),
    "jump beyond the penalty": (
        card_text("1,1,fairway,100,1", "1,4,green,2"),
        3,
        "shot",
        "a stroke is missing",
    ),
    "tee again": (card_text("1,1,tee,150", "1,2,tee,150", *OK[2:]), 3, "lie", "without a penalty"),
    "penalty when conceded": (
        card_text(OK[0], "1,2,green,20,1,conceded"),
        3,
        "penalty",
        "no stroke is played",
    ),
    "foursomes": (with_column("format", "Foursomes"), 2, "format", "not one player's strokes"),
    "scramble": (with_column("format", "scramble"), 2, "format", "not one player's strokes"),
    "par 7": (with_column("par", "7"), 2, "par", "outside 3 to 6"),
    "depth in words": (with_column("depth_ft", "short"), 2, "depth_ft", "not a number"),
    "comma in a number": (with_column("carry_yd", '"88,5"'), 2, "carry_yd", "a comma"),
    "spin out of range": (with_column("spin_rpm", "99999"), 2, "spin_rpm", "0 to 20000 rpm"),
    "infinite carry": (with_column("carry_yd", "inf"), 2, "carry_yd", "not a number"),
    "long note": (with_column("note", "n" * 501), 2, "note", "500 characters"),
}

NOTES = {
    "penalty counted": (
        card_text("1,1,fairway,140,1", "1,3,fairway,140", "1,4,green,2"),
        3,
        "shot",
        "jumps by the penalty of row 2",
    ),
    "off the green again": (
        card_text("1,1,green,60", "1,2,rough,8", "1,3,green,2"),
        3,
        "lie",
        "after a stroke from the green",
    ),
    "own swing": (with_column("swing", "hlf"), 2, "swing", "kept as your own word"),
    "event differs": (
        card_text("1,1,green,2,,,practice", "2,1,green,3,,,competition", header=HEADER + ",event"),
        3,
        "event",
        '"practice" before',
    ),
    "course differs": (
        card_text("1,1,green,2,,,North", "2,1,green,3,,,South", header=HEADER + ",course"),
        3,
        "course",
        '"North" before',
    ),
    "par differs": (
        card_text("1,1,green,9,,,4", "1,2,green,3,,,5", header=HEADER + ",par"),
        3,
        "par",
        "(4 before)",
    ),
    "depth and side disagree": (
        card_text(
            "1,1,fairway,100,,,30,40", "1,2,green,20,,,,", header=HEADER + ",depth_ft,side_ft"
        ),
        2,
        "depth_ft",
        "50.0 ft from the hole, the next place is 20.0 ft",
    ),
    "depth alone too great": (
        card_text("1,1,fairway,100,,,-30", "1,2,green,20,,,", header=HEADER + ",depth_ft"),
        2,
        "depth_ft",
        "30.0 ft from the hole",
    ),
    "unknown column": (with_column("mood", "calm"), 1, "mood", "no such column"),
}

FINE = FINISH_FINE | {
    "valid hole": card_text(*OK),
    "starts at shot 3": card_text("1,3,fairway,100", "1,4,green,2"),
    "rows in any order": card_text(OK[2], OK[0], OK[1]),
    "penalty not counted": card_text("1,1,fairway,140,1", "1,2,fairway,140", "1,3,green,2"),
    "tee again after a penalty": card_text("1,1,tee,150,1", "1,2,tee,150", "1,3,green,2"),
    "putt of 30 ft holed": card_text("1,1,green,30"),
    "holed from off the green": card_text("1,1,rough,10,,holed"),
    "ball lost": card_text("1,1,fairway,140", "1,2,,,,picked_up"),
    "unit column on the fringe": card_text(
        "1,1,fringe,12,,,ft", "1,2,green,2,,,", header=HEADER + ",unit"
    ),
    "cell wins over the unit column": card_text("1,1,green,12ft,,,yd", header=HEADER + ",unit"),
    "whole numbers with a point": card_text("1.0,1.0,green,2,0.0"),
    "a date with an empty time": whole("Ada,2026-05-14 00:00:00,1,1,green,2,,"),
    "depth and side agree": card_text(
        "1,1,fairway,100,,,12,16", "1,2,green,20,,,,", header=HEADER + ",depth_ft,side_ft"
    ),
    "own words known in other case": with_column("swing", "Three-Quarter"),
}


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Problem]]:
    folder = tmp_path_factory.mktemp("cards")
    texts = {case: told[0] for case, told in {**ERRORS, **NOTES}.items()} | FINE
    connection = connect(None, read_only=False, create=True)
    try:
        return {
            case: [p for table in take(connection, write(folder, text)) for p in table.problems]
            for case, text in texts.items()
        }
    finally:
        connection.close()


def the_one(problems: list[Problem]) -> Problem:
    assert len(problems) == 1, problems
    return problems[0]


@pytest.mark.parametrize("case", [*ERRORS, *NOTES])
def test_breaks_exactly_one_rule(case: str, seen: dict[str, list[Problem]]) -> None:
    _, row, column, words = {**ERRORS, **NOTES}[case]
    problem = the_one(seen[case])
    severity = "error" if case in ERRORS else "note"
    assert (problem.severity, problem.row, problem.column) == (severity, row, column)
    assert words in problem.wrong
    assert problem.fix
    assert "{" not in problem.wrong + problem.fix


@pytest.mark.parametrize("case", FINE)
def test_fine(case: str, seen: dict[str, list[Problem]]) -> None:
    assert seen[case] == []


def test_every_rule_of_the_card_itself_is_broken_once(seen: dict[str, list[Problem]]) -> None:
    told = [(problem.column, problem.wrong) for found in seen.values() for problem in found]

    def broken(column: str, wrong: str) -> bool:
        form = re.compile(re.sub(r"\\{.*?\\}", ".*", re.escape(wrong)))
        return any(column == there and form.fullmatch(text) for there, text in told)

    own = [rule for rule in SHOT_RULES if rule.scope == "hole" or rule.column in PLACE]
    assert [rule.name for rule in own if not broken(rule.column, rule.wrong)] == []


def test_an_error_refuses_the_card_and_a_note_does_not(tmp_path: Path) -> None:
    path = write(tmp_path, ERRORS["missing shot"][0])
    with pytest.raises(DataError, match="1 problem, nothing of this file was loaded") as caught:
        read_card(path)
    assert [problem.column for problem in caught.value.problems] == ["shot"]
    assert len(read_card(write(tmp_path, NOTES["off the green again"][0]))) == 3


def test_all_at_once_and_in_file_order(tmp_path: Path) -> None:
    text = whole(
        "Ada,03/04/2026,1,1,fairway,100,,holed",
        "Ada,2026-05-14,2,1,fairwy,-5,9,",
        "Ada,2026-05-14,3,1,green,250,,",
        "Ada,2026-05-14,3,2,green,2,,",
    )
    frame = check_card(write(tmp_path, text))
    assert frame[["row", "column"]].apply(tuple, axis=1).tolist() == [
        (2, "date"),
        (3, "lie"),
        (3, "distance"),
        (3, "penalty"),
        (4, "distance"),
    ]
    assert frame["value"].tolist() == ["03/04/2026", "fairwy", "-5", "9", "250"]
    assert set(frame["file"]) == {"card.csv"}


def test_a_slip_gets_a_guess(tmp_path: Path) -> None:
    problem = the_one(find_problems(write(tmp_path, card_text("1,1,fairwy,100", *OK[1:]))))
    assert 'Did you mean "fairway"?' in problem.fix
    problem = the_one(find_problems(write(tmp_path, with_column("penlty", "1"))))
    assert "Did you mean" not in problem.fix  # penalty has a column of its own already
    problem = the_one(find_problems(write(tmp_path, with_column("cary yd", "99"))))
    assert 'Did you mean "carry_yd"?' in problem.fix


def test_many_holes_without_an_end_are_one_question(tmp_path: Path) -> None:
    for holes, asked in ((5, 5), (6, 1), (30, 1)):
        rows = [f"{hole},1,fairway,{60 + hole}" for hole in range(1, holes + 1)]
        problems = find_problems(write(tmp_path, card_text(*rows)))
        assert len(problems) == asked
        assert problems[0].row == 2
    assert "30 holes have no end (this is the first)" in problems[0].wrong
    assert "to_lie and to_distance" in problems[0].fix


def test_own_words_are_listed_once_each(tmp_path: Path) -> None:
    rows = [f"{hole},1,green,2,,,{word}" for hole, word in enumerate("aabb", 1)]
    problems = find_problems(write(tmp_path, card_text(*rows, header=HEADER + ",swing")))
    assert [(p.row, p.value) for p in problems] == [(2, "a"), (4, "b")]


def test_missing_columns_are_named_without_a_flood(tmp_path: Path) -> None:
    text = "player,date,hole,shot,far\nAda,2026-05-14,1,1,100\nAda,2026-05-14,1,2,20\n"
    problems = find_problems(write(tmp_path, text))
    errors = [(p.row, p.column) for p in problems if p.severity == "error"]
    assert errors == [(1, "lie"), (1, "distance")]


def test_a_bad_key_does_not_pass_for_a_missing_stroke(tmp_path: Path) -> None:
    problem = the_one(find_problems(write(tmp_path, card_text(OK[0], "1,two,green,20", OK[2]))))
    assert (problem.row, problem.column) == (3, "shot")


def test_a_bad_key_does_not_lend_the_row_before_it_the_end_of_another_stroke(
    tmp_path: Path,
) -> None:
    header = HEADER + ",depth_ft,side_ft"
    rows = ("1,1,fairway,100,,,-12,5", "1,two,green,13,,,,", "1,3,green,2,,,,")
    problem = the_one(find_problems(write(tmp_path, card_text(*rows, header=header))))
    assert (problem.row, problem.column) == (3, "shot")


def test_copied_under_two_names(tmp_path: Path) -> None:
    mine = card_text(*OK, "2,1,sand,20", "2,2,green,4")
    copied = mine + "".join(line.replace("Ada", "Bea") + "\n" for line in mine.splitlines()[1:])
    problem = the_one(find_problems(write(tmp_path, copied)))
    assert (problem.row, problem.column, problem.value) == (7, "player", "Bea")
    assert 'all 5 strokes of this round are those of "Ada"' in problem.wrong
    changed = copied.replace("Bea,2026-05-14,2,2,green,4", "Bea,2026-05-14,2,2,green,5")
    assert find_problems(write(tmp_path, changed)) == []


def test_the_public_names_reach_the_card(tmp_path: Path) -> None:
    good = write(tmp_path, FINE["rows in any order"])
    card = sgzone.read_card(good)
    assert card[["shot", "lie", "distance_ft", "result"]].iloc[-1].tolist() == [
        3,
        "green",
        2.0,
        "holed",
    ]
    checked = sgzone.check_card(good)
    assert checked.empty
    words = ["file", "row", "column", "value", "wrong", "fix", "severity", "times"]
    assert list(checked.columns) == words
