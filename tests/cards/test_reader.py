"""Files of every kind to text with the row numbers of a spreadsheet."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pandas as pd
import pytest
from openpyxl import Workbook

from sgzone.cards.given import Given
from sgzone.cards.reader import TextTable, read_table, read_tables
from sgzone.errors import DataError, Problem
from sgzone.season.reading import find_problems

HEADER = "player,date,hole,shot,lie,distance\n"
ROW = "Ada,2026-05-14,1,1,green,2\n"


def read(folder: Path, data: str | bytes, name: str = "card.csv") -> TextTable:
    path = folder / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return read_table(path)


def refused(folder: Path, data: str | bytes, name: str = "card.csv") -> Problem:
    with pytest.raises(DataError) as caught:
        read(folder, data, name)
    (problem,) = caught.value.problems
    assert problem.fix
    assert problem.file == name
    return problem


def rows_of(text: TextTable) -> list[int]:
    return list(text.table["source_row"].to_pylist())


def test_row_numbers_through_blank_lines_and_quoted_newlines(tmp_path: Path) -> None:
    text = read(
        tmp_path,
        HEADER.replace("\n", ",note\n")
        + 'Ada,2026-05-14,1,1,green,9,"two\nlines"\n'
        + "\n"
        + ",,,,,,\n"
        + "Ada,2026-05-14,1,2,green,2,\n",
    )
    assert rows_of(text) == [2, 5]
    assert text.table["note"].to_pylist() == ["two\nlines", None]


def test_a_malformed_row_is_counted_and_named(tmp_path: Path) -> None:
    text = read(
        tmp_path, HEADER + "Ada,2026-05-14,1,1,green,8,7\n" + ROW + "Ada,2026-05-14\n" + ROW
    )
    assert rows_of(text) == [2, 3, 4, 5]
    assert text.table["broken"].to_pylist() == [True, False, True, False]
    assert [(p.row, p.wrong) for p in text.problems] == [
        (2, "this row has 7 cells and the header has 6"),
        (4, "this row has 2 cells and the header has 6"),
    ]


def test_separators_at_the_end_of_every_row_do_no_harm(tmp_path: Path) -> None:
    text = read(tmp_path, HEADER.replace("\n", ",,\n") + ROW.replace("\n", ",,\n"))
    assert text.problems == ()
    assert text.table["distance"].to_pylist() == ["2"]


def test_cells_beyond_the_last_header_are_not_dropped(tmp_path: Path) -> None:
    text = read(tmp_path, HEADER.replace("\n", ",,\n") + ROW.replace("\n", ",,?\n"))
    assert [problem.wrong for problem in text.problems] == ["column 8 has cells and no header"]


def test_a_decimal_comma_without_quotes_does_not_pass_as_the_next_cell(tmp_path: Path) -> None:
    head = HEADER.replace("\n", ",penalty,result\n")
    text = read(tmp_path, head + "Ada,2026-05-14,1,1,rough,87,1,,\n")
    assert [(p.row, p.wrong) for p in text.problems] == [
        (2, "this row has 9 cells and the header has 8")
    ]


def test_header_case_blanks_and_order_are_ignored(tmp_path: Path) -> None:
    text = read(tmp_path, " Distance ,LIE,shot,hole,Date,PLAYER\n2,green,1,1,2026-05-14,Ada\n")
    assert text.kind == "shot"
    assert text.problems == ()
    assert text.table["distance"].to_pylist() == ["2"]


@pytest.mark.parametrize(
    ("name", "delimiter"), [("a.csv", ";"), ("a.csv", "\t"), ("a.tsv", "\t"), ("a.tsv", ",")]
)
def test_the_separator_is_seen(name: str, delimiter: str, tmp_path: Path) -> None:
    text = read(tmp_path, (HEADER + ROW).replace(",", delimiter), name)
    assert text.table["lie"].to_pylist() == ["green"]


def test_byte_order_mark_and_line_endings(tmp_path: Path) -> None:
    text = read(tmp_path, b"\xef\xbb\xbf" + (HEADER + ROW).replace("\n", "\r\n").encode())
    assert text.table["player"].to_pylist() == ["Ada"]
    assert rows_of(read(tmp_path, (HEADER + ROW + ROW).replace("\n", "\r"))) == [2, 3]


def test_feet_and_inches_need_no_quoting(tmp_path: Path) -> None:
    text = read(tmp_path, HEADER + "Ada,2026-05-14,1,1,green,7'10\"\n" + ROW)
    assert text.table["distance"].to_pylist() == ["7'10\"", "2"]


@pytest.mark.parametrize(
    ("header", "kind"),
    [
        ("player,shot", "shot"),
        ("player,hole,minutes,block", "shot"),
        ("player,minutes,part", "log"),
        ("player,block,target_yd", "test"),
        ("player,club,in_play_from", "bag"),
    ],
)
def test_kind_by_header(header: str, kind: str, tmp_path: Path) -> None:
    assert read(tmp_path, f"{header}\n" + "x," * header.count(",") + "x\n").kind == kind


@pytest.mark.parametrize(
    ("data", "name", "words", "row"),
    [
        ("", "card.csv", "empty", None),
        (" \n\n", "card.csv", "empty", None),
        (HEADER, "card.csv", "no row under it", None),
        ("a,b\n1,2\n", "card.csv", "none of a known table", 1),
        ("My season\n\nplayer,holes,par\n" + ROW, "card.csv", "none of a known table", 1),
        ((HEADER + ROW + "Zoë").encode("utf-16") + b"x", "card.csv", "damaged", None),
        ((HEADER + ROW + "Zoë ").encode() + b"\xe9", "card.csv", "Latin-1", 3),
        ((HEADER + ROW + "Zo").encode() + b"\x81", "card.csv", "Latin-1", 3),
        (b"\x01\x02\x00\xff" * 99, "card.csv", "binary", None),
        (b"PK\x03\x04rest", "card.csv", "workbook", None),
        (b"PAR1rest", "card.tsv", "Parquet", None),
        ("nonsense", "card.xlsx", "workbook cannot be read", None),
        (b"PK\x03\x04rest", "card.xlsx", "workbook cannot be read", None),
        ("nonsense", "card.parquet", "not a Parquet file", None),
        ("nonsense", "card.odt", 'files ending in ".odt"', None),
        (HEADER + ROW, "card", 'files ending in ""', None),
    ],
)
def test_what_is_no_card(
    data: str | bytes, name: str, words: str, row: int | None, tmp_path: Path
) -> None:
    problem = refused(tmp_path, data, name)
    assert words in problem.wrong
    assert problem.row == row


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="no such file"):
        read_table(tmp_path / "none.csv")
    with pytest.raises(DataError, match="folder"):
        read_table(tmp_path)


def test_header_once_more_in_the_middle(tmp_path: Path) -> None:
    text = read(tmp_path, HEADER + ROW + HEADER.upper() + ROW)
    assert [(p.severity, p.wrong) for p in text.problems] == [
        ("note", "the header once more, passed over: row 3")
    ]
    assert rows_of(text) == [2, 4]


def test_quotes_that_never_close(tmp_path: Path) -> None:
    text = read(tmp_path, HEADER + ROW + 'Ada,2026-05-14,1,2,"green,2\n' + ROW)
    assert [p.row for p in text.problems] == [3]
    assert rows_of(text) == [2]
    text = read(tmp_path, HEADER + '"Ada,2026-05-14,1,2,green,2\n')
    assert [p.row for p in text.problems] == [2]
    assert rows_of(text) == []


def test_doubled_unnamed_and_unknown_columns(tmp_path: Path) -> None:
    head = HEADER.replace("\n", ",lie,,Mood,luck\n")
    text = read(tmp_path, head + ROW.replace("\n", ",sand,?,calm,\n"))
    told = [(p.severity, p.column, p.wrong) for p in text.problems]
    assert told == [
        ("error", "lie", "two columns have this header"),
        ("error", "", "column 8 has cells and no header"),
        ("note", "mood", "a shot card has no such column; its cells are kept as they are"),
        ("note", "luck", "a shot card has no such column; its cells are kept as they are"),
    ]
    assert text.extra == ("Mood", "luck")


def workbook(path: Path, *sheets: tuple[str, list[list[object]]]) -> Path:
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets:
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(path)
    return path


def test_workbook_cells_and_row_numbers(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        [],
        HEADER.strip().split(","),
        ["Ada", date(2026, 5, 14), 1, 1, "rough", 87.5],
        [],
        ["Ada", datetime(2026, 5, 14), 1.0, 2, "green", "7'10\""],
    ]
    text = read_table(workbook(tmp_path / "card.xlsx", ("card", rows)))
    assert rows_of(text) == [3, 5]
    assert text.table["date"].to_pylist() == ["2026-05-14", "2026-05-14"]
    assert text.table["hole"].to_pylist() == ["1", "1"]
    assert text.table["distance"].to_pylist() == ["87.5", "7'10\""]
    assert text.problems == ()


def test_workbook_says_which_sheet(tmp_path: Path) -> None:
    rows: list[list[object]] = [HEADER.strip().split(","), ["Ada", "2026-05-14", 1, 1, "green", 2]]
    path = workbook(tmp_path / "c.xlsx", ("blank", []), ("May", rows), ("June", rows))
    may, june = read_tables(path)
    assert rows_of(may) == rows_of(june) == [2]
    assert (may.file, june.file) == ('c.xlsx, sheet "May"', 'c.xlsx, sheet "June"')
    (alone,) = read_tables(path, Given(sheet="june "))
    assert alone.file == "c.xlsx"
    assert not alone.problems
    with pytest.raises(DataError, match='no sheet "July"'):
        read_tables(path, Given(sheet="July"))


def test_a_sheet_without_a_table_is_named(tmp_path: Path) -> None:
    rows: list[list[object]] = [HEADER.strip().split(","), ["Ada", "2026-05-14", 1, 1, "green", 2]]
    (text,) = read_tables(workbook(tmp_path / "c.xlsx", ("About", [["how to"]]), ("May", rows)))
    assert text.file == "c.xlsx"
    assert [(p.severity, p.wrong) for p in text.problems] == [
        ("note", "sheet without a table, passed over: About")
    ]


def test_empty_workbook(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="workbook is empty"):
        read_table(workbook(tmp_path / "c.xlsx", ("one", [])))


def test_parquet(tmp_path: Path) -> None:
    frame = pd.DataFrame(
        {
            "player": pd.Categorical(["Ada", "Ada"]),
            "date": pd.to_datetime(["2026-05-14", "2026-05-14"]),
            "hole": [1, 1],
            "shot": [1.0, 2.0],
            "lie": ["rough", "green"],
            "distance": [87.25, 3.0],
            "penalty": [None, 0.0],
        }
    )
    frame.to_parquet(tmp_path / "c.parquet")
    text = read_table(tmp_path / "c.parquet")
    assert rows_of(text) == [2, 3]
    assert text.table["player"].to_pylist() == ["Ada", "Ada"]
    assert text.table["penalty"].to_pylist() == [None, "0"]
    frame.assign(note=[[1], [2]]).to_parquet(tmp_path / "c.parquet")
    with pytest.raises(DataError, match='column "note" holds list'):
        read_table(tmp_path / "c.parquet")
    frame.head(0).to_parquet(tmp_path / "c.parquet")
    with pytest.raises(DataError, match="no rows"):
        read_table(tmp_path / "c.parquet")
    blank = {name: [None, None] for name in frame.columns} | {"mood": [" ", ""]}
    pd.DataFrame(blank, dtype=object).to_parquet(tmp_path / "c.parquet")
    (problem,) = find_problems(tmp_path / "c.parquet")
    assert problem.wrong == "there are no rows with anything in them"


def test_a_hole_without_end_is_asked_about_and_not_counted_on(tmp_path: Path) -> None:
    rows = "Ada,2026-05-14,1e999,1,green,9\nAda,2026-05-14,,2,green,2\nAda,2026-05-14,,1,tee,9\n"
    (tmp_path / "card.csv").write_text(HEADER + rows, encoding="utf-8")
    told = find_problems(tmp_path / "card.csv")
    assert {problem.column for problem in told if problem.severity == "error"} == {"hole"}
