"""What people type for a stroke, and what it means."""

from __future__ import annotations

import pytest

from sgzone.cards.columns import columns_of
from tests.cards.text.typed import HEAD, problems_of, rows_of, strokes

PLAIN = "fairway 112 yd; green 18 ft; green 2 ft"
READ = [
    # the grammar
    ("1  f112/50 g18 g2", "fairway 112 yd /50; green 18 ft; green 2 ft"),
    (
        "2  r135 s14 e30ft 2c",
        "rough 135 yd; sand 14 yd; fringe 30 ft; green 2 ft conceded",
    ),
    (
        "3  f60* r75/58/h(-8,4) 9 1 # pin back",
        "fairway 60 yd *; rough 75 yd /58 /half (-8,4); green 9 ft; green 1 ft",
    ),
    ("4  3rd r140 x", "rough 140 yd picked_up"),
    ("5  t143 wind=into g33 g3", "tee 143 yd; green 33 ft; green 3 ft"),
    ("6  v90** f20 0.5", "recovery 90 yd **; fairway 20 yd; green 0.5 ft"),
    # lie before or behind, a letter or a word
    ("1 112f 18 2", PLAIN),
    ("1 112 f 18 2", PLAIN),
    ("1 fairway 112, 18, 2", PLAIN),
    ("1 112 yds fairway, 18 ft, 2 ft", PLAIN),
    ("1 fwy 112yd 18 2", PLAIN),
    ("1 15y bunker 6", "sand 15 yd; green 6 ft"),
    ("1 bunker 15 6", "sand 15 yd; green 6 ft"),
    ("1 f60 112r 6", "fairway 60 yd; rough 112 yd; green 6 ft"),
    ("1 first cut 80, apron 12ft, 2", "rough 80 yd; fringe 12 ft; green 2 ft"),
    ("1 semi 80 12", "rough 80 yd; green 12 ft"),
    ("1 f112 in the bunker 12 3", "fairway 112 yd; sand 12 yd; green 3 ft"),
    ("1 f112 on the green 18 2", PLAIN),
    ("1 F112 G18 G2", PLAIN),
    ("1 Abschlag 140, 18", "tee 140 yd; green 18 ft"),
    # clubs and swings
    ("1 f112 pw 18", "fairway 112 yd /pw; green 18 ft"),
    ("1 pw f112 18", "fairway 112 yd /pw; green 18 ft"),
    ("1 t143 8i 18", "tee 143 yd /8i; green 18 ft"),
    ("1 t143 8 iron 18", "tee 143 yd /8 iron; green 18 ft"),
    ("1 f112 54° 18", "fairway 112 yd /54; green 18 ft"),
    ("1 f112/54 deg 18", "fairway 112 yd /54; green 18 ft"),
    ("1 f112 lob wedge 18", "fairway 112 yd /lob wedge; green 18 ft"),
    ("1 f112 /50 /q 18", "fairway 112 yd /50 /three-quarter; green 18 ft"),
    ("1 t 143 / 8i 18", "tee 143 yd /8i; green 18 ft"),
    ("1 f112/h 18", "fairway 112 yd /half; green 18 ft"),
    ("1 f112/F 18", "fairway 112 yd /full; green 18 ft"),
    ("1 f112/half 18", "fairway 112 yd /half; green 18 ft"),
    ("1 f112/3/4 18", "fairway 112 yd /three-quarter; green 18 ft"),
    ("1 f112/54/¾ 18", "fairway 112 yd /54 /three-quarter; green 18 ft"),
    ("1 f112/54/three-quarter 18", "fairway 112 yd /54 /three-quarter; green 18 ft"),
    ("1 f112/54/punch 18", "fairway 112 yd /54 /punch; green 18 ft"),
    ("1 f112/4h 18", "fairway 112 yd /4h; green 18 ft"),
    ("1 f112/s 18", "fairway 112 yd /s; green 18 ft"),
    ("1 f112/p 18", "fairway 112 yd /p; green 18 ft"),
    ("1 f112/[old wedge, bent] 18", "fairway 112 yd /old wedge, bent; green 18 ft"),
    ("1 f112/[a]]b] 18", "fairway 112 yd /a]b; green 18 ft"),
    ("1 f112 18/putter 2", "fairway 112 yd; green 18 ft /putter; green 2 ft"),
    # distances
    ("1 f112 7'10\"", "fairway 112 yd; green 7'10\""),
    ("1 f112 7'10", "fairway 112 yd; green 7'10\""),
    ("1 f112 7ft10in", "fairway 112 yd; green 7'10\""),
    ("1 f112 7ft 10in", "fairway 112 yd; green 7'10\""),
    ("1 f112 7\u203210\u2033", "fairway 112 yd; green 7'10\""),
    ("1 f112 7' 10\"", "fairway 112 yd; green 7'10\""),
    ("1 f112 18' 2'", "fairway 112 yd; green 18 ft; green 2 ft"),
    ('1 f112 18" 6"', "fairway 112 yd; green 1'6\"; green 0'6\""),
    ("1 f112 18ft 2", PLAIN),
    ("1 f112 4½ .5", "fairway 112 yd; green 4.5 ft; green 0.5 ft"),
    ("1 e4yd 2", "fringe 4 yd; green 2 ft"),
    ("1 s18ft 2", "sand 18 ft; green 2 ft"),
    ("1 r20 paces 2", "rough 20 yd; green 2 ft"),
    ("1 g71 2", "green 71 ft; green 2 ft"),
    ("1 par3 146 18 2", "tee 146 yd; green 18 ft; green 2 ft"),
    ("1 par 3 46/pw 18", "tee 46 yd /pw; green 18 ft"),
    ("1 par3 46 18", "green 46 ft; green 18 ft"),
    ("1 par4 f112 18", "fairway 112 yd; green 18 ft"),
    # penalties
    ("1 f60 water r75 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    ("1 f60 in the water r75 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    ("1 f60 water 1 pen r75 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    ("1 f60 OB f60 9", "fairway 60 yd *; fairway 60 yd; green 9 ft"),
    ("1 t146 lost ball t146 9", "tee 146 yd *; tee 146 yd; green 9 ft"),
    ("1 r60 unplayable r62 9", "rough 60 yd *; rough 62 yd; green 9 ft"),
    ("1 f60 2 pen r75 9", "fairway 60 yd **; rough 75 yd; green 9 ft"),
    ("1 f60 +1 r75 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    ("1 f60* water r75 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    ("1 f60 water, drop 75r 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    ("1 f60 water, drop r75 9", "fairway 60 yd *; rough 75 yd; green 9 ft"),
    # how it ended
    ("1 f112 8 gimme", "fairway 112 yd; green 8 ft conceded"),
    ("1 f112 20c", "fairway 112 yd; green 20 ft conceded"),
    ("1 f112 2 given", "fairway 112 yd; green 2 ft conceded"),
    ("1 f112 2ftc", "fairway 112 yd; green 2 ft conceded"),
    ("1 r140 picked up", "rough 140 yd picked_up"),
    ("1 f112 e17ftx", "fairway 112 yd; fringe 17 ft picked_up"),
    ("1 r140* x", "rough 140 yd *; ? ? picked_up"),
    ("1 r140 lost ball x", "rough 140 yd *; ? ? picked_up"),
    ("1 r140 ?x", "rough 140 yd; ? ? picked_up"),
    ("1 f112!", "fairway 112 yd holed"),
    ("1 f112 holed!!", "fairway 112 yd holed"),
    ("1 f112 6 in", "fairway 112 yd; green 6 ft holed"),
    ("1 f112 41 made", "fairway 112 yd; green 41 ft holed"),
    ("1 f112 18 tap in", "fairway 112 yd; green 18 ft; green 1 ft"),
    ("1 f112 18 2, 2 putts", PLAIN),
    ("1 f112 18 2 two putts", PLAIN),
    ("1 s14 3 u/d", "sand 14 yd; green 3 ft"),
    ("1 f112 18 2 g4", "fairway 112 yd; green 18 ft; green 2 ft; green 4 ft"),
    # where it finished
    ("1 f112(12 short 4 right) 18", "fairway 112 yd (-12,4); green 18 ft"),
    ("1 f112 (3 left) 3", "fairway 112 yd (,-3); green 3 ft"),
    ("1 f112(-12,) 12", "fairway 112 yd (-12,); green 12 ft"),
    ("1 f112(,4) 4", "fairway 112 yd (,4); green 4 ft"),
    ("1 f112(-4yd,0) 12", "fairway 112 yd (-12.0,0); green 12 ft"),
    # what is between them
    ("1: f112 -> 18 -> 2", PLAIN),
    ("1) f112 – 18 – 2.", PLAIN),
    ("1. f112; 18; 2", PLAIN),
    ("1, f112, 18, 2", PLAIN),
    ("1 - f112 to 18 ft then 2 ft", PLAIN),
    ("#1 f112 18 2", PLAIN),
    ("hole 1: f112 18 2", PLAIN),
    ("> 1 f112 18 2", PLAIN),
    ("• 1 f112 18 2", PLAIN),
    ("[x] 1 f112 18 2", PLAIN),
    ("- [ ] 1 f112 18 2", PLAIN),
    ("1\u20e3 f112 18 2", PLAIN),
    ("1 f112\u00a018\u200b 2 \U0001f389", PLAIN),
    ("1 f112-g18-g2", PLAIN),
    ("1 par4. f112 18. 2.", PLAIN),
]


@pytest.mark.parametrize(("line", "read"), READ)
def test_read(line: str, read: str) -> None:
    assert strokes(line) == read


@pytest.mark.parametrize(
    ("line", "read"),
    [
        ("1 f102,4 5.5 0,6", "fairway 102.4 m; green 5.5 m; green 0.6 m"),
        ("1 e8 2", "fringe 8 m; green 2 m"),
        ("1 f102(-2.5,1) 3", "fairway 102 m (-8.2021,3.28084); green 3 m"),
        ("1 f102(-8ft,3ft) 3", "fairway 102 m (-8,3); green 3 m"),
        ("1 f102 5 20ft", "fairway 102 m; green 5 m; green 20 ft"),
    ],
)
def test_in_metres(line: str, read: str) -> None:
    assert strokes(line, head=f"{HEAD}, m") == read


def test_the_first_stroke_has_the_number_that_is_written() -> None:
    rows = rows_of(f"{HEAD}\n4 3rd r140 18\n5 f112 18\n6 2nd shot f80 shot=4 2\n")
    assert [(row["hole"], row["shot"]) for row in rows] == [
        *(("4", "3"), ("4", "4"), ("5", "1"), ("5", "2"), ("6", "4"), ("6", "3")),
    ]


def test_columns_by_name() -> None:
    """In the first line they are the round's, before the strokes the hole's, else the stroke's."""
    head = f"{HEAD}, competition, stableford, green_speed_ft=9.5"
    rows = rows_of(
        f"{head}\n1 wind=into lie_quality=[sitting down] f112 measured=laser 18 note=[a # b]\n"
        "2 F90 Green-Firmness=soft 3 # read it twice"
    )
    assert {row["green_speed_ft"] for row in rows} == {"9.5"}
    assert {row["event"] for row in rows} == {"competition"}
    assert {row["format"] for row in rows} == {"stableford"}
    assert [row.get("wind") for row in rows] == ["into", "into", None, None]
    assert [row.get("lie_quality") for row in rows[:2]] == ["sitting down"] * 2
    assert [row.get("measured") for row in rows] == ["laser", None, None, None]
    assert [row.get("green_firmness") for row in rows] == [None, None, "soft", None]
    assert [row.get("note") for row in rows] == [None, "a # b", "read it twice", None]


def test_remarks_are_kept_as_a_note() -> None:
    text = f"{HEAD}\n1 f112 plugged 18 birdie # great\n2 f90 hit the tree r40 3"
    rows = rows_of(text)
    assert [row.get("note") for row in rows[::2]] == [
        "plugged; birdie; great",
        "hit the tree",
        None,
    ]
    (note,) = problems_of(text)
    assert note.severity == "note"
    assert "plugged, birdie, hit the tree" in note.wrong


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("1 112f 18 2", "the lie read behind its distance in line 2"),
        ("1 f60 water r75 9", "words read as signs in line 2: water"),
        ("1 par3 146 18", "read as the tee shot of a par 3: 146"),
        ("1 f112 wnd=into 18", "a shot card has no such column"),
    ],
)
def test_what_is_read_in_another_way_is_noted(line: str, told: str) -> None:
    (note,) = problems_of(f"{HEAD}\n{line}")
    assert (note.severity, note.row) == ("note", 2)
    assert told in note.wrong


def test_a_column_that_no_card_has_is_kept_and_the_nearest_is_named() -> None:
    (note,) = problems_of(f"{HEAD}\n1 f112 wnd=into 18")
    assert note.column == "wnd"
    assert 'Did you mean "wind"' in note.fix


def test_plain_grammar_is_read_without_a_word() -> None:
    text = f"{HEAD}, competition\n1  f112/50 g18 g2\n2 r135 s14 e30ft 2c\n3 f60* r75/58/h(-8,4) 9 1"
    assert problems_of(text + "\n\n# a remark of its own\n4 3rd r140 x\n") == []


def test_words_of_a_column_are_read_as_in_a_table() -> None:
    (wind,) = (column for column in columns_of("shot") if column.name == "wind")
    spoken = next(said for said in wind.synonyms if said.words.isalpha())
    rows = rows_of(f"{HEAD}\n1 wind={spoken.words} f112 18\n2 wind=Howling f112 18")
    assert rows[0]["wind"] == wind.synonyms[spoken]
    assert rows[2]["wind"] == "Howling"
