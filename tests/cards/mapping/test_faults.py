"""Every mistake in a mapping: what is wrong, in which line, what to write instead."""

from __future__ import annotations

from pathlib import Path

import pytest

from sgzone.cards.mapping.headers import find_places
from sgzone.cards.mapping.reading import read_mapping
from tests.cards.mapping.faults import MAPPING, TABLE, faults

LINES = len(MAPPING.splitlines())


@pytest.mark.parametrize(
    ("more", "column", "wrong", "fix"),
    [
        ('[unit]\ndistance = "m"', "unit", "a mapping has no such key", "Write units."),
        ('[colours]\nlie = "x"', "colours", "a mapping has no such key", "encoding, separator"),
        ('[units]\nlie = "m"', "units.lie", "no column of lengths", "distance"),
        ("[units]\ndistance = 3", "units.distance", "this is no unit", "yd, m or ft"),
        ('[units]\ndistance = "Unit"', "units.distance", "no such header", "Its headers are"),
        ('[units]\ncarry_yd = "m"', "units.carry_yd", "no column carry_yd", "[columns]"),
        ('[words.lie]\nBahn = "fairwy"', "words.lie.Bahn", "no word of ours", '"fairway"?'),
        ('[words.lie]\nBahn = "grass"', "words.lie.Bahn", "no word of ours", "tee, fairway"),
        ('[words.swing]\nvoll = "fulll"', "words.swing.voll", "no word of ours", '"full"?'),
        ('[words.swing]\nvoll = "full"', "words.swing", "no column swing", "[columns]"),
        ('[words.hole]\neins = "one"', "words.hole.eins", "hole cannot be this", "whole number"),
        ('[words.lie]\na = "tee"\nA = "sand"', "words.lie.A", "twice, with two meanings", "one"),
        ('[words]\nlie = "x"', "words.lie", "this must be a table", "[words.lie]"),
        ('[words.lies]\na = "tee"', "words.lies", "we have no such column", "Did you mean lie?"),
        ('[fixed]\nlie = "tee"', "fixed.lie", "under [columns] too", "Keep one"),
        ("[fixed]\nround = 1.5", "fixed.round", "round cannot be this", "whole number"),
        ('[fixed]\nevent = "competiton"', "fixed.event", "no word of ours", '"competition"?'),
        ("[fixed]\nround = true", "fixed.round", "no word of ours", "quotes"),
        ("[fixed]\nminutes = 30", "fixed.minutes", "a shot card has no such column", "player"),
        ("[positions]\nball = 1", "positions.ball", "two headers", "latitude"),
        ('[positions]\npin = ["a", "b"]', "positions", "positions need the ball", "ball = ["),
        ('[positions]\nflag = ["a", "b"]', "positions.flag", "no place of a stroke", "pin"),
        (
            '[positions]\nball = ["Ball lon", "Ball lat"]\npin = ["a", "b"]',
            "positions.ball",
            "longitude seems to come before latitude",
            "header of latitude",
        ),
    ],
)
def test_a_mistake_in_a_table_of_a_mapping(
    tmp_path: Path, more: str, column: str, wrong: str, fix: str
) -> None:
    found = faults(tmp_path, f"{MAPPING}{more}\n")
    problem = next(p for p in found if p.column == column)
    assert wrong in problem.wrong
    assert fix in problem.fix
    assert problem.row is not None
    line = more.splitlines()[problem.row - LINES - 1]
    assert line.startswith((column.split(".")[-1], f"[{column}]"))


@pytest.mark.parametrize(
    ("line", "column", "wrong", "fix"),
    [
        ('encoding = "utf8"', "encoding", "no encoding of ours", "utf-8, utf-16 or cp1252"),
        ('separator = ";;"', "separator", "no separator of ours", "tab"),
        ('decimal = "comma"', "decimal", "no decimal of ours", '"." or ","'),
        ('dates = "ddmmyy"', "dates", "no dates of ours", '"dmy"'),
        ("dates = 1", "dates", "no dates of ours", '"dmy"'),
        ("skip = -1", "skip", "these are no rows", "skip = 2"),
        ("skip = true", "skip", "these are no rows", "skip = 2"),
        ("skip = [0]", "skip", "these are no rows", "skip = 2"),
        ('skip = ["1"]', "skip", "these are no rows", "skip = 2"),
        (f"skip = {'9' * 900}", "skip", "these are no rows", "skip = 2"),
        ("skip = 9", "skip", "has no row", "rows that are there"),
        ("skip = [9]", "skip", "has no row", "rows that are there"),
        ('columns = "lie"', "columns", "this must be a table", "[columns]"),
        ('seperator = ";"', "seperator", "no such key", "Write separator."),
    ],
)
def test_a_mistake_above_the_tables(
    tmp_path: Path, line: str, column: str, wrong: str, fix: str
) -> None:
    rest = MAPPING.replace('dates = "dmy"\n', "")
    if column == "columns":
        rest = ""
    problem = next(p for p in faults(tmp_path, f"{line}\n{rest}") if p.column == column)
    assert (problem.row, wrong in problem.wrong, fix in problem.fix) == (1, True, True)


@pytest.mark.parametrize(
    ("was", "now", "column", "wrong", "fix"),
    [
        ('lie = "From"', 'lie = "Form"', "columns.lie", "no such header", "Did you mean From?"),
        ('lie = "From"', 'lie = "Xyz"', "columns.lie", "no such header", "Player, When, No"),
        ('lie = "From"', 'lie = "[7]"', "columns.lie", "no such header", "Player, When, No"),
        ('lie = "From"', 'lie = ""', "columns.lie", "this is no header", "in quotes"),
        ('lie = "From"', "lie = 5", "columns.lie", "this is no header", "in quotes"),
        ('lie = "From"', 'lies = "From"', "columns.lies", "no such column", "Did you mean lie?"),
        ('lie = "From"', 'From = "lie"', "columns.From", "no such column", 'lie = "From"'),
        (
            'lie = "From"',
            'lie = "left"',
            "columns.distance",
            "lie and distance cannot both be the cells of one header",
            "[words.distance]",
        ),
    ],
)
def test_a_mistake_in_a_header(
    tmp_path: Path, was: str, now: str, column: str, wrong: str, fix: str
) -> None:
    problem = next(p for p in faults(tmp_path, MAPPING.replace(was, now)) if p.column == column)
    assert wrong in problem.wrong
    assert fix in problem.fix
    assert problem.row in (7, 8)


def test_all_mistakes_are_told_at_once_in_the_order_of_the_lines(tmp_path: Path) -> None:
    mapping = 'dates = "x"\ncolour = 1\n[columns]\nlies = "From"\n[fixed]\nround = "x"\n'
    assert [p.row for p in faults(tmp_path, mapping)] == [1, 2, 4, 6]


def test_two_columns_of_one_header_are_told_apart_by_number(tmp_path: Path) -> None:
    table = TABLE.replace("Left", "From")
    mapping = MAPPING.replace('"Left"', '"[6]"')
    (problem,) = faults(tmp_path, mapping, table)
    assert problem.column == "columns.lie"
    assert problem.fix == 'Write which by its number: "[5]" or "[6]".'


def test_a_number_is_of_a_column_whatever_the_header_of_another_is(tmp_path: Path) -> None:
    target = tmp_path / "t.map.toml"
    target.write_text('[columns]\nlie = "[2]"\nshot = "[3]"\nhole = "[9]"\n', encoding="utf-8")
    headers = ["Hole", "From", "[2]", "[9]"]
    assert find_places(read_mapping(target), "t.csv", headers).ours == {
        "lie": 1,
        "shot": 2,
        "hole": 3,
    }


@pytest.mark.parametrize(
    ("mapping", "row", "value"),
    [
        ("[columns]\nlie = From\n", 2, "lie = From"),
        ("[columns]\nlie = 'From\n", 2, "lie = 'From"),
        ('[columns]\nlie = "a"\nlie = "b"\n', 3, 'lie = "b"'),
        ("[columns", 1, "[columns"),
    ],
)
def test_what_is_no_toml_is_told_with_its_line(
    tmp_path: Path, mapping: str, row: int, value: str
) -> None:
    (problem,) = faults(tmp_path, mapping)
    assert (problem.row, problem.value) == (row, value)
    assert problem.wrong.startswith("this is not TOML")
