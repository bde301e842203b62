"""A mapping put to a table: what is read of it, value by value."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook

from sgzone.cards.given import Given
from sgzone.cards.mapping.raw import beside
from sgzone.cards.reader import read_table
from sgzone.errors import DataError
from tests.cards.mapping.faults import MAPPING, TABLE, cells, lay, read
from tests.cards.typed.books import write_book

GERMAN = """\
Runde vom 14. Mai;;;;;;;;
Datum;Loch;Nr;Lage;Rest;Ende;Flug;Drall;Wind
14.05.2026;1;2;Bahn;112,5;;102,5;5.250;
14.05.2026;1;3;Grün;5,5;drin;;;Gegenwind
Datum;Loch;Nr;Lage;Rest;Ende;Flug;Drall;Wind
15.05.2026 09:30;2;2;Bunker links;9;gestrichen;;;-
Summe;;3;;;;;;
"""
GERMAN_MAP = """\
encoding = "cp1252"
separator = ";"
decimal = ","
dates = "dmy"
skip = [1, 7]

[columns]
date = "Datum"
hole = "LOCH"
shot = " Nr "
lie = "Lage"
distance = "Rest"
result = "Ende"
carry_yd = "Flug"
spin_rpm = "Drall"
wind = "Wind"

[units]
distance = "m"
carry_yd = "metres"

[words.lie]
bahn = "fairway"
"Grün" = "green"
"Bunker  Links" = "bunker"

[words.result]
drin = "holed"
gestrichen = "picked_up"

[words.wind]
Gegenwind = "into"
"-" = ""

[fixed]
player = "Ned Farrow"
round = 2
"""


def german(folder: Path) -> Path:
    path = lay(folder, GERMAN_MAP, name="runde.csv")
    path.write_bytes(GERMAN.encode("cp1252"))
    return path


def test_a_table_of_other_headers_words_and_units(tmp_path: Path) -> None:
    text = read_table(german(tmp_path))
    assert cells(text, "date")[:2] == ["2026-05-14", "2026-05-14"]
    assert cells(text, "date")[-1] == "2026-05-15"
    assert [cells(text, "hole")[0], cells(text, "hole")[-1]] == ["1", "2"]
    assert cells(text, "lie") == ["fairway", "green", "bunker"]
    assert cells(text, "distance") == ["112.5 m", "5.5 m", "9 m"]
    assert cells(text, "result") == ["", "holed", "picked_up"]
    assert cells(text, "carry_yd") == ["112.095363", "", ""]  # 102.5 / 0.9144
    assert cells(text, "spin_rpm") == ["5250", "", ""]
    assert cells(text, "wind") == ["", "into", ""]
    assert cells(text, "player") == ["Ned Farrow"] * 3
    assert cells(text, "round") == ["2"] * 3
    assert text.table["source_row"].to_pylist() == [3, 4, 6]


def test_the_mapping_is_named_first_and_its_hash_kept(tmp_path: Path) -> None:
    text = read_table(german(tmp_path))
    first = text.problems[0]
    assert (first.severity, first.row) == ("note", None)
    assert first.wrong == "read with the mapping runde.csv.map.toml"
    assert text.mapping is not None
    assert len(text.mapping) == 64
    path = tmp_path / "runde.csv"
    beside(path).write_text(GERMAN_MAP + "# read through\n", encoding="utf-8")
    assert read_table(path).mapping not in (None, text.mapping)


def test_without_a_mapping_nothing_is_noted(tmp_path: Path) -> None:
    path = tmp_path / "card.csv"
    path.write_text("player,date,hole,shot,lie,distance\nNed,2026-05-14,1,1,green,2\n")
    text = read_table(path)
    assert text.mapping is None
    assert not any("mapping" in problem.wrong for problem in text.problems)


def test_a_mapping_that_is_given_stands_before_the_one_beside(tmp_path: Path) -> None:
    path = lay(tmp_path, "this is no mapping")
    other = tmp_path / "phone.toml"
    other.write_text(MAPPING, encoding="utf-8")
    assert cells(read_table(path, Given(mapping=other)), "hole") == ["1", "1"]


def test_units_that_stand_in_a_column(tmp_path: Path) -> None:
    table = TABLE.replace("Left\n", "Left,U\n").replace(",112\n", ",112,Mtr\n")
    table = table.replace(",9\n", ",9,\n") + "Ned Farrow,14/05/2026,2,1,tee,150 yd,ft\n"
    text = read(tmp_path, MAPPING + '[units]\ndistance = "U"\n[words.unit]\nmtr = "m"\n', table)
    assert cells(text, "distance") == ["112 m", "9", "150 yd"]


def test_a_unit_that_is_none_is_told_with_its_row(tmp_path: Path) -> None:
    table = TABLE.replace("Left\n", "Left,U\n").replace(",112\n", ",112,rods\n")
    text = read(tmp_path, MAPPING + '[units]\ndistance = "U"\n', table.replace(",9\n", ",9,ft\n"))
    (problem,) = (p for p in text.problems if p.severity == "error")
    assert (problem.row, problem.column, problem.value) == (2, "distance", "rods")


def test_two_columns_of_ours_from_one_header_by_their_words(tmp_path: Path) -> None:
    table = TABLE.replace("Left\n", "Left,End\n").replace("112\n", "112,water\n")
    more = '[words.result]\nin = "holed"\nwater = ""\n[words.penalty]\nin = "0"\nwater = "1"\n'
    mapping = MAPPING + 'result = "End"\npenalty = "End"\n' + more
    text = read(tmp_path, mapping, table.replace(",9\n", ",9,in\n"))
    assert cells(text, "result") == ["", "holed"]
    assert cells(text, "penalty") == ["1", "0"]


def test_with_columns_only_the_columns_named_are_read(tmp_path: Path) -> None:
    table = TABLE.replace("Left\n", "Left,Lie,Wind Speed (mph),Weather\n")
    table = table.replace("112\n", "112,good,9,dry\n").replace(",9\n", ",9,bad,8,wet\n")
    text = read(tmp_path, MAPPING, table)
    assert cells(text, "lie") == ["short grass", "green"]
    assert "wind_mph" not in text.table.column_names
    assert text.extra == ("not mapped: Lie", "not mapped: Wind Speed (mph)", "Weather")


def test_without_columns_headers_are_read_as_on_any_card(tmp_path: Path) -> None:
    table = TABLE.replace("From,Left", "From Lie,Distance")
    mapping = 'dates = "dmy"\n[units]\ndistance = "m"\n[words.lie]\ngreen = "fringe"\n'
    table = table.replace("When,No,Stroke", "Date,Hole,Shot")
    text = read(tmp_path, mapping, table)
    assert cells(text, "lie") == ["short grass", "fringe"]
    assert cells(text, "distance") == ["112 m", "9 m"]
    assert cells(text, "player") == ["Ned Farrow"] * 2


def test_a_fixed_value_moves_no_cell_of_a_short_row(tmp_path: Path) -> None:
    table = TABLE + "Ned Farrow,14/05/2026,2,1,tee\n"
    text = read(tmp_path, MAPPING + '[fixed]\ncourse = "Home"\n', table)
    assert cells(text, "lie") == ["short grass", "green", "tee"]
    assert cells(text, "course") == ["Home"] * 3


@pytest.mark.parametrize(
    ("day", "order", "iso"),
    [
        ("5/6/2026", "dmy", "2026-06-05"),
        ("5/6/2026", "mdy", "2026-05-06"),
        ("26-6-5", "ymd", "2026-06-05"),
        ("5.6.26", "dmy", "2026-06-05"),
        ("5.6.70", "dmy", "1970-06-05"),
        ("2026-06-05", "mdy", "2026-06-05"),
        ("05.06.2026 14:20", "dmy", "2026-06-05"),
    ],
)
def test_days_in_the_order_of_the_mapping(tmp_path: Path, day: str, order: str, iso: str) -> None:
    mapping = MAPPING.replace("dmy", order)
    assert cells(read(tmp_path, mapping, TABLE.replace("14/05/2026", day)), "date") == [iso] * 2


@pytest.mark.parametrize(("day", "order"), [("14/05/2026", "mdy"), ("30.2.26", "dmy")])
def test_a_day_that_the_order_makes_none(tmp_path: Path, day: str, order: str) -> None:
    mapping = MAPPING.replace("dmy", order)
    text = read(tmp_path, mapping, TABLE.replace("14/05/2026", day))
    found = [p for p in text.problems if p.severity == "error"]
    assert [(p.row, p.value) for p in found] == [(2, day), (3, day)]
    assert "as the mapping says, this is no day" in found[0].wrong


def test_days_that_mapping_and_call_read_in_two_ways(tmp_path: Path) -> None:
    with pytest.raises(DataError) as caught:
        read(tmp_path, MAPPING, given=Given(dates="mdy"))
    (problem,) = caught.value.problems
    assert (problem.row, problem.column) == (1, "dates")
    assert "as dmy, the call as mdy" in problem.wrong


@pytest.mark.parametrize(
    ("decimal", "written", "read_as"),
    [(",", "87,5", "87.5"), (",", "1.250", "1250"), (".", "1,250", "1250"), (".", "87.5", "87.5")],
)
def test_decimals_and_thousands(tmp_path: Path, decimal: str, written: str, read_as: str) -> None:
    mapping = f'separator = ";"\ndecimal = "{decimal}"\n{MAPPING}'
    table = TABLE.replace(",", ";").replace("112", written)
    assert cells(read(tmp_path, mapping, table), "distance")[0] == read_as


def test_a_workbook(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["My round"])
    for line in TABLE.splitlines():
        sheet.append(line.split(","))
    sheet.cell(3, 6).value = 112.375  # a point of the workbook's own, no thousands
    sheet.cell(4, 6).value = "9,5"
    book.create_sheet("other").append(["x"])
    path = tmp_path / "round.xlsx"
    book.save(path)
    beside(path).write_text('decimal = ","\nskip = 1\n' + MAPPING, encoding="utf-8")
    text = read_table(path)
    assert cells(text, "distance") == ["112.375", "9.5"]
    assert text.table["source_row"].to_pylist() == [3, 4]
    beside(path).write_text('separator = ","\n' + MAPPING, encoding="utf-8")
    with pytest.raises(DataError, match="a workbook has no separator"):
        read_table(path)
    beside(path).write_text(MAPPING, encoding="utf-8")
    with pytest.raises(DataError, match='no sheet "nix"'):
        read_table(path, Given(sheet="nix"))


@pytest.mark.parametrize("ending", [".ods", ".xlsx"])
def test_the_first_sheet_of_any_workbook_or_the_one_named(tmp_path: Path, ending: str) -> None:
    rows = "\n".join("\t".join(line.split(",")) for line in TABLE.splitlines())
    path = tmp_path / f"book{ending}"
    write_book(f"# May\n{rows}\n# June\n{rows.replace('Ned Farrow', 'Ada Low')}\n", path)
    beside(path).write_text(MAPPING, encoding="utf-8")
    assert cells(read_table(path), "player") == ["Ned Farrow"] * 2
    assert cells(read_table(path, Given(sheet="june")), "player") == ["Ada Low"] * 2


def test_a_file_that_is_not_in_the_encoding_of_its_mapping(tmp_path: Path) -> None:
    path = german(tmp_path)
    beside(path).write_text(GERMAN_MAP.replace("cp1252", "utf-8"), encoding="utf-8")
    with pytest.raises(DataError) as caught:
        read_table(path)
    (problem,) = caught.value.problems
    assert (problem.file, problem.row, problem.value) == ("runde.csv", 4, "byte 0xfc")
    assert "not utf-8, as its mapping says" in problem.wrong


def test_files_that_no_mapping_can_be_for(tmp_path: Path) -> None:
    path = tmp_path / "round.parquet"
    path.write_bytes(b"PAR1")
    (tmp_path / "m.toml").write_text(MAPPING, encoding="utf-8")
    with pytest.raises(DataError, match="a mapping is for tables"):
        read_table(path, Given(mapping=tmp_path / "m.toml"))


@pytest.mark.parametrize("table", ["", "\n\n", "Player,When,No,Stroke,From,Left\n"])
def test_tables_without_rows_stay_what_they_are(tmp_path: Path, table: str) -> None:
    with pytest.raises(DataError, match=r"empty|no row"):
        read(tmp_path, MAPPING, table)


@pytest.mark.parametrize(
    ("skip", "fix"),
    [
        ("", "Write skip = 3 above [columns]."),
        ("skip = [1]\n", "Name all rows above it under skip."),
    ],
)
def test_a_header_below_other_text(tmp_path: Path, skip: str, fix: str) -> None:
    with pytest.raises(DataError) as caught:
        read(tmp_path, skip + MAPPING, "My round\n\nof May\n" + TABLE)
    (problem,) = caught.value.problems
    assert problem.wrong.endswith("of round.csv holds none of the headers, row 4 does")
    assert problem.fix == fix
    assert cells(read(tmp_path, "skip = 3\n" + MAPPING, "My\n\nof May\n" + TABLE), "hole")[0] == "1"
