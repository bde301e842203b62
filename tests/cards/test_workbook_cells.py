"""What the cells of a workbook are read as: never in silence another value."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from sgzone.cards.given import Given
from sgzone.cards.limits import MAX_TABLES
from sgzone.cards.reader import read_table, read_tables
from sgzone.cards.rules import NO_RESULT, SHEET_ERRORS
from sgzone.errors import DataError, Problem
from sgzone.season.reading import find_problems, read_card
from tests.hard import books
from tests.hard.books import CLOCK, DAY, ELAPSED, SHARE, TEXT, YARDS

KNOWN = [name for name in books.HEADERS if name != "luck"]


def errors(path: Path) -> list[Problem]:
    return [problem for problem in find_problems(path) if problem.severity == "error"]


def found(folder: Path, cases: Sequence[tuple[str, str]]) -> list[tuple[int | None, str, str]]:
    """Return row, column and value of the errors in a card with a row per column and inside."""
    sheet = books.card_of([{column: inside} for column, inside in cases])
    problems = errors(books.write(folder / "card.xlsx", sheet))
    return [(problem.row, problem.column, problem.value) for problem in problems]


def read(folder: Path, insides: Sequence[str]) -> list[str]:
    """Return what cells of an extra column are read as."""
    sheet = books.card_of([{"luck": inside} for inside in insides])
    text = read_table(books.write(folder / "card.xlsx", sheet))
    cells: list[str] = text.table["x0"].to_pylist()
    return cells


@pytest.mark.repeats
@pytest.mark.parametrize("shown", ["#REF!", "#DIV/0!"])
def test_an_error_of_the_spreadsheet_is_one_error_in_any_column(tmp_path: Path, shown: str) -> None:
    cases = [(column, books.of_type("e", shown)) for column in KNOWN]
    assert found(tmp_path, cases) == [(n, name, shown) for n, name in enumerate(KNOWN, 2)]
    for problem in errors(tmp_path / "card.xlsx"):
        assert "the spreadsheet shows an error" in problem.wrong
        assert "Mend the formula" in problem.fix


def test_a_formula_that_was_never_worked_out_is_no_blank(tmp_path: Path) -> None:
    insides = (books.formula(), books.formula(""), books.formula(kind="s"), books.formula(kind="e"))
    cases = [(column, inside) for column in KNOWN for inside in insides]
    expected = [(n, name, NO_RESULT) for n, (name, _) in enumerate(cases, 2)]
    assert found(tmp_path, cases) == expected
    assert all("Open the workbook" in problem.fix for problem in errors(tmp_path / "card.xlsx"))


def test_a_formula_with_its_result_is_a_value(tmp_path: Path) -> None:
    blank = books.formula("", "str")  # =IF(A1="","",A1)
    insides = (books.formula("3.50"), books.formula("54", "str"), blank)
    assert read(tmp_path, insides) == ["3.5", "54", ""]
    assert found(tmp_path, [("penalty", blank)]) == []


@pytest.mark.long
def test_an_error_in_an_extra_column_is_kept_as_it_is(tmp_path: Path) -> None:
    path = books.write(tmp_path / "card.xlsx", books.card(luck=books.of_type("e", "#REF!")))
    assert not errors(path)
    assert read_card(path)["extra"].tolist() == ['{"luck":"#REF!"}']


@pytest.mark.parametrize("column", ["player", "penalty", "format"])
def test_a_csv_made_from_such_a_sheet(tmp_path: Path, column: str) -> None:
    cells = dict(zip(books.HEADERS, map(str, books.ROW), strict=True)) | {"format": "stroke"}
    shown = (*SHEET_ERRORS, NO_RESULT)
    lines = [
        ",".join((cells | {"date": f"2026-05-{n:02}", column: value}).values())
        for n, value in enumerate(shown, 1)
    ]
    path = tmp_path / "card.csv"
    path.write_text("\n".join([",".join(cells), *lines, ""]))
    problems = find_problems(path)
    told = [(p.row, p.severity, p.value) for p in problems if p.column == column]
    assert told == [(n, "error", value) for n, value in enumerate(shown, 2)]


CELLS = [
    (books.number("46156", DAY), "2026-05-14"),
    (books.number("46156.5", DAY), "2026-05-14 12:00:00"),
    (books.number("46156", books.FORMATS.index("d-mmm")), "2026-05-14"),
    (books.number("46156"), "46156"),
    (books.number("NaN", DAY), "NaN"),
    (books.number("inf", DAY), "inf"),
    (books.number("-1e308", DAY), "-1e308"),
    (books.number("1e10", ELAPSED), "1e10"),
    (books.number("2958466", DAY), "2958466"),
    (books.number("-1", DAY), "1899-12-29"),
    (books.number("0", DAY), "00:00:00"),
    (books.number("0.5", CLOCK), "12:00:00"),
    (books.number("1.5", ELAPSED), "36:00:00"),
    (books.number("-0.5", ELAPSED), "-12:00:00"),
    (books.number("0.875", SHARE), "87.5%"),
    (books.number("0.07", SHARE), "7%"),
    (books.number("87.50", YARDS), "87.5"),
    (books.number("54.0", TEXT), "54"),
    (books.number("1E-3"), "0.001"),
    (books.number("1e400"), "1e400"),
    (books.number("1_000"), "1_000"),
    (books.number("007"), "7"),
    (books.number("7,5"), "7,5"),
    (books.number(" "), ""),
    (books.number("9" * 5000), "9" * 5000),
    (books.of_type("b", "1"), "true"),
    (books.of_type("b", "0"), "false"),
    (books.of_type("b", "7"), "7"),
    (books.of_type("d", "2026-05-14T00:00:00"), "2026-05-14T00:00:00"),
    (books.of_type("str", "two_x000D_\nlines"), "two\r\nlines"),
    (books.of_type("str", "_x005F_x000D_"), "_x000D_"),
    (books.of_type("e", "whatever"), "#ERROR!"),
    ('t="inlineStr"><is><r><t>a</t></r><rPh><t>z</t></rPh><r><t>b</t></r></is>', "ab"),
    ('t="str"><v>a<!-- b -->c<![CDATA[<d>]]></v>', "ac<d>"),
    ('s="999"><v>3</v>', "3"),
    ('s="-1"><v>3</v>', "3"),
]


def test_what_a_cell_is_read_as(tmp_path: Path) -> None:
    assert read(tmp_path, [inside for inside, _ in CELLS]) == [text for _, text in CELLS]


def test_what_is_shown_as_something_else_is_no_number_and_no_day(tmp_path: Path) -> None:
    cases = [
        ("distance", books.number("0.5", SHARE), "50%"),
        ("distance", books.of_type("b", "1"), "true"),
        ("distance", books.number("0.3", CLOCK), "07:12:00"),
        ("penalty", books.of_type("b", "1"), "true"),
        ("penalty", books.number("0.01", SHARE), "1%"),
        ("hole", books.number("1", DAY), "1900-01-01"),
        ("hole", books.number("9" * 5000), "9" * 5000),
        ("date", books.number("NaN", DAY), "NaN"),
        ("date", books.number("-1e308", DAY), "-1e308"),
        ("date", books.number("1", DAY), "1900-01-01"),
        ("date", books.number("0.5", CLOCK), "12:00:00"),
        ("date", books.of_type("b", "1"), "true"),
    ]
    expected = [(n, column, value) for n, (column, _, value) in enumerate(cases, 2)]
    assert found(tmp_path, [(column, inside) for column, inside, _ in cases]) == expected


@pytest.mark.parametrize(
    ("code", "shown"),
    [
        ("yyyy-mm-dd", "2026-05-14"),
        ("[$-411]ge.m.d;@", "2026-05-14"),
        ('d" of "mmmm', "2026-05-14"),
        ("[hh]:mm", "1107744:00:00"),
        ("[Red]0;[Blue]-0", "46156"),
        ('0.0" yards"', "46156"),
        ("0\\d", "46156"),
        ("0_d*s", "46156"),
        ('"a;d"0', "46156"),
        ('0;"%"0%', "46156"),
        ("#,##0.0%", "4615600%"),
        ("General", "46156"),
        ("0.00E+00", "46156"),
        ("", "46156"),
    ],
)
def test_how_a_number_is_shown(tmp_path: Path, code: str, shown: str) -> None:
    made = {"xl/styles.xml": books.styles([code]).encode()}
    sheet = books.card(luck=books.number("46156"))
    path = books.write(tmp_path / "card.xlsx", sheet, **made)
    assert read_table(path).table["x0"].to_pylist() == [shown]


def test_formats_that_need_no_code(tmp_path: Path) -> None:
    kinds = {0: "46156", 4: "46156", 9: "4615600%", 14: "2026-05-14", 22: "2026-05-14"}
    kinds |= {31: "2026-05-14", 46: "1107744:00:00", 49: "46156", 57: "2026-05-14", 163: "46156"}
    places = "".join(f'<xf numFmtId="{number}"/>' for number in kinds)
    made = {"xl/styles.xml": f"<a><cellXfs>{places}</cellXfs></a>".encode()}
    sheet = books.card_of([{"luck": books.number("46156", n)} for n in range(len(kinds))])
    path = books.write(tmp_path / "card.xlsx", sheet, **made)
    assert read_table(path).table["x0"].to_pylist() == list(kinds.values())


def test_days_that_count_from_1904(tmp_path: Path) -> None:
    sheet = {"card": books.card(date=books.number("44694", DAY))}
    for said, day in (("1", "2026-05-14"), ("true", "2026-05-14"), ("0", "2022-05-13")):
        book = f'<workbookPr date1904="{said}"/>'
        path = books.pack(tmp_path / "card.xlsx", books.parts(sheet, book=book))
        assert read_table(path).table["date"].to_pylist() == [day]


@pytest.mark.parametrize("state", ["hidden", "veryHidden"])
def test_a_hidden_sheet_is_never_read_in_place_of_a_visible_one(tmp_path: Path, state: str) -> None:
    old, new = books.card(player=books.raw("Old")), books.card(player=books.raw("New"))
    made = books.parts({"old": old, "May": new, "lists": old}, hidden={"old": state})
    path = books.pack(tmp_path / "card.xlsx", made)
    text, lists = read_tables(path)
    assert text.table["player"].to_pylist() == ["New"]
    assert lists.table["player"].to_pylist() == ["Old"]
    assert text.problems[0].severity == "error"
    assert text.problems[0].wrong == 'a hidden sheet holds a table too: "old"'
    (asked_for,) = read_tables(path, Given(sheet="old"))
    assert asked_for.table["player"].to_pylist() == ["Old"]


def test_a_workbook_whose_only_card_is_hidden(tmp_path: Path) -> None:
    empty = books.sheet([])
    made = books.parts({"front": empty, "card": books.card()}, hidden={"card": "hidden"})
    with pytest.raises(DataError, match="hidden: card") as wrong:
        read_table(books.pack(tmp_path / "card.xlsx", made))
    assert "Show the sheet" in wrong.value.problems[0].fix


@pytest.mark.long
def test_many_sheets_are_counted(tmp_path: Path) -> None:
    made = books.parts({f"s{n}": books.card() for n in range(40)})
    tables = read_tables(books.pack(tmp_path / "card.xlsx", made))
    assert [table.file for table in tables][-1] == 'card.xlsx, sheet "s39"'
    assert len(tables) == 40
    made = books.parts(
        {"May": books.card()} | {f"s{n}": books.sheet([[books.raw("a")]]) for n in range(40)}
    )
    (text,) = read_tables(books.pack(tmp_path / "card.xlsx", made))
    assert text.problems[0].wrong.endswith("s9, and 30 more")
    made = books.parts({f"s{n}": books.card() for n in range(MAX_TABLES + 1)})
    with pytest.raises(DataError, match=f"{MAX_TABLES + 1} sheets with a table"):
        read_tables(books.pack(tmp_path / "card.xlsx", made))


def test_shared_texts(tmp_path: Path) -> None:
    sheet = {"card": books.card(club=books.of_type("s", "1"), lie=books.of_type("s", " 0 "))}
    path = books.pack(tmp_path / "card.xlsx", books.parts(sheet, texts=("green", "54 & up")))
    table = read_table(path).table
    assert [table["club"].to_pylist(), table["lie"].to_pylist()] == [["54 & up"], ["green"]]


@pytest.mark.parametrize("main", ["book.xml", "xl/book.xml", "other/deep/book.xml"])
def test_the_workbook_may_stand_elsewhere(tmp_path: Path, main: str) -> None:
    """As some programs write it; its own parts then stand beside it."""
    made = books.parts({"card": books.card()})
    folder, _, name = main.rpartition("/")
    moved = {
        key.replace("xl/_rels/workbook.xml.rels", f"{folder}/_rels/{name}.rels".lstrip("/"))
        .replace("xl/workbook.xml", main)
        .replace("xl/worksheets", f"{folder}/worksheets".lstrip("/"))
        .replace("xl/styles", f"{folder}/styles".lstrip("/")): content.replace(
            b"xl/workbook.xml", main.encode()
        )
        for key, content in made.items()
    }
    assert read_table(books.pack(tmp_path / "a.xlsx", moved)).table.num_rows == 1
    shouting = {key.replace("/", "\\").upper(): content for key, content in made.items()}
    assert read_table(books.pack(tmp_path / "b.xlsx", shouting)).table.num_rows == 1


def test_a_chart_on_a_sheet_of_its_own_is_no_sheet_of_cells(tmp_path: Path) -> None:
    made = books.parts({"chart": "<chartsheet/>", "card": books.card()})
    links = made["xl/_rels/workbook.xml.rels"]
    made["xl/_rels/workbook.xml.rels"] = links.replace(b"/worksheet", b"/chartsheet", 1)
    assert read_table(books.pack(tmp_path / "card.xlsx", made)).problems[0].column == "luck"
