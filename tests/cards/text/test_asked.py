"""What could mean two things is asked: the question, what to type for each, what was understood."""

from __future__ import annotations

import pytest

from sgzone.cards.text.questions import QUESTIONS
from tests.cards.text.typed import HEAD, errors_of, problems_of, question, rows_of, strokes

ASKED = [
    # line, what was typed, the question, what to type
    ("1 f112 22,3", "22,3", "decimal comma, or two strokes", "22.3, or a blank after the comma"),
    ("1 f112 e8 2", "e8", "feet or yards", "e8ft or e8yd"),
    ("1 f112 fringe 8 2", "fringe8", "feet or yards", "fringe8ft or fringe8yd"),
    ("1 f112 71 2", "71", "from what lie", "f71, r71, s71 or t71; g71 for a putt"),
    ("1 112/50 18", "112", "from what lie", "f112"),
    ("1 22/58 18", "22", "from what lie", "f22"),
    ("1 15y 18", "15y", "from what lie", "f15y"),
    ("1 12f 3", "12f", "12 ft on the green, or fairway 12 yd", "Write 12 or f12"),
    ("1 f112/22/3", "/22", "is 22 the next putt", "a blank instead of the slash"),
    ("1 f112/g18", "/g18", "a place behind the slash", "a blank instead of the slash"),
    ("1 f112/jigger 18", "/jigger", "a club or a swing", "/[jigger] for a club"),
    ("1 4 f112 18", "4", "par, score or a putt", "Write par4, nothing, or g4"),
    ("1 18 2 5", "5", "another putt, or the score", "Write g5 for a putt"),
    ("1 f150 7 20 2", "7 20", "is 7 a club or a score", "a club as /7"),
    ("1 f112 10-12 ft", "10-12", "two strokes, or one distance", "10 12"),
    ("1 f112 7' 10", "7' 10", "7 ft 10 in, or two putts", "7'10\" or 7 10"),
    ("1 f112 7 ft 10 in", "7' 10", "7 ft 10 in, or two putts", "7'10\" or 7 10"),
    ("1 f112 6in", "6in", "6 inches, or 6 ft and in", '6" or 6!'),
    ("1 f112 9ft, in 2", "in 2", "how long was the other", "a tap-in is 1"),
    ("1 f112 18 3 putt", "3 putt", "only 1 putt on the card", "a tap-in is 1"),
    ("1 f112 18 2, 1 putt", "1 putt", "2 putts on the card: which is right", "Leave one"),
    ("1 s14 9 2 u/d", "u/d", "2 putts on the card after it", "Add the stroke"),
    ("1 f112 20 given", "20", "was 20 ft given, or the next", "20c"),
    ("1 f112 2 tap in", "2 tap in", "or one more", "2, or 2 1"),
    ("1 f112 35", "35", "in, picked up, or are strokes missing", "35! if it went in, 35 x"),
    ("1 f112", "f112", "fairway 112 yd: in, picked up", "f112!"),
    ("1 trees 112 18", "trees", "was the shot at the green blocked", "v112"),
    ("1 f112 greenside 14 3", "greenside", "sand or rough", "s14 for sand or r14"),
    ("1 f112 fr 14 3", "fr", "fringe, fairway or rough", "e14, f14 or r14"),
    ("1 f60 water drop 75 9", "drop 75", "in the rough or on the fairway", "r75 or f75"),
    ("1 t146 t146 20", "t146", "was the ball lost", "Write *"),
    ("1 f112 18! 2", "2", "after the hole ended", "Take out the !"),
    ("1 f112 18c 2", "2", "after the hole ended", "Take out the c"),
    ("1 r140 x 2", "2", "after the hole ended", "Take out the x"),
    ("1 f112 provisional 18", "provisional", "which ball was in play", "a *"),
    ("1 f112 18 xyz", "xyz", "what is it", "behind a #"),
    ("1 f112 18 short", "short", "what is it", "behind a #"),
    ("1 f112 18 % 2", "%", "what is it", "behind a #"),
    ("1 f112 wind= 18", "wind=", "what is it", "column=value"),
    ("1 f112/8ie31ft 3", "/8ie31ft", "a club or a swing", "/[8ie31ft]"),
    ("1 f112 4.51", "4.51", "two strokes without a blank", "4.51ft for the distance"),
    ("1 f112 (plugged) 18", "(plugged)", "where did the ball finish", "(-8,4)"),
    ("1 f112 (8) 18", "(8)", "where did the ball finish", "(-8,4)"),
    ("1 f112(1,2)(3,4) 18", "(3,4)", "twice", "Leave one"),
    ("1 f112/50 pw 18", "pw", "twice", "Leave one"),
    ("1 (3,4) f112 18", "(3,4)", "from which place", "a letter and a distance"),
    ("1 f112, bunker, 18 ft", "bunker", "how far from the hole", "bunker40"),
    ("1 * f112 18", "*", "for which one", "behind the stroke"),
    ("1 water f112 18", "water", "for which one", "behind the stroke"),
    ("1 x", "x", "where was it picked up", "r140 x, or ?x"),
    ("1 f112 [18 2", "[", "never closed", "Close it"),
    ("1 g18wind=into 2", "g18wind=into", "or strokes before", "a blank before"),
    ("1 f112 18 2xwind=into", "xwind=into", "or strokes before", "a blank before"),
    ("1 wind=downf112 18", "wind=downf112", "is a blank missing", "wind=[downf112]"),
    ("1 f112 measured=laserwind=into 18", "measured=laserwind=into", "blank missing", "laserwind"),
    ("1 f112 7ft10 2", "7' 10", "7 ft 10 in, or two putts", "7'10\" or 7 10"),
    ("1 f112 hole=3 18", "hole=3", "its own place", "first line"),
    ("1 f112 lie=rough 18", "lie=rough", "its own place", "a stroke as f112"),
    ("1 f112 18 2nd", "2nd", "before the strokes", "1 2nd f112"),
    ("37 f112 18", "37", "no hole 37", "1 to 36"),
    ("0 f112 18", "0", "no hole 0", "1 to 36"),
    ("1 f112 9,2,1", "9,2", "decimal comma, or two strokes", "9.2"),
]


@pytest.mark.parametrize(("line", "token", "wrong", "fix"), ASKED)
def test_asked(line: str, token: str, wrong: str, fix: str) -> None:
    found = question(line)
    assert found.value == token
    assert wrong in found.wrong
    assert fix in found.fix
    assert found.column == f"hole {line.split()[0]}"


def test_every_question_of_a_line_is_tried() -> None:
    """The words of a question that no test quotes could be wrong for good."""
    quoted = {kind for kind, (wrong, _) in QUESTIONS.items() for _, _, told, _ in ASKED
              if _bare(told) in _bare(wrong) or told in wrong}  # fmt: skip
    of_lines = {"which hole", "hole twice", "no header", "long line", "example", "two ways"}
    of_lines |= {"many strokes"}
    of_headings = {"day", "bad day", "two days", "player or course", "who", "other player"}
    left = set(QUESTIONS) - quoted - of_lines - of_headings - {"header word"}
    assert {kind for kind in left if "{" not in QUESTIONS[kind][0]} == set()


def _bare(text: str) -> str:
    return "".join(sign for sign in text if sign.isalpha())


@pytest.mark.parametrize(
    ("line", "so_far"),
    [
        ("1 f112/50 18 xyz", "fairway 112 yd with the 50, 18 ft"),
        ("1 f112 7'10\" xyz", "fairway 112 yd, 7'10\""),
        ("1 r140* ?x xyz", "rough 140 yd, a place not written down"),
    ],
)
def test_a_question_says_how_far_the_line_was_understood(line: str, so_far: str) -> None:
    assert question(line).wrong == f"what is it? (Read so far: {so_far}.)"


def test_the_answer_to_a_question_is_read() -> None:
    """What a question says to type raises no other one."""
    for line, read in [
        ("1 f112 22.3", "fairway 112 yd; green 22.3 ft"),
        ("1 f112 22, 3", "fairway 112 yd; green 22 ft; green 3 ft"),
        ("1 f112 e8ft 2", "fairway 112 yd; fringe 8 ft; green 2 ft"),
        ("1 f112 g71 2", "fairway 112 yd; green 71 ft; green 2 ft"),
        ("1 f112/[jigger] 18", "fairway 112 yd /jigger; green 18 ft"),
        ("1 f112 swing=[jigger] 18", "fairway 112 yd /jigger; green 18 ft"),
        ("1 g4 f112 18", "green 4 ft; fairway 112 yd; green 18 ft"),
        ("1 18 2 g5", "green 18 ft; green 2 ft; green 5 ft"),
        ("1 f150 g7 20 2", "fairway 150 yd; green 7 ft; green 20 ft; green 2 ft"),
        ('1 f112 6"', "fairway 112 yd; green 0'6\""),
        ("1 f112 6!", "fairway 112 yd; green 6 ft holed"),
        ("1 f112 35!", "fairway 112 yd; green 35 ft holed"),
        ("1 f112 35 x", "fairway 112 yd; green 35 ft picked_up"),
        ("1 f112 20 1c", "fairway 112 yd; green 20 ft; green 1 ft conceded"),
        ("1 t146* t146 20", "tee 146 yd *; tee 146 yd; green 20 ft"),
        ("1 f112 4.51ft", "fairway 112 yd; green 4.51 ft"),
        ("1 f112(-8,) 18", "fairway 112 yd (-8,); green 18 ft"),
    ]:
        assert strokes(line) == read


def test_some_questions_are_asked_once_a_file() -> None:
    text = f"{HEAD}\n1 f112 22,3\n2 f90 4,5\n3 f80 3"
    assert [problem.row for problem in errors_of(text)] == [2]
    assert [row["hole"] for row in rows_of(text)] == ["3", "3"]


def test_the_others_are_asked_for_every_line() -> None:
    text = f"{HEAD}\n1 f112 e8 2\n2 f90 e4 2\n3 f80 3"
    assert [problem.row for problem in errors_of(text)] == [2, 3]


def test_two_ways_without_a_question_are_both_told() -> None:
    found = question("1 t146 20 r 30!")
    assert "tee 146 yd, 20 ft, rough 30 yd, or as tee 146 yd, rough 20 yd, 30 ft" in found.wrong
    assert strokes("1 t146 20 r30!") == "tee 146 yd; green 20 ft; rough 30 yd holed"
    assert strokes("1 t146 20r 30!") == "tee 146 yd; rough 20 yd; green 30 ft holed"


def test_a_line_without_a_hole() -> None:
    for line in ("f112 18 2", "3rd f112 18", "9:40 f112 18", "fairway 112 yd to 18 feet"):
        (found,) = errors_of(f"{HEAD}\n1 f90 3\n{line}")
        assert (found.row, found.wrong) == (3, "which hole?"), line
        assert "7 f112" in found.fix


def test_a_hole_twice() -> None:
    (found,) = errors_of(f"{HEAD}\n1 f112 18\n2 f90 3\n1 f80 4")
    assert (found.row, found.column, found.value) == (4, "hole 1", "1")
    assert "is in line 2 already: another round, the back nine, or a repeat" in found.wrong
    assert "round 2" in found.fix
    for between in ("round 2", "Ned Farrow, 15 May 2026, Home"):
        assert errors_of(f"{HEAD}\n1 f112 18\n2 f90 3\n{between}\n1 f80 4") == []


def test_holes_may_miss_and_jump() -> None:
    assert [r["hole"] for r in rows_of(f"{HEAD}\n12 f90!\n3 f80!\n36 f70!")] == ["12", "3", "36"]


def test_a_long_line_is_no_hole() -> None:
    (found,) = errors_of(f"{HEAD}\n1 f90!\n2 f112 {'18 ' * 20_000}")
    assert found.row == 3
    assert "more than 50000 characters" in found.wrong


def test_strokes_without_end_are_no_hole() -> None:
    found = errors_of(f"{HEAD}\n1 f90!\n2 f112 {'18 ' * 700}")
    assert "more strokes than a hole can have" in found[0].wrong
    assert len(errors_of(f"{HEAD}\n2 {'zz ' * 700}")) == 20


def test_nothing_that_is_asked_is_loaded() -> None:
    text = f"{HEAD}\n1 f112 xyz 18\n2 f90 3"
    assert [row["hole"] for row in rows_of(text)] == ["2", "2"]
    assert [problem.severity for problem in problems_of(text)] == ["error"]
