"""An empty card: its columns, what a spreadsheet makes of it, an example that loads as nothing."""

from __future__ import annotations

import csv
import zipfile
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from sgzone.cards.columns import columns_of, names_of
from sgzone.cards.example import HOLE, PLAYER
from sgzone.cards.template import USUAL, write_template
from sgzone.cards.workbook import EXPLAINED
from sgzone.errors import CallError, DataError
from sgzone.season.reading import find_problems, read_card
from sgzone.season.store import open_store
from tests.cards.examples import give_example_a_player
from tests.hard import books

NAMES = ["card.csv", "card.xlsx", "CARD.XLSX"]
STROKES = (
    {"player": "Ada", "date": "2026-05-20", "hole": 1, "shot": 1, "lie": "fairway", "distance": 84},
    {"player": "Ada", "date": "2026-05-20", "hole": 1, "shot": 2, "lie": "green", "distance": 9},
)


def sheet_of(path: Path, name: str = "card") -> Worksheet:
    """Return one sheet of a workbook."""
    sheet = load_workbook(path)[name]
    assert isinstance(sheet, Worksheet)
    return sheet


def write_below(path: Path) -> None:
    """Write two strokes of Ada's below what is there, as she would."""
    if path.suffix.lower() == ".csv":
        with path.open("a", encoding="utf-8", newline="") as file:
            names = path.read_text(encoding="utf-8").splitlines()[0].split(",")
            csv.DictWriter(file, names, restval="").writerows(STROKES)
        return
    book = load_workbook(path)
    sheet = book["card"]
    heads = [cell.value for cell in sheet[1]]
    for number, stroke in enumerate(STROKES, sheet.max_row + 1):
        for name, value in stroke.items():
            sheet.cell(number, heads.index(name) + 1, value)
        day = sheet.cell(number, heads.index("date") + 1)
        day.value = datetime.fromisoformat(str(stroke["date"]))
    book.save(path)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("every", [False, True])
def test_untouched_it_has_no_strokes_yet(name: str, every: bool, tmp_path: Path) -> None:
    path = write_template(tmp_path / name, every=every)
    (problem,) = find_problems(path)
    assert (problem.severity, problem.row) == ("error", 2)
    assert problem.wrong == "there are no strokes yet, only the example hole"
    with open_store() as store, pytest.raises(DataError, match="no strokes yet"):
        store.load(path)


@pytest.mark.long
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("every", [False, True])
def test_what_is_written_below_loads_alone(name: str, every: bool, tmp_path: Path) -> None:
    path = write_template(tmp_path / name, every=every)
    write_below(path)
    (note,) = find_problems(path)
    assert (note.severity, note.row, note.value) == ("note", 2, PLAYER)
    assert "passed over" in note.wrong
    with open_store() as store:
        assert store.load(path).rows == len(STROKES)
        assert store.rounds()["player"].tolist() == ["Ada"]


@pytest.mark.repeats
@pytest.mark.parametrize("name", NAMES)
def test_a_stroke_typed_over_the_example_is_asked_about(name: str, tmp_path: Path) -> None:
    """Passed over it would be lost: the player was forgotten, or is it still the example?"""
    path = write_template(tmp_path / name)
    write_below(path)
    if name.endswith(".csv"):
        path.write_text(path.read_text().replace("sand,14 yd", "sand,13 yd"))
    else:
        book = load_workbook(path)
        book["card"].cell(3, USUAL.index("distance") + 1).value = "13 yd"
        book.save(path)
    note, error = find_problems(path)
    assert (note.severity, error.severity, error.row) == ("note", "error", 3)
    assert "player's name" in error.fix
    assert find_problems(give_example_a_player(path)) == []


def test_a_player_may_be_called_example(tmp_path: Path) -> None:
    path = write_template(tmp_path / "card.csv")
    path.write_text(path.read_text().replace(PLAYER, "Example"))
    assert find_problems(path) == []
    assert read_card(path)["player"].tolist() == ["Example"] * len(HOLE)


@pytest.mark.long
def test_the_example_is_known_in_any_dress(tmp_path: Path) -> None:
    """Blanks and capitals, quotes that take the slow way, semicolons: the same rows."""
    path = write_template(tmp_path / "card.csv")
    write_below(path)
    plain = path.read_text()
    for text in (
        plain.replace(PLAYER, ' "(Example) "'.strip()),
        plain.replace("\n", "\r\n"),
        "\n" + plain,
        plain.replace("tee,142", " Tee ,142"),
    ):
        path.write_text(text, newline="")
        assert [p.severity for p in find_problems(path)] == ["note"], text


@pytest.mark.repeats
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("every", [False, True])
def test_the_example_is_a_sound_hole(name: str, every: bool, tmp_path: Path) -> None:
    """With a name it loads without a word: what it shows is right."""
    path = give_example_a_player(write_template(tmp_path / name, every=every))
    assert find_problems(path) == []
    card = read_card(path)
    assert card["distance_ft"].round(6).tolist() == [426.0, 42.0, 7.833333, 1.0]
    assert card["lie"].tolist() == ["tee", "sand", "green", "green"]
    assert str(card["date"].iloc[0]).startswith("2026-05-14")


@pytest.mark.parametrize(("every", "names"), [(False, USUAL), (True, names_of("shot"))])
def test_the_columns(every: bool, names: tuple[str, ...], tmp_path: Path) -> None:
    text = write_template(tmp_path / "card.csv", every=every).read_text(encoding="utf-8")
    assert tuple(text.splitlines()[0].split(",")) == names
    sheet = sheet_of(write_template(tmp_path / "card.xlsx", every=every))
    assert tuple(cell.value for cell in sheet[1]) == names
    assert {c.name for c in columns_of("shot") if c.needed} <= set(USUAL)
    assert len(USUAL) < 20 < len(names_of("shot"))


def lists_of(sheet: Worksheet) -> dict[str, tuple[str, str]]:
    """Return column -> the words that its cells may be chosen of, and the last row with a list."""
    found = {}
    for one in sheet.data_validations.dataValidation:
        letter = str(one.sqref).split(":")[0].rstrip("0123456789")
        if one.type == "list":
            last = str(one.sqref).rpartition(letter)[2]
            found[str(sheet[f"{letter}1"].value)] = (str(one.formula1), last)
            assert not one.showErrorMessage, "another word is for `sgzone check` to judge"
            assert not one.hide_drop_down
    return found


@pytest.mark.parametrize("every", [False, True])
def test_words_are_chosen_from_a_list(every: bool, tmp_path: Path) -> None:
    lists = lists_of(sheet_of(write_template(tmp_path / "card.xlsx", every=every)))
    assert {"lie", "result", "swing", "wind"} <= set(lists)
    for column in columns_of("shot"):
        if column.name in lists:
            assert lists[column.name] == (f'"{",".join(column.words)}"', "1048576")
            assert len(lists[column.name][0]) <= 257  # the most that a list in a cell may have
    with_words = {c.name for c in columns_of("shot") if c.words}
    assert set(lists) == (with_words if every else with_words & set(USUAL))


def test_days_are_days_and_a_swing_is_none(tmp_path: Path) -> None:
    """3/4 typed into a plain cell would become a day in March or April."""
    sheet = sheet_of(write_template(tmp_path / "card.xlsx"))
    letters = {str(cell.value): cell.column_letter for cell in sheet[1]}
    day = sheet[f"{letters['date']}2"]
    assert (day.is_date, day.value) == (True, datetime(2026, 5, 14))
    assert sheet.column_dimensions[letters["date"]].number_format == "yyyy-mm-dd"
    assert sheet.column_dimensions[letters["swing"]].number_format == "@"
    assert sheet.column_dimensions[letters["distance"]].number_format == "General"
    (hint,) = (v for v in sheet.data_validations.dataValidation if v.type == "date")
    assert (hint.errorStyle, str(hint.sqref)) == ("warning", f"{letters['date']}2:B1048576")


def test_the_example_is_grey_under_a_frozen_header(tmp_path: Path) -> None:
    sheet = sheet_of(write_template(tmp_path / "card.xlsx"))
    assert sheet.freeze_panes == "A2"
    assert sheet.max_row == 1 + len(HOLE)
    colours = {cell.font.color.rgb for row in sheet.iter_rows(min_row=2) for cell in row}
    assert colours == {"00808080"}
    bold = {cell.value for cell in sheet[1] if cell.font.b}
    assert bold == {c.name for c in columns_of("shot") if c.needed}


def test_a_sheet_says_what_every_column_means(tmp_path: Path) -> None:
    path = write_template(tmp_path / "card.xlsx")
    rows = [[cell.value for cell in row] for row in sheet_of(path, EXPLAINED).iter_rows()]
    said = {row[0]: row for row in rows}
    for column in columns_of("shot"):
        assert said[column.name][3] == column.meaning
        assert said[column.name][1] == ("yes" if column.name in USUAL else None)
    assert said["lie"][4] == ", ".join(columns_of("shot")[names_of("shot").index("lie")].words)
    assert said["hole"][4] == "1 to 36"


def test_the_sheet_of_meanings_is_never_the_card(tmp_path: Path) -> None:
    """Neither where it was moved to the front nor in a note of sheets that were not read."""
    path = write_template(tmp_path / "card.xlsx")
    write_below(path)
    book = load_workbook(path)
    book.move_sheet(EXPLAINED, -1)
    book.create_sheet("mine")["A1"] = "an own sheet is still named"
    book.save(path)
    notes = [problem.wrong for problem in find_problems(path)]
    assert "sheet without a table, passed over: mine" in notes
    assert not any(EXPLAINED in note for note in notes)


def _plain(value: Any) -> str:
    """Return a cell as a spreadsheet program stores it: a day as a number, a text by its number."""
    if value is None:
        return ">"
    if isinstance(value, date):
        return books.number((value - datetime(1899, 12, 30)).days, books.DAY)
    return books.number(value) if isinstance(value, int) else books.of_type("s", value)


@pytest.mark.long
def test_it_loads_back_as_spreadsheet_programs_save_it(tmp_path: Path) -> None:
    """Written anew: texts in one list of the workbook, days as numbers, cells without styles."""
    path = write_template(tmp_path / "card.xlsx")
    write_below(path)
    sheets: dict[str, str] = {}
    texts: list[str] = []
    for name in ("card", EXPLAINED):
        rows = [[cell.value for cell in row] for row in sheet_of(path, name).iter_rows()]
        texts += [v for row in rows for v in row if isinstance(v, str) and v not in texts]
        insides = [
            [_plain(str(texts.index(v)) if isinstance(v, str) else v) for v in row] for row in rows
        ]
        sheets[name] = books.sheet(insides)
    again = books.pack(tmp_path / "saved.xlsx", books.parts(sheets, texts=texts))
    with zipfile.ZipFile(again) as parts:
        assert b"inlineStr" not in b"".join(map(parts.read, parts.namelist()))
    assert [(p.severity, p.row) for p in find_problems(again)] == [("note", 2)]
    assert read_card(again).equals(read_card(path))


def test_it_loads_back_after_openpyxl_saved_it(tmp_path: Path) -> None:
    path = write_template(tmp_path / "card.xlsx", every=True)
    before = lists_of(sheet_of(path))
    load_workbook(path).save(path)
    assert lists_of(sheet_of(path)) == before
    assert "no strokes yet" in find_problems(path)[0].wrong
    write_below(path)
    assert read_card(path)["distance_ft"].tolist() == [252.0, 9.0]


def test_overwrites_nothing(tmp_path: Path) -> None:
    path = write_template(tmp_path / "card.csv")
    before = path.read_bytes()
    with pytest.raises(DataError, match="not overwritten"):
        write_template(path)
    assert path.read_bytes() == before


def test_other_endings_and_folders(tmp_path: Path) -> None:
    with pytest.raises(CallError, match="ends in"):
        write_template(tmp_path / "card.ods")
    with pytest.raises(DataError, match="cannot be written"):
        write_template(tmp_path / "none" / "card.csv")
