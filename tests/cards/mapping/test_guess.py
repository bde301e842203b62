"""What the guess makes of tables of many kinds, and how sure it says it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.cards.mapping.draft import Draft
from sgzone.cards.mapping.raw import beside, read_raw, separator_of
from sgzone.cards.mapping.write import write_mapping
from sgzone.cards.reader import read_table
from sgzone.season.reading import read_card
from tests.cards.mapping.faults import cells

START_FINISH = """\
Golfer;Date;Hole;From;Dist (m);To;Dist (m);Club
Ned Farrow;2026-05-14;1;fairway;80;green;6;54
Ned Farrow;2026-05-14;2;rough;45,5;sand;8;58
Ned Farrow;2026-05-14;3;sand;20;holed;0;58
"""


def guess(folder: Path, table: str, name: str = "t.csv") -> tuple[list[str], Draft]:
    """Return the lines of the mapping, blanks in rows taken out, and what is told of it."""
    path = folder / name
    path.write_text(table, encoding="utf-8")
    target, made = write_mapping(path, replace=True)
    return [" ".join(line.split()) for line in target.read_text("utf-8").splitlines()], made


def test_start_and_finish_on_one_row(tmp_path: Path) -> None:
    lines, made = guess(tmp_path, START_FINISH)
    assert 'lie = "From" # sure: header is From' in lines
    assert 'to_lie = "To" # sure: header is To' in lines
    assert 'distance = "[5]" # sure: header is Dist (m)' in lines
    assert 'to_distance = "[7]" # guess: a second Dist (m): the finish' in lines
    assert lines.count('distance = "m" # sure: header is Dist (m)') == 1
    assert 'to_distance = "m" # sure: header is Dist (m)' in lines
    assert 'decimal = "," # sure: 1 number has one' in lines
    assert (made.lacking, made.asked, made.words) == ([], [], [])
    card = read_card(tmp_path / "t.csv")
    assert card["distance_ft"].round(1).tolist() == [262.5, 149.3, 65.6]
    assert card["to_lie"].tolist() == ["green", "sand", "holed"]


def test_what_is_not_known_is_left_and_what_is_needed_is_said(tmp_path: Path) -> None:
    table = "Abc,Hole,Lie\nx,1,green\ny,2,green\n"
    lines, made = guess(tmp_path, table)
    assert '# ? = "Abc" # not mapped' in lines
    assert made.left == ["Abc"]
    assert made.lacking == ["player", "date", "distance"]
    assert any(line.startswith('# player = "" # needed, and no header is it') for line in lines)


@pytest.mark.parametrize(
    ("header", "unit", "said"),
    [
        ("Distance (m)", 'distance = "m"', "sure"),
        ("Distance (yds/ft)", "", ""),
        ("Distance", "", ""),
        ("Distance (yds)", '# distance = "yd"', "to fill in"),
        ("Distance (ft)", '# distance = "ft"', "to fill in"),
    ],
)
def test_units_that_a_header_names(tmp_path: Path, header: str, unit: str, said: str) -> None:
    table = f"Player,Date,Hole,Shot,Lie,{header}\nNed,2026-05-14,1,2,fairway,112\n"
    lines, made = guess(tmp_path, f"{table}Ned,2026-05-14,1,3,green,9\n")
    assert ("the unit of distance" in made.asked) == (said == "to fill in")
    if unit:
        assert any(line.startswith(f"{unit} # {said}") for line in lines)
    else:
        assert "[units]" not in lines


@pytest.mark.parametrize(
    ("days", "line"),
    [
        (("14/5/2026", "5/6/2026"), 'dates = "dmy" # sure: 14/5/2026 is no day in another order'),
        (("5/14/2026", "5/6/2026"), 'dates = "mdy" # sure: 5/14/2026 is no day in another order'),
        (("5/6/2026", "5/7/2026"), '# dates = "" # to fill in: 5/6/2026 can be read as dmy or mdy'),
        (("14/5/2026", "5/14/2026"), "more than one order"),
        (("2026-05-14", "2026-05-15"), ""),
        (("14 May 2026", "15 May 2026"), ""),
    ],
)
def test_the_order_of_days(tmp_path: Path, days: tuple[str, str], line: str) -> None:
    rows = "".join(f"Ned,{day},1,1,green,9\n" for day in days)
    lines, made = guess(tmp_path, f"Player,Date,Hole,Shot,Lie,Distance\n{rows}")
    found = [one for one in lines if "dates =" in one]
    assert [line in one for one in found] == ([True] if line else [])
    assert made.asked == (["dates"] if line and not line.startswith("dates") else [])


def test_columns_known_by_their_values_alone(tmp_path: Path) -> None:
    rows = "".join(
        f"14.5.2026;{hole};{n};{lie};\n"
        for hole in range(1, 9)
        for n, lie in ((2, "rough"), (3, "green"))
    )
    lines, made = guess(tmp_path, f"aa;bb;cc;dd;ee\n{rows}")
    assert 'date = "aa" # guess: all values are days' in lines
    assert 'hole = "bb" # guess: all values are 1 to 18 and rise' in lines
    assert 'shot = "cc" # guess: its values rise on every hole' in lines
    assert 'lie = "dd" # guess: its values are words of ours' in lines
    assert made.guesses == ["date", "hole", "shot", "lie"]


def test_a_running_number_is_no_stroke(tmp_path: Path) -> None:
    rows = "".join(f"{n},{1 + n // 3},green\n" for n in range(1, 25))
    lines, _ = guess(tmp_path, f"Row,Hole,Lie\n{rows}")
    assert '# ? = "Row" # not mapped' in lines


def test_rows_above_the_header_and_sums_are_passed_over(tmp_path: Path) -> None:
    table = (
        "My round\n\nPlayer,Date,Hole,Shot,Lie,Distance\nNed,2026-05-14,1,1,green,9\n"
        "Ned,2026-05-14,2,1,green,9\nTotal,,,2,,\n"
    )
    lines, _ = guess(tmp_path, table)
    assert "skip = [1, 2, 6] # guess: rows above the header, and sums" in lines
    lines, _ = guess(tmp_path, table.removesuffix("Total,,,2,,\n"))
    assert "skip = 2 # sure: the header is in row 3" in lines
    assert cells(read_table(tmp_path / "t.csv"), "hole") == ["1", "2"]


def test_other_tables_than_cards(tmp_path: Path) -> None:
    log = "Name,Day,Mins,Worked on\nNed,2026-05-14,30,sand 0-50 yd\n"
    lines, made = guess(tmp_path, log)
    assert "read as a practice log." in lines[0]
    assert made.lacking == []
    assert '"sand 0-50 yd" = "sand_0_50" # sure: in 1 row' in lines
    bag = "Name,Club,Loft,In the bag since\nNed,54,54,2026-01-01\n"
    lines, _ = guess(tmp_path, bag)
    assert "read as a bag." in lines[0]
    assert 'in_play_from = "In the bag since" # sure: header is In the bag since' in lines


def test_positions_by_their_headers(tmp_path: Path) -> None:
    table = (
        "Player,Date,Hole,Shot,Lie,startLatitude,startLongitude,Flag_lat,Flag_lng,Lat end,Lon end\n"
        "Ned,2026-05-14,1,2,rough,48.1,11.5,48.101,11.5,48.1009,11.5\n"
    )
    lines, made = guess(tmp_path, table)
    assert any(line.startswith('ball = ["startLatitude", "startLongitude"]') for line in lines)
    assert any(line.startswith('pin = ["Flag_lat", "Flag_lng"]') for line in lines)
    assert any(line.startswith('finish = ["Lat end", "Lon end"]') for line in lines)
    assert any(line.startswith('measured = "gps"') for line in lines)
    assert (made.places, made.lacking) == (["ball", "pin", "finish"], [])
    text = read_table(tmp_path / "t.csv")
    assert cells(text, "distance") == ["364.804 ft"]
    assert cells(text, "depth_ft") == ["-36.480"]


def test_positions_of_the_ball_alone_make_no_distance(tmp_path: Path) -> None:
    table = "Player,Date,Hole,Shot,Lie,Lat,Lon\nNed,2026-05-14,1,2,rough,48.1,11.5\n"
    lines, made = guess(tmp_path, table)
    assert any(line.startswith('# ball = ["Lat", "Lon"]') for line in lines)
    assert (made.places, made.lacking) == ([], ["distance"])


def test_the_same_guess_of_a_column_of_too_many_words(tmp_path: Path) -> None:
    rows = "".join(f"Ned,2026-05-14,{1 + n // 5},{1 + n % 5},lie {n},9\n" for n in range(80))
    lines, made = guess(tmp_path, f"Player,Date,Hole,Shot,Lie,Distance\n{rows}")
    assert "[words.lie]" not in lines
    assert made.words == []


@pytest.mark.parametrize(
    ("text", "separator"),
    [
        ("a,b\n1,2\n", ","),
        ("a;b\n1,5;2,5\n1;2\n", ";"),
        ("a\tb c, d\n1\t2\n", "\t"),
        ("a|b\n1|2\n", "|"),
        ("alone\n", ","),
        ("", ","),
    ],
)
def test_the_separator(text: str, separator: str) -> None:
    assert separator_of(text) == separator


def test_a_byte_of_windows_is_told_as_a_guess(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_bytes("Spieler;Datum;Loch;Lage;Rest\nNed;2026-05-14;1;Grün;9\n".encode("cp1252"))
    target, _ = write_mapping(path)
    text = target.read_text(encoding="utf-8")
    assert 'encoding = "cp1252"' in text
    assert "guess: it is not UTF-8" in text
    assert cells(read_table(path), "lie") == ["green"]
    path.write_text("Spieler;Datum;Loch;Lage;Rest\nNed;2026-05-14;1;Grün;9\n", encoding="utf-16")
    beside(path).unlink()
    assert read_raw(path).encoding == "utf-16"
    write_mapping(path)
    assert cells(read_table(path), "lie") == ["green"]
